package derive

import (
	"errors"
	"math"

	"plumbline/engine/physics/fluid"
	"plumbline/engine/physics/fuel"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// balanceFormula names the model all values of the solved fuel supply share.
const balanceFormula = "balance of pump curve at its real voltage, line losses, regulator and demand"

func balanceSources() []Source {
	return sources(
		handbook("Crane TP-410, affinity laws", "example 7.33"),
		handbook("S. W. Churchill, Chemical Engineering 84 (1977)", "p. 91"),
		handbook("Munson, Fundamentals of Fluid Mechanics", "section 8.4.2 and table 8.2"))
}

func balanceNeeds() []string {
	return needs("design.pump.curve", "design.pump.curve_voltage", "design.pump.kind", "design.pump.rated_flow", "design.pump.rated_pressure",
		"design.pump.dead_head_pressure", "design.pump.motor_resistance", "design.feed", "design.return_line",
		"design.engine.aspiration", "design.engine.boost", "design.throttle_body.compressor_side", "at.<point>.throttle_drop",
		"design.suction", "design.tank.strainer", "design.surge_tank", "design.regulator", "design.fuel", "design.climate.hot_fuel",
		"design.circuits", "design.grounds", "at.<point>.fuel_demand", "at.<point>.supply_voltage")
}

// balanced makes an entry that is read off the solved fuel supply.
func balanced(name string, d quantity.Dimension, meaning, formula string, read func(*fuelSupply) float64) Entry {
	return Entry{Name: name, On: "Design", PerPoint: true, Kind: Quantity, Dimension: d,
		Meaning: meaning, Formula: formula, Needs: balanceNeeds(), Sources: balanceSources(),
		Compute: func(c *Calc) any {
			s := fuelSupplyAt(c, c.point)
			if c.Lacks() {
				return nil
			}
			c.Unreachable(s.failure)
			return read(s)
		}}
}

func supplyEntries() []Entry {
	return append([]Entry{
		worked(workPumpFlow, balanced("pump_flow", quantity.DimFlow, "flow the pump gives",
			balanceFormula, func(s *fuelSupply) float64 { return s.state.PumpFlow })),
		worked(workPumpPressure, balanced("pump_pressure", quantity.DimPressure, "pressure the pump works against, outlet less inlet",
			balanceFormula, func(s *fuelSupply) float64 { return s.state.PumpRise })),
		worked(workPumpCurrent, balanced("pump_current", quantity.DimCurrent, "current the pump draws at its pressure and voltage",
			"current of the curve at the pump's pressure, moved to its voltage; "+balanceFormula,
			func(s *fuelSupply) float64 { return s.current })),
		worked(workPumpVoltage, balanced("pump_voltage", quantity.DimVoltage, "voltage at the pump's terminals",
			"supply voltage less the drops of fuses, contacts, wires, joints and grounds at the pump's current and that of whatever shares them",
			func(s *fuelSupply) float64 { return s.voltage })),
		worked(workBodyPressure, balanced("throttle_body_pressure", quantity.DimPressure, "gauge pressure of the fuel at the throttle body",
			balanceFormula, func(s *fuelSupply) float64 { return s.state.ThrottleBodyPressure })),
		worked(workEngineFlow, balanced("engine_flow", quantity.DimFlow, "fuel the engine is given, less than its demand when even an open line starves it",
			balanceFormula+"; while cranking it is neglected", func(s *fuelSupply) float64 { return s.state.EngineFlow })),
		worked(workFeedLoss, balanced("feed_loss", quantity.DimPressure, "friction loss from pump to throttle body",
			"sum over the runs of the feed at the flow it carries", func(s *fuelSupply) float64 { return s.state.FeedLoss })),
		worked(workReturnFlow, balanced("return_flow", quantity.DimFlow, "flow the regulator (dead-head: the relief valve) sends back",
			"pump flow less what the engine takes", func(s *fuelSupply) float64 { return s.state.ReturnFlow })),
		worked(workBackPressure, balanced("return_back_pressure", quantity.DimPressure, "gauge pressure behind the regulator",
			"loss and rise of the return line at the returned flow; nothing for a regulator in the tank",
			func(s *fuelSupply) float64 { return s.state.ReturnBackPressure })),
		worked(workSuctionLoss, balanced("suction_loss", quantity.DimPressure, "friction loss before the pump: strainer and suction line",
			"sum over strainer and suction runs at the pump's flow", func(s *fuelSupply) float64 { return s.state.SuctionLoss })),
	}, capacityEntries()...)
}

func capacityEntries() []Entry {
	return []Entry{
		{Name: "curve_state", On: "Pump", Kind: Text,
			Words:   []string{fluid.Sound, fluid.TooFewPoints, fluid.CurrentOnSome, fluid.PressureTwice, fluid.FlowRises, fluid.NoFlow},
			Meaning: "whether the points of the pump's curve can be those of a pump",
			Formula: "two points or more, each pressure once, current on all or none, flow that does not rise with pressure and is more than nothing at the lowest",
			Needs:   needs("design.pump.curve"),
			Sources: sources(handbook("Crane TP-410, affinity laws", "example 7.33")),
			Compute: func(c *Calc) any { return curveState(c) }},
		{Name: "winding_drop", On: "CurvePoint", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage lost in the motor's winding at this point of the curve",
			Formula: "motor resistance x current",
			Needs:   needs("design.pump.motor_resistance", "design.pump.curve"),
			Sources: sources(handbook("Ohm's law", "any circuit text")),
			Working: func(w *Work) {
				ohms, amps := SI(w.Calc, &w.Design().Pump.MotorResistance), SI(w.Calc, &Part[schema.CurvePoint](w.Calc).Current)
				w.comes(ohms*amps, "%s x %s", w.put(quantity.DimResistance, ohms), w.put(quantity.DimCurrent, amps))
			},
			Compute: func(c *Calc) any {
				return SI(c, &c.Design().Pump.MotorResistance) * SI(c, &Part[schema.CurvePoint](c).Current)
			}},
		{Name: "starved", On: "Design", PerPoint: true, Kind: Truth,
			Meaning: "the pump cannot hold the regulator's setting at the engine's demand",
			Formula: balanceFormula, Needs: balanceNeeds(), Sources: balanceSources(),
			Compute: func(c *Calc) any {
				s := fuelSupplyAt(c, c.point)
				if c.Lacks() {
					return nil
				}
				// A pump may be known to starve at a pressure its curve does not show.
				if !s.state.Starved {
					c.Unreachable(s.failure)
				}
				return s.state.Starved
			}},
		{Name: "pump_capacity", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "flow the pump could give at its working pressure and real voltage",
			Formula: "flow of the curve at the pump's pressure; where the pump gives only what the engine takes, or starves, at the pressure that would hold the setting",
			Needs:   balanceNeeds(), Sources: balanceSources(),
			Working: workPumpCapacity,
			Compute: func(c *Calc) any {
				s := fuelSupplyAt(c, c.point)
				if c.Lacks() {
					return nil
				}
				c.Unreachable(s.failure)
				if c.Lacks() {
					return nil
				}
				if s.system.Layout != fluid.DeadHead && !s.state.Starved {
					return s.state.PumpFlow
				}
				rise := c.result(s.system.NeededRise())
				c.outside(s.system.Pump, s.printed, rise, true, false)
				return c.result(s.system.Pump.Flow(rise))
			}},
		{Name: "pressure_headroom", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure the pump could make at the engine's demand beyond what is needed",
			Formula: "highest pressure, at the pump's voltage, at which it still gives the demand, less the pressure that holds the setting at the demand",
			Needs:   balanceNeeds(), Sources: balanceSources(),
			Working: workPressureHeadroom,
			Compute: func(c *Calc) any {
				s := fuelSupplyAt(c, c.point)
				if c.Lacks() {
					return nil
				}
				c.Unreachable(s.failure)
				if c.Lacks() {
					return nil
				}
				able := c.result(s.system.Pump.HighestPressure(s.system.Demand))
				c.outside(s.system.Pump, s.printed, able, true, false)
				needed := c.result(s.system.NeededRise())
				return able - needed
			}},
	}
}

// curveState names what is wrong with the points of the pump's curve.
func curveState(c *Calc) any {
	points := curvePoints(c)
	if c.Lacks() {
		return nil
	}
	// Voltage and kind do not matter for the points.
	_, err := fluid.NewCurve(fluid.CurveData{Voltage: 1, Kind: fluid.Turbine, Points: points})
	var bad *fluid.BadCurve
	if errors.As(err, &bad) {
		return bad.Fault
	}
	c.Unreachable(err)
	return fluid.Sound
}

func vapourEntries() []Entry {
	npsh := sources(handbook("Crane TP-410, net positive suction head", "example 7.32"),
		handbook("Munson, Fundamentals of Fluid Mechanics", "section 12.4"))
	return []Entry{
		{Name: "pump_inlet_pressure", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "absolute pressure of the fuel at the pump inlet with the tank at its lowest",
			Formula: "barometer + density x g x (lowest fuel level - pump inlet height) - suction loss, no less than nothing; a surge tank's level is not modelled",
			Needs: needs("at.<point>.barometer", "at.<point>.suction_loss", "design.fuel.hot_density",
				"design.tank.pickup_above_bottom", "design.pump.inlet_above_tank_bottom", "design.surge_tank"),
			Sources: npsh,
			Working: workInletPressure,
			Compute: func(c *Calc) any {
				d := c.Design()
				if Fitted(c, &d.SurgeTank) {
					c.unreachable("the level in a surge tank above the pump inlet is not modelled")
				}
				surface, loss := c.Value("barometer"), c.Value("suction_loss")
				density := c.ValueOn(&d.Fuel, NoPoint, "hot_density")
				height := SI(c, &d.Tank.PickupAboveBottom) - SI(c, &d.Pump.InletAboveTankBottom)
				if c.Lacks() {
					return nil
				}
				return math.Max(c.result(fluid.InletPressure(surface, density, height, loss)), 0)
			}},
		{Name: "vapour_pressure", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "absolute pressure below which the fuel at the pump boils",
			Formula: "true vapour pressure of the hot fuel",
			Needs:   needs("design.fuel.hot_vapour_pressure"),
			Sources: sources(standard("EPA AP-42 chapter 7.1", "figure 7.1-14b")),
			Working: workVapourPressure,
			Compute: func(c *Calc) any { return c.ValueOn(&c.Design().Fuel, NoPoint, "hot_vapour_pressure") }},
		{Name: "vapour_margin", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "how far the pump inlet is from boiling the fuel; negative means vapour",
			Formula: "pump inlet pressure - vapour pressure",
			Needs:   needs("at.<point>.pump_inlet_pressure", "at.<point>.vapour_pressure"),
			Sources: npsh,
			Working: workVapourMargin,
			Compute: func(c *Calc) any { return c.Value("pump_inlet_pressure") - c.Value("vapour_pressure") }},
		{Name: "soak_margin", On: "ThrottleBody", Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "how far fuel that stands in the body without pressure after a hot stop is from boiling, on the highest road; negative means it boils away",
			Formula: "barometer at idle - true vapour pressure at the temperature of the soaked fuel",
			Needs:   needs("at.idle.barometer", "design.fuel.reid_vapour_pressure", "design.throttle_body.hot_soak_fuel"),
			Sources: sources(standard("EPA AP-42 chapter 7.1", "figure 7.1-14b")),
			Working: workSoakMargin,
			Compute: func(c *Calc) any {
				barometer := c.ValueAt(Idle, "barometer")
				reid, kelvin := SI(c, &c.Design().Fuel.ReidVapourPressure), SI(c, &Part[schema.ThrottleBody](c).HotSoakFuel)
				if c.Lacks() {
					return nil
				}
				return barometer - c.result(fuel.TrueVapourPressure(reid, kelvin))
			}},
	}
}
