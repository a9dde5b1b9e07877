package derive

import (
	"plumbline/engine/physics/fluid"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// lineElements makes the elements of a fuel path from its runs. The height of
// the whole line is carried by one pipe of no length before the runs.
func lineElements(c *Calc, line *schema.Line) []fluid.Element {
	runs := Items(c, &line.Runs)
	rise := SI(c, &line.Rise)
	elements := make([]fluid.Element, 0, len(runs)+1)
	for i := range runs {
		if e, ok := runElement(c, &runs[i]); ok {
			elements = append(elements, e)
		}
	}
	if len(elements) > 0 && rise != 0 {
		// Height needs some bore; it does not depend on which.
		elements = append(elements, fluid.Element{Name: "height", Kind: fluid.Pipe, Bore: heightBore, Rise: rise})
	}
	return elements
}

// heightBore is the bore of the element that carries a line's height. It has
// no length, so that its bore does not matter.
const heightBore = 0.01

// runElement makes one run of a fuel path an element of the model.
func runElement(c *Calc, r *schema.Run) (fluid.Element, bool) {
	kind := word(c, &r.Kind)
	name := r.Path()
	switch kind {
	case "hose", "tube":
		bore, length, wall := SI(c, &r.Bore), SI(c, &r.Length), word(c, &r.Material)
		if wall == "" {
			return fluid.Element{}, false
		}
		w, err := fluid.WallOf(wallOf(wall))
		if err != nil {
			c.Unreachable(err)
			return fluid.Element{}, false
		}
		return fluid.Element{Name: name, Kind: fluid.Pipe, Bore: bore, Length: length, Roughness: w.Roughness}, true
	case "filter":
		return filterElement(c, name, &r.Filter)
	case "fitting":
		bore, count, fitting := SI(c, &r.Bore), Get(c, &r.Count), word(c, &r.Fitting)
		if fitting == "" || fitting == "pressure_regulator" {
			return fluid.Element{}, false // what a regulator costs is its own model's
		}
		row, err := fluid.FittingOf(fittingOf(fitting))
		if err != nil {
			c.Unreachable(err)
			return fluid.Element{}, false
		}
		return fluid.Element{Name: name, Kind: fluid.Minor, Bore: bore, Coefficient: row.Coefficient, Count: count}, true
	}
	return fluid.Element{}, false
}

// filterElement makes a filter or strainer an element. Its rated drop is taken
// to hold for the fuel itself.
func filterElement(c *Calc, name string, f *schema.Filter) (fluid.Element, bool) {
	drop, flow := SI(c, &f.RatedDrop), SI(c, &f.RatedFlow)
	density := c.ValueOn(&c.Design().Fuel, NoPoint, "hot_density")
	return fluid.Element{Name: name, Kind: fluid.SquareLaw, RatedDrop: drop, RatedFlow: flow, RatedDensity: density}, true
}

// wallOf names the row of the roughness table for a material of a run.
func wallOf(material string) string {
	switch material {
	case "steel", "coated_steel":
		return "steel_drawn"
	case "stainless_steel":
		return "stainless_drawn"
	case "copper", "copper_nickel", "aluminium", "brass":
		return "drawn_tube"
	case "nylon", "ptfe_braided":
		return "plastic"
	case "fluoroelastomer_lined":
		return "rubber_smooth"
	case "rubber":
		return "rubber_hose"
	}
	return material
}

// fittingOf names the row of the table of fittings for a fitting of a run.
func fittingOf(kind string) string {
	switch kind {
	case "union", "bulkhead":
		return "union_straight"
	case "check_valve":
		return "valve_check_lift"
	case "tank_selector":
		return "tee_branch" // the fuel turns into the outlet both tanks share
	}
	return kind
}

// liquid is the fuel as the fuel path carries it on the hottest day.
func liquid(c *Calc) fluid.Liquid {
	f := &c.Design().Fuel
	return fluid.Liquid{
		Density:   c.ValueOn(f, NoPoint, "hot_density"),
		Viscosity: c.ValueOn(f, NoPoint, "hot_viscosity"),
	}
}

// runFlow is the flow a run carries: by the path it is part of.
func runFlow(c *Calc, r *schema.Run) float64 {
	if l := lineOf(c.Design(), r); l != nil {
		if l.second && l.name != feedLine {
			name := map[string]string{suctionLine: "pump_flow", returnLine: "return_flow"}[l.name]
			return c.ValueOn(&c.Design().SecondTank.Part, c.point, name)
		}
		switch l.name {
		case suctionLine:
			return c.ValueAt(c.point, "pump_flow")
		case returnLine:
			return c.ValueAt(c.point, "return_flow")
		}
	}
	if layout(c) == fluid.ReturnStyle {
		if l := lineOf(c.Design(), r); l != nil && l.second {
			return c.ValueOn(&c.Design().SecondTank.Part, c.point, "pump_flow")
		}
		return c.ValueAt(c.point, "pump_flow")
	}
	return c.ValueAt(c.point, "engine_flow")
}

func holds(runs []schema.Run, r *schema.Run) bool {
	for i := range runs {
		if &runs[i] == r {
			return true
		}
	}
	return false
}

// flexibleAtEngine goes along a line from the engine until a piece decides.
func flexibleAtEngine(c *Calc, l *schema.Line) any {
	run := flexibleRun(c, l)
	if c.Lacks() {
		return nil
	}
	return run != nil
}

// flexibleRun is the piece of a line that lets the engine move; nil where there is none.
func flexibleRun(c *Calc, l *schema.Line) *schema.Run {
	for _, own := range []*schema.Maybe[schema.Line]{&c.Design().SecondSuction, &c.Design().SecondFeed, &c.Design().SecondReturn} {
		if l != &own.Part {
			continue
		}
		if Require(c, own); !c.Lacks() {
			c.notThere(l.Path()) // a second tank's own piece ends at the selector
		}
		return nil
	}
	runs := Items(c, &l.Runs)
	if l.Runs.Known() && len(runs) == 0 {
		c.notThere(l.Runs.Path())
		return nil
	}
	for i := range runs {
		r := &runs[i]
		if l != &c.Design().ReturnLine.Part {
			r = &runs[len(runs)-1-i]
		}
		switch kind := word(c, &r.Kind); kind {
		case "hose":
			return r
		case "tube", "filter":
			if kind == "tube" && word(c, &r.Material) == "nylon" {
				return r
			}
			if word(c, &r.Zone) != "engine_bay" {
				return nil
			}
		}
		if c.Lacks() {
			return nil
		}
	}
	return nil
}

func runEntries() []Entry {
	return []Entry{
		{Name: "called", On: "Tank", Kind: Text, Words: []string{"tank", "second_tank"},
			Meaning: "which of two tanks it is",
			Formula: "tank for the one that is drawn from first, second_tank for the other",
			Needs:   needs("design.tank", "design.second_tank"),
			Sources: sources(practice("the design states the tank that is drawn from first as its tank")),
			Compute: func(c *Calc) any {
				d := c.Design()
				if Part[schema.Tank](c) == &d.Tank {
					return "tank"
				}
				Require(c, &d.SecondTank)
				return "second_tank"
			}},
		{Name: "drawn_from", On: "Tank", Kind: Truth,
			Meaning: "the pump draws from it and the return comes back to it",
			Formula: "the tank stated first, and a second one that a selector joins; a second one that a balance line joins runs into the first",
			Needs:   needs("design.second_tank", "design.second_tank_joined"),
			Sources: sources(practice("two tanks take turns through a selector, or stand level through a line low down")),
			Compute: func(c *Calc) any {
				d := c.Design()
				if Part[schema.Tank](c) == &d.Tank {
					return true
				}
				if Require(c, &d.SecondTank); c.Lacks() {
					return nil
				}
				return word(c, &d.SecondTankJoined) == "by_selector"
			}},
		{Name: "line", On: "Run", Kind: Text, Words: []string{suctionLine, feedLine, returnLine},
			Meaning: "the fuel line the piece is part of",
			Formula: "the line in whose runs it stands",
			Needs:   needs("design.suction.runs", "design.feed.runs", "design.return_line.runs"),
			Sources: sources(practice("suction before the pump, feed from pump to throttle body, return from the regulator to the tank")),
			Compute: func(c *Calc) any {
				if l := lineOf(c.Design(), Part[schema.Run](c)); l != nil {
					return l.name
				}
				return nil
			}},
		{Name: "flexible_at_engine", On: "Line", Kind: Truth,
			Meaning: "a flexible piece lies between the line's last rigid piece on tank, frame or body and the engine",
			Formula: "going from the engine along the line (a feed from its end, a return from its beginning), past fittings and what is rigid in the engine bay: hose or nylon tube comes before any rigid piece that lies elsewhere",
			Needs:   needs("run.kind", "run.material", "run.zone"),
			Sources: sources(law("33 CFR 183", "183.562: a metallic fuel line joins the engine by a flexible line")),
			Compute: func(c *Calc) any { return flexibleAtEngine(c, Part[schema.Line](c)) }},
		{Name: "flexible_length", On: "Line", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "length of the flexible piece that lets the engine move against tank, frame or body",
			Formula: "length of the hose or nylon tube found first, going from the engine along the line as for flexible_at_engine",
			Needs:   needs("run.kind", "run.material", "run.zone", "run.length"),
			Sources: sources(law("33 CFR 183", "183.562: a metallic fuel line joins the engine by a flexible line")),
			Working: workReadOff,
			Compute: func(c *Calc) any {
				l := Part[schema.Line](c)
				run := flexibleRun(c, l)
				if c.Lacks() {
					return nil
				}
				if run == nil {
					c.notThere(l.Runs.Path())
					return nil
				}
				return SI(c, &run.Length)
			}},
		{Name: "flow", On: "Run", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "flow through the piece",
			Formula: "feed: pump flow (in-tank and dead-head regulators: what the engine takes), return: returned flow, suction: pump flow",
			Needs:   needs("at.<point>.pump_flow", "at.<point>.return_flow", "at.<point>.engine_flow"),
			Sources: sources(handbook("continuity of flow in a pipe", "any fluid mechanics text")),
			Compute: func(c *Calc) any { return runFlow(c, Part[schema.Run](c)) }},
		{Name: "velocity", On: "Run", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVelocity,
			Meaning: "mean speed of the fuel in the run",
			Formula: "4 x flow / (pi x bore^2); feed: pump flow (in-tank and dead-head regulators: what the engine takes), return: returned flow, suction: pump flow",
			Needs:   needs("run.bore", "run.kind", "at.<point>.pump_flow", "at.<point>.return_flow", "design.tank_selector"),
			Sources: sources(handbook("continuity of flow in a round pipe", "any fluid mechanics text")),
			Working: workRunVelocity,
			Compute: func(c *Calc) any {
				r := Part[schema.Run](c)
				kind := word(c, &r.Kind)
				if kind == "filter" {
					c.notThere(r.Bore.Path())
					return nil
				}
				bore, flow := SI(c, &r.Bore), runFlow(c, r)
				if c.Lacks() {
					return nil
				}
				return c.result(fluid.Velocity(flow, bore))
			}},
		{Name: "loss", On: "Run", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure the run costs by friction",
			Formula: "Darcy-Weisbach with Colebrook's friction factor from Reynolds 4000 up and Churchill's below for hose and tube; loss coefficient for fittings; rated drop x (flow / rated flow)^2 for filters; fuel at its hottest",
			Needs:   needs("run.kind", "run.bore", "run.length", "run.material", "run.fitting", "run.count", "run.filter", "design.fuel.hot_density", "design.fuel.hot_viscosity", "at.<point>.pump_flow"),
			Sources: sources(handbook("S. W. Churchill, Chemical Engineering 84 (1977)", "p. 91"),
				handbook("Munson, Fundamentals of Fluid Mechanics", "table 8.2"),
				handbook("W. B. Hooper, Chemical Engineering, 24 August 1981", "p. 97")),
			Working: workRunLoss,
			Compute: func(c *Calc) any {
				r := Part[schema.Run](c)
				element, _ := runElement(c, r)
				fuel, flow := liquid(c), runFlow(c, r)
				if c.Lacks() {
					return nil
				}
				drop, err := fluid.LineLoss([]fluid.Element{element}, flow, fuel)
				c.Unreachable(err)
				return drop.Friction
			}},
	}
}
