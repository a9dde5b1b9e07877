package derive

import (
	"slices"

	"plumbline/engine/physics/fluid"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// selectorAt is where the tank selector stands in a line's pieces.
func selectorAt(c *Calc, line *schema.Line) int {
	runs := Items(c, &line.Runs)
	for i := range runs {
		if word(c, &runs[i].Kind) == "fitting" && word(c, &runs[i].Fitting) == "tank_selector" {
			return i
		}
	}
	if !c.Lacks() {
		c.unreachable("%s has no fitting of the kind tank_selector: what the two tanks share begins at it", line.Path())
	}
	return 0
}

// part is a line with some of its pieces, and with a rise of its own.
func part(line *schema.Line, runs []schema.Run, rise schema.Fact[quantity.Length]) *schema.Line {
	out := *line
	out.Runs.Items, out.Rise = runs, rise
	return &out
}

// secondPath is the fuel path while the selector stands on the second tank: its own suction, or its own feed from a pump like the
// first tank's, and from the selector on the first tank's; of the return the first tank's up to the selector, and then its own.
// The rises are those stated of its own pieces.
func secondPath(c *Calc, p Point) fluid.System {
	d, s := c.Design(), fuelSystem(c, p)
	tank := Require(c, &d.SecondTank)
	if Require(c, &d.TankSelector); c.absent != "" {
		return s
	}
	side := word(c, &d.TankSelector.Part.Side)
	if side == "" {
		return s
	}
	own, shared, pressure := &d.SecondSuction, &d.Suction.Part, side == "pressure"
	if pressure {
		own, shared = &d.SecondFeed, &d.Feed
	}
	if Require(c, own); c.absent != "" {
		return s
	}
	s.Suction = nil
	if Fitted(c, &tank.Strainer) {
		if e, ok := filterElement(c, "strainer of the second tank", &tank.Strainer.Part); ok {
			s.Suction = append(s.Suction, e)
		}
	}
	at := selectorAt(c, shared)
	if c.Lacks() {
		return s
	}
	elements := lineElements(c, part(shared, slices.Concat(Items(c, &own.Part.Runs), shared.Runs.Items[at:]), own.Part.Rise))
	if pressure {
		s.Feed = elements
	} else {
		s.Suction = append(s.Suction, elements...)
	}
	if s.Layout != fluid.ReturnStyle || !Get(c, &d.TankSelector.Part.SwitchesReturn) {
		return s
	}
	back, home := &d.ReturnLine.Part, Require(c, &d.SecondReturn)
	if c.absent != "" {
		return s
	}
	at = selectorAt(c, back)
	if c.Lacks() {
		return s
	}
	s.Return = lineElements(c, part(back, slices.Concat(back.Runs.Items[:at+1], Items(c, &home.Runs)), home.Rise))
	return s
}

// secondSupply solves the fuel supply with the selector on the second tank.
func secondSupply(c *Calc, p Point) *fuelSupply {
	return Memo(c, "second fuel supply", 0, c.Design(), p, func(c *Calc) *fuelSupply {
		t := turn(0)
		circuits := Items(c, &c.Design().Circuits)
		for i := range circuits {
			if Fitted(c, &c.Design().SecondFeed) && roleOf(c, &circuits[i]) == standbyPump && t == 0 {
				t = turnOf(i)
			}
		}
		return supplyOf(c, p, t, secondPath)
	})
}

// filtered looks for a filter on the way from a tank's pump to the throttle body.
func filtered(c *Calc) any {
	d := c.Design()
	filters := func(runs []schema.Run) bool {
		return slices.ContainsFunc(runs, func(r schema.Run) bool { return word(c, &r.Kind) == "filter" })
	}
	if Part[schema.Tank](c) == &d.Tank {
		return filters(Items(c, &d.Feed.Runs))
	}
	Require(c, &d.SecondTank)
	if Require(c, &d.TankSelector); c.absent != "" {
		return nil
	}
	side := word(c, &d.TankSelector.Part.Side)
	if side == "suction" {
		return filters(Items(c, &d.Feed.Runs))
	}
	own := Require(c, &d.SecondFeed)
	if side == "" || c.absent != "" {
		return nil
	}
	at := selectorAt(c, &d.Feed)
	if c.Lacks() {
		return nil
	}
	return filters(d.Feed.Runs.Items[at:]) || filters(Items(c, &own.Runs))
}

// secondTankEntries are the values of the fuel path while the selector stands on the second tank.
func secondTankEntries() []Entry {
	own := needs("design.second_tank", "design.second_suction", "design.second_feed", "design.second_return", "design.tank_selector", "design.suction", "design.feed", "design.return_line", "at.<point>.pump_voltage")
	entry := func(name string, d quantity.Dimension, meaning string, read func(*fuelSupply) float64) Entry {
		return Entry{Name: name, On: "Tank", PerPoint: true, Kind: Quantity, Dimension: d, Meaning: meaning + ", drawing from this tank",
			Formula: balanceFormula + "; of a second tank its own pieces and what both share", Needs: own, Sources: balanceSources(),
			Compute: func(c *Calc) any {
				solve := secondSupply
				if Part[schema.Tank](c) == &c.Design().Tank {
					solve = fuelSupplyAt
				}
				s := solve(c, c.point)
				if c.Lacks() {
					return nil
				}
				c.Unreachable(s.failure)
				if c.Lacks() {
					return nil
				}
				return read(s)
			}}
	}
	return []Entry{
		entry("throttle_body_pressure", quantity.DimPressure, "gauge pressure of the fuel at the throttle body", func(s *fuelSupply) float64 { return s.state.ThrottleBodyPressure }),
		entry("pump_flow", quantity.DimFlow, "flow the pump gives", func(s *fuelSupply) float64 { return s.state.PumpFlow }),
		entry("return_flow", quantity.DimFlow, "flow that comes back", func(s *fuelSupply) float64 { return s.state.ReturnFlow }),
		entry("suction_loss", quantity.DimPressure, "friction loss before the pump", func(s *fuelSupply) float64 { return s.state.SuctionLoss }),
		{Name: "vapour_margin", On: "Tank", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "how far the pump inlet is from boiling the fuel with this tank at its lowest; negative means vapour",
			Formula: "barometer + density x g x (lowest fuel level - pump inlet height) - suction loss - vapour pressure",
			Needs: needs("at.<point>.barometer", "tank.at.<point>.suction_loss", "design.fuel.hot_density", "tank.pickup_above_bottom",
				"design.tank_selector.pump_above_second_tank", "design.pump.inlet_above_tank_bottom", "at.<point>.vapour_pressure"),
			Sources: sources(handbook("Crane TP-410, net positive suction head", "example 7.32")),
			Compute: func(c *Calc) any {
				d, tank := c.Design(), Part[schema.Tank](c)
				if tank == &d.Tank {
					return c.ValueAt(c.point, "vapour_margin")
				}
				if Require(c, &d.SecondTank); c.absent != "" {
					return nil
				}
				surface, loss, vapour := c.ValueAt(c.point, "barometer"), c.Value("suction_loss"), c.ValueAt(c.point, "vapour_pressure")
				density := c.ValueOn(&d.Fuel, NoPoint, "hot_density")
				height := SI(c, &tank.PickupAboveBottom) - SI(c, &d.TankSelector.Part.PumpAboveSecondTank)
				if c.Lacks() {
					return nil
				}
				return c.result(fluid.InletPressure(surface, density, height, loss)) - vapour
			}},
		{Name: "filtered", On: "Tank", Kind: Truth,
			Meaning: "a filter stands in the feed on the way from this tank's pump to the throttle body",
			Formula: "of a second tank with a pump of its own, a filter in its own feed or in the feed from the selector on; else one in the feed",
			Needs:   needs("design.second_tank", "design.tank_selector.side", "design.second_feed", "design.feed"),
			Sources: sources(practice("what both tanks share begins at the selector")),
			Compute: func(c *Calc) any { return filtered(c) }},
		{Name: "own_lines", On: "Tank", Kind: Truth,
			Meaning: "a second tank whose fuel comes by lines of its own up to a selector",
			Formula: "the second tank, joined by a selector, with no surge tank between",
			Needs:   needs("design.second_tank", "design.second_tank_joined", "design.tank_selector", "design.surge_tank"),
			Sources: sources(practice("a selector joins the two suctions before one pump outside, or the two feeds behind a pump in each tank")),
			Compute: func(c *Calc) any {
				d := c.Design()
				if Part[schema.Tank](c) == &d.Tank {
					return false
				}
				if Require(c, &d.SecondTank); c.absent != "" {
					return nil
				}
				if word(c, &d.SecondTankJoined) != "by_selector" {
					return false
				}
				if !Fitted(c, &d.TankSelector) {
					return false
				}
				return !Fitted(c, &d.SurgeTank)
			}},
	}
}
