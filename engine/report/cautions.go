package report

import (
	"slices"

	"plumbline/engine"
)

// caution is a warning for the person who does the work, printed when a
// finding sends someone to the parts it is about.
type caution struct {
	text string
	// parts are the parts of a design it goes with, danger the danger it goes with.
	parts  []string
	danger string
}

// allCautions are common workshop practice, one line each; local codes stand above them.
func allCautions() []caution {
	return []caution{
		{
			text:  "Fuel: relieve its pressure, battery off, no flame or spark, an extinguisher for liquids at hand.",
			parts: []string{"tank", "surge_tank", "pump", "suction", "feed", "return_line", "regulator", "fuel"},
		},
		{
			text:  "Battery: take the negative cable off first and put it back last; wear eye protection.",
			parts: []string{"battery", "alternator", "circuits", "grounds", "harness", "connectors", "passages", "controller", "ignition"},
		},
		{
			text:  "Underneath: stands, never a jack alone; let the exhaust cool, its gas kills without a smell.",
			parts: []string{"tank", "suction", "feed", "return_line", "exhaust", "oxygen_sensors"},
		},
		{
			text:   "Throttle: before the first start, see that it closes by itself from every position.",
			parts:  []string{"throttle_control"},
			danger: "loss_of_control",
		},
	}
}

const takeCare = "Take care; local codes come first, and work they reserve to licensed trades is left to those"

// cautions prints those that go with the findings told above.
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
	s.Heading(takeCare)
	for _, text := range lines {
		s.Para(indent, inner, text)
	}
}

// goesWith leaves out the open findings that can wait: they send nobody to the vehicle yet.
func (c *caution) goesWith(f *engine.Finding) bool {
	told := f.Outcome == engine.Fail || f.Outcome == engine.Warn || f.Outcome == engine.Open && f.Blocks
	if !told {
		return false
	}
	return c.danger != "" && f.Danger == c.danger || slices.Contains(c.parts, section(f.Subject))
}
