package report

import (
	"plumbline/engine"
	"plumbline/schema"
)

// sample is a handmade report with every kind of entry a job sheet has; the vehicle is invented.
func sample() *engine.Report {
	at := func(line, column int) schema.Place {
		return schema.Place{File: "truck.yaml", Line: line, Column: column}
	}
	fraction := func(f float64) *float64 { return &f }
	practice := []engine.Ground{{Standing: "practice", Text: "hose that moves or ages shifts by some 20 mm"}}
	hose := engine.Finding{
		Rule: "fuel/lines.exhaust-clearance", Title: "fuel lines keep clear of the exhaust", Part: "fuel lines",
		Outcome: engine.Fail, Danger: "fire", Due: "planned", Blocks: true,
		Subject: "design.feed.runs[1]", SubjectName: "engine hose", Place: at(31, 26),
		Text: "The engine hose passes 31 mm from the exhaust; it softens and leaks: fire.", Remedy: "Move the hose, or fit a metal heat shield between.",
		Measured: &engine.Number{Text: "31 mm", Value: 0.031, Dimension: "length"},
		Bounds: []engine.BoundFound{
			{Of: "must", Op: "at_least", Bound: engine.Number{Text: "50 mm", Value: 0.05, Dimension: "length"}, Margin: fraction(-0.38)},
		},
		Because: append([]engine.Ground{
			{Standing: "standard", Text: "an example standard, clause 4", For: "the distance"},
			{Standing: "physics", Text: "heat falls off with distance"},
		}, practice...),
		Facts: []engine.FactRead{{Path: "design.feed.runs[1].exhaust_clearance", Text: "31 mm", Place: at(31, 26)}},
	}
	second := hose
	second.Subject, second.SubjectName, second.Place = "design.feed.runs[3]", "", at(38, 26)
	second.Text = "A run passes 12 mm from the exhaust"
	second.Measured = &engine.Number{Text: "12 mm", Value: 0.012, Dimension: "length"}
	second.Bounds = []engine.BoundFound{{Of: "must", Op: "at_least", Bound: hose.Bounds[0].Bound, Margin: fraction(-0.76)}}
	second.Facts = nil
	return &engine.Report{
		File: "truck.yaml", Title: "4.1 L in-line six truck, return-style", Stage: "ordered",
		Findings: []engine.Finding{
			hose, second,
			{
				Rule: "fuel/return.back-pressure", Title: "the return line does not hold the regulator up", Part: "fuel return",
				Outcome: engine.Fail, Danger: "engine", Due: "built", Subject: "design.return_line", Place: at(44, 3),
				Text: "Returned fuel backs up", Remedy: "Fit a return line of larger bore.",
				Measured: &engine.Number{Text: "41 kPa", Value: 41e3, Dimension: "pressure"},
				Bounds: []engine.BoundFound{
					{Of: "must", Op: "at_most", Bound: engine.Number{Text: "34 kPa", Value: 34e3, Dimension: "pressure"}, Margin: fraction(-0.2059)},
				},
				Because: []engine.Ground{{Standing: "memory", Text: "about 5 psi is what a spring regulator stands"}},
				Assumed: []string{"design.fuel.density"},
				Derived: []engine.DerivedRead{{Path: "at.idle.return_flow", Text: "168 L/h"}},
			},
			{
				Rule: "fuel/return.hose-age", Title: "return hoses are younger than ten years", Part: "fuel return",
				Outcome: engine.Fail, Danger: "none", Due: "planned", Subject: "design.return_line.runs[0]", Place: at(47, 10),
				Text: "The hose is 12 years old", Remedy: "Replace it.", Because: practice,
				Conceded: &engine.Conceded{Reason: "to be replaced with the tank", By: "workshop lead", Until: "2027-03-31", Place: at(80, 5)},
			},
			{
				Rule: "wiring/fuse.pump-feed", Title: "the pump feed has a fuse near the battery", Part: "wiring",
				Outcome: engine.Open, Danger: "fire", Due: "ordered", Blocks: true, Subject: "design.circuits[0]", SubjectName: "pump feed",
				Place: at(52, 5), Text: "the pump feed has a fuse near the battery", Because: practice,
				Missing: []string{"design.circuits[0].fuse.distance", "design.circuits[0].fuse.rating"},
			},
			{
				Rule: "throttle/return.springs", Title: "two springs close the throttle", Part: "throttle",
				Outcome: engine.Open, Danger: "loss_of_control", Due: "built", Subject: "design.throttle_control", Place: at(1, 1),
				Text: "two springs close the throttle", Because: practice, Missing: []string{"design.throttle_control.return_springs"},
			},
			{
				Rule: "wiring/drop.pump-feed", Title: "the pump sees its voltage", Part: "wiring",
				Outcome: engine.Open, Danger: "engine", Due: "built", Subject: "design.circuits[0]", Place: at(52, 5),
				Text: "the pump sees its voltage", Because: practice, Unreachable: []string{"the pump's curve ends at 300 kPa"},
			},
			{
				Rule: "fuel/delivery.flow-at-full-load", Title: "the pump delivers the full-load demand with reserve", Part: "fuel pump",
				Outcome: engine.Warn, Danger: "engine", Due: "ordered", Subject: "design.pump", Place: at(20, 3),
				Text: "The pump can give 112 L/h; the engine needs 100 L/h", Remedy: "Choose a pump with more flow.",
				Measured: &engine.Number{Text: "1.12", Value: 1.12},
				Bounds: []engine.BoundFound{
					{Of: "must", Op: "at_least", Bound: engine.Number{Text: "1", Value: 1}, Met: true, Margin: fraction(0.12)},
					{Of: "should", Op: "at_least", Bound: engine.Number{Text: "1.15", Value: 1.15}, Margin: fraction(-0.0261)},
				},
				Because: []engine.Ground{{Standing: "physics", Text: "an engine that gets less fuel than it burns runs lean"}},
			},
			{
				Rule: "sensors/coolant.place", Title: "the coolant sensor stands in moving coolant", Part: "sensors",
				Outcome: engine.Pass, Danger: "none", Due: "built", Subject: "design.sensors.coolant", Place: at(60, 3),
				Text: "the coolant sensor stands in moving coolant", Because: practice,
			},
			{
				Rule: "exhaust/catalyst.heat", Title: "the catalyst keeps its distance", Part: "exhaust",
				Outcome: engine.NotApplicable, Danger: "fire", Due: "built", Subject: "design.exhaust.catalyst", Place: at(1, 1),
				Text: "The design says there is none: design.exhaust.catalyst.", Because: practice, Absent: "design.exhaust.catalyst",
			},
		},
		Asked: []engine.Question{
			{Path: "design.throttle_control.return_springs", Ask: "Springs that close the throttle.", Example: "2",
				Danger: "loss_of_control", Rules: []string{"throttle/return.springs"}, Alone: 1},
			{Path: "design.circuits[0].fuse.rating", Ask: "Rating printed on the fuse.", Example: "15 A",
				Danger: "fire", Rules: []string{"wiring/fuse.pump-feed", "wiring/fuse.wire"}, Alone: 1},
			{Path: "design.circuits[0].fuse.place", Ask: "Where the fuse sits.", Words: []string{"at_battery", "at_panel"},
				Danger: "none", Rules: []string{"wiring/fuse.pump-feed"}},
			{Path: "design.suction", Ask: "The path from the tank to the pump; `none` for a pump in the tank.", Danger: "none", Rules: []string{"fuel/lines.suction"}},
			{Path: "design.suction.runs", Ask: "Hoses and tubes in order of flow.", Danger: "none", Rules: []string{"fuel/lines.suction"}},
			{Path: "design.grounds[0].size", Ask: "Cross-section.", Example: "35 mm2", Danger: "none", Rules: []string{"wiring/ground.size"}},
			{Path: "design.grounds[2].size", Ask: "Cross-section.", Example: "35 mm2", Danger: "none", Rules: []string{"wiring/ground.size"}},
			{Path: "design.harness.slack", Ask: "It has slack.", Example: "true", Danger: "none", Rules: []string{"wiring/harness.slack"}},
		},
		Cautions: []engine.CautionFound{{ID: "work/care.fuel", Text: "Fuel: no flame or spark near.", Because: practice,
			Rules: []string{"fuel/lines.exhaust-clearance"}}},
		Assumed: []engine.AssumptionUsed{{Path: "design.fuel.density", Value: "0.745 kg/L", Findings: 1,
			Because: []engine.Ground{{Standing: "standard", Text: "EN 228, middle of the range"}}}},
	}
}

// clear is a report in which nothing is wrong.
func clearReport() *engine.Report {
	return &engine.Report{File: "van.yaml", Stage: "planned", Findings: []engine.Finding{{
		Rule: "sensors/coolant.place", Title: "the coolant sensor stands in moving coolant", Part: "sensors", Outcome: engine.Pass, Danger: "none",
		Due: "built", Subject: "design.sensors.coolant", Text: "the coolant sensor stands in moving coolant",
		Because: []engine.Ground{{Standing: "practice", Text: "still coolant lags"}},
	}}}
}
