package planted

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"plumbline/engine"
)

// System is one of the systems of a vehicle: what its rules are listed under, and the facts that describe it.
type System struct {
	Name string
	// Parts are parts of the vehicle as findings name them; one that begins with "Rules of" stands for every region's.
	Parts []string
	// Facts are the sections of a design, or paths within one that belong to another system than the rest of their section:
	// the longest that fits decides.
	Facts []string
	// Apart says that it is a part of the vehicle. The weather, the law and the work touch every part and belong to none:
	// a mistake in them, or found by their rules, does not lie across two systems.
	Apart bool
}

const regionsPart = "Rules of "

// Systems lists the systems. What works as one is one: an oxygen sensor and the pipe it sits in, throttle body and intake,
// a harness and the holes it goes through. A lead, a hose or a joint belongs to the system it is part of, whatever it leads to.
func Systems() []System {
	return []System{
		{"fuel", []string{"Fuel tank", "Fuel pump", "Fuel lines", "Fuel pressure"}, []string{
			"fuel", "tank", "second_tank", "second_tank_joined", "tank_selector", "surge_tank", "pump", "suction", "second_suction", "feed", "second_feed", "return_line", "second_return", "regulator",
			"engine.old_mechanical_pump", "throttle_body.fuel_inlet", "throttle_body.fuel_outlet",
		}, true},
		{"electrical supply, wiring and its routing", []string{"Power and grounds", "Wiring", "Connectors", "Passages and routing"}, []string{
			"battery", "alternator", "circuits", "grounds", "harness", "connectors", "passages",
			"controller.power_from", "controller.ground_to", "controller.switched_feed", "controller.feeds",
			"sensors.sensor_ground", "sensors.sensor_ground_shared", "pump.own_ground",
		}, true},
		{"throttle and intake", []string{"Throttle body", "Throttle control", "Intake and vacuum"}, []string{
			"throttle_body", "throttle_control", "intake", "vehicle.brake_booster", "vehicle.automatic_transmission",
			"sensors.manifold_pressure.port", "sensors.manifold_pressure.shared_with", "sensors.manifold_pressure.hose_length",
			"sensors.manifold_pressure.hose_bore", "sensors.manifold_pressure.height_above_port",
		}, true},
		{"sensors, exhaust and controller", []string{"Sensors", "Exhaust", "Controller", "Gauges"}, []string{
			"sensors", "oxygen_sensors", "exhaust", "controller", "gauges",
		}, true},
		{"ignition", []string{"Ignition"}, []string{"ignition"}, true},
		{"engine and vehicle", []string{"Engine", "Vehicle"}, []string{"engine", "vehicle"}, true},
		{"fuel quality and weather", []string{"Fuel and weather"}, []string{"climate"}, false},
		{"state, work and first start", []string{"Old vehicle", "Workshop safety", "First start"}, []string{
			"condition", "procedure", "setup", "measured",
		}, false},
		{"law and papers", []string{regionsPart}, []string{"regions", "registration", "papers", "concessions"}, false},
	}
}

// unjudged are the sections of a design that describe the job, not the vehicle.
func unjudged() []string {
	return []string{"plumbline", "title", "notes", "based_on", "leave_out", "complete", "stage", "own"}
}

// between are the facts that say how parts of two systems lie to each other: a mistake in one of them lies across two
// systems, whichever of the two has the rule.
func between() []string {
	return []string{
		"harness.fuel_line_clearance", "harness.fuel_line_clamped", "harness.clipped_to_fuel_line", "harness.relative_to_fuel_line",
		"harness.high_voltage_clearance", "harness.exhaust_clearance", "circuits.feed_wires.exhaust_clearance",
		"tank.exhaust_clearance", "tank.filler_to_exhaust", "tank.filler_to_terminals", "tank.spark_distance",
		"second_tank.exhaust_clearance", "second_tank.filler_to_exhaust", "second_tank.filler_to_terminals", "second_tank.spark_distance",
		"suction.runs.exhaust_clearance", "second_suction.runs.exhaust_clearance", "feed.runs.exhaust_clearance", "second_feed.runs.exhaust_clearance", "return_line.runs.exhaust_clearance", "second_return.runs.exhaust_clearance",
		"throttle_control.exhaust_clearance", "throttle_control.harness_clearance",
		"ignition.coil_to_controller", "sensors.speed_signal.high_voltage_clearance",
	}
}

// ruledBy is the system that a part of the vehicle belongs to, as findings name it.
func ruledBy(part string) System {
	if strings.HasPrefix(part, regionsPart) {
		part = regionsPart
	}
	for _, s := range Systems() {
		if slices.Contains(s.Parts, part) {
			return s
		}
	}
	return System{}
}

// described is the system that a fact of a design belongs to.
func described(path string) System {
	var out System
	longest := 0
	path = items.ReplaceAllString(path, "")
	for _, s := range Systems() {
		for _, start := range s.Facts {
			if len(start) > longest && strings.HasPrefix(path+".", start+".") {
				longest, out = len(start), s
			}
		}
	}
	return out
}

// items are the items of lists in a path: [2] or [fuel pump].
var items = regexp.MustCompile(`\[[^\]]*\]`)

// across says whether a change touches a part of the vehicle that belongs to another system than the rule, or how two
// systems lie to each other.
func across(change string, rule System) bool {
	if !rule.Apart {
		return false
	}
	for one := range strings.SplitSeq(change, "; ") {
		path, _, _ := strings.Cut(one, "=")
		facts := described(path)
		if facts.Apart && facts.Name != rule.Name || slices.Contains(between(), items.ReplaceAllString(path, "")) {
			return true
		}
	}
	return false
}

// NearLimit is how far from its bound a number may lie to be near it, as a fraction of the bound.
const NearLimit = 0.10

// near says whether a finding is about a number that lies no further than NearLimit from the bound that decided: beyond it
// in a complaint, within it in a pass. A temperature has no such fraction: its zero is a convention.
func near(f engine.Finding) bool {
	return slices.ContainsFunc(f.Bounds, func(b engine.BoundFound) bool {
		switch {
		case b.Margin == nil || math.Abs(*b.Margin) > NearLimit:
			return false
		case f.Outcome == engine.Fail:
			return b.Of == "must" && !b.Met
		case f.Outcome == engine.Warn:
			return b.Of == "should" && !b.Met
		}
		return b.Met
	})
}
