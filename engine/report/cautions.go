package report

import (
	"slices"
	"strings"

	"plumbline/engine"
)

// caution is a warning for the person who does the work, printed when an
// unsettled finding sends someone to the parts it is about.
type caution struct {
	text string
	// parts are the parts of a design it goes with, danger the danger it goes with.
	parts  []string
	danger string
}

// allCautions are common workshop practice; local codes stand above them.
func allCautions() []caution {
	return []caution{
		{
			text: "Fuel: vapour travels along the floor and lights far from the leak. Relieve the pressure, disconnect the battery, " +
				"work in moving air away from flames and sparks, catch what drips and keep a fire extinguisher for liquids at hand.",
			parts: []string{"tank", "surge_tank", "pump", "suction", "feed", "return_line", "regulator", "fuel"},
		},
		{
			text: "Battery: take off the negative cable before wiring work and put it back last. A shorted battery burns; a charging one gives off " +
				"gas that explodes. Wear eye protection.",
			parts: []string{"battery", "alternator", "circuits", "grounds", "harness", "connectors", "controller", "ignition"},
		},
		{
			text: "Exhaust: it burns skin long after the engine stops, and its gas kills without a smell. Let it cool; run the engine only outdoors " +
				"or with the exhaust led out.",
			parts: []string{"exhaust", "oxygen_sensors"},
		},
		{
			text:  "Lifting: never go under a vehicle that stands on a jack alone. Use rated stands on firm, level ground.",
			parts: []string{"tank", "suction", "feed", "return_line", "exhaust", "oxygen_sensors"},
		},
		{
			text: "Throttle and brakes: before the engine is started, see that the throttle closes by itself from every position; make the first " +
				"drive away from traffic.",
			danger: "loss_of_control",
		},
	}
}

const localCodes = "Local codes come before this sheet; leave work that is reserved to licensed trades to them."

// cautions prints those that go with the unsettled findings.
func (s *sheet) cautions() {
	var lines []string
	for _, c := range allCautions() {
		if slices.ContainsFunc(s.report.Findings, func(f engine.Finding) bool { return c.goesWith(&f) }) {
			lines = append(lines, c.text)
		}
	}
	if len(lines) == 0 {
		return
	}
	s.Blank()
	s.Heading("Take care")
	for _, text := range append(lines, localCodes) {
		s.Para(indent, inner, text)
	}
}

func (c *caution) goesWith(f *engine.Finding) bool {
	if f.Outcome != engine.Fail && f.Outcome != engine.Warn && f.Outcome != engine.Open {
		return false
	}
	if c.danger != "" && f.Danger == c.danger {
		return true
	}
	name, _, _ := strings.Cut(strings.TrimPrefix(f.Subject, "design."), ".")
	name, _, _ = strings.Cut(name, "[")
	return slices.Contains(c.parts, name)
}
