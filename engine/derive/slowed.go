package derive

import (
	"plumbline/engine/physics/circuit"
	"plumbline/engine/physics/fluid"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// slowed is the fuel supply with its pump slowed, and what slows it.
type slowed struct {
	fuelSupply
	// heat is what the resistor or module turns into heat, W.
	heat float64
}

// moduleLoss is the share of the pump's power that a pulsed module or output turns into heat, from practice.
const moduleLoss = 0.05

// slowedAt solves the fuel supply with its pump slowed, at idle or cruise; at full load and while cranking it has the full voltage.
// A resistor stands in the pump's circuit by its resistance; a module or an output gives the voltage that is stated of it, but
// no more than the circuit leaves: nothing adds volts.
func slowedAt(c *Calc) *slowed {
	control := Require(c, &c.Design().Pump.SpeedControl)
	if c.absent != "" {
		return nil
	}
	if c.point != Idle && c.point != Cruise {
		c.unreachable("a pump is slowed at idle and at cruise, not at %s", c.point)
		return nil
	}
	return Memo(c, "slowed supply", 0, c.Design(), c.point, func(c *Calc) *slowed {
		kind, stated := word(c, &control.Kind), 0.0
		switch kind {
		case "":
		case "series_resistor":
			stated = SI(c, &control.Resistance)
		default:
			stated = SI(c, &control.ReducedVoltage)
		}
		full, base := fuelSupplyAt(c, c.point), pumpCurve(c)
		w, pumps := wiringAt(c, c.point), pumpsAt(c, c.point, 0)
		if c.Lacks() {
			return nil
		}
		s := &slowed{fuelSupply: fuelSupply{system: full.system, printed: full.printed, pumps: pumps, powers: map[int]*circuit.Solution{}}}
		if s.failure = full.failure; s.failure != nil {
			return s
		}
		parts := pumps.islands(c, c.point, w, 0)
		if c.Lacks() {
			return nil
		}
		if kind == "series_resistor" {
			s.series = stated
			s.failure = s.solve(base, parts)
			s.heat = stated * s.current * s.current
		} else {
			s.failure = s.pumpAt(base, min(stated, full.voltage))
			s.heat = moduleLoss * s.voltage * s.current
		}
		if s.failure == nil {
			c.outside(s.system.Pump, s.printed, s.state.PumpRise, true, true)
		}
		return s
	})
}

// workSlowedVoltage takes what the resistor takes off what the circuit leaves.
func workSlowedVoltage(w *Work) {
	s := slowedAt(w.Calc)
	if w.Lacks() || s == nil || s.failure != nil {
		return
	}
	if s.series == 0 {
		w.comes(s.voltage, "the voltage stated, no more than the circuit leaves")
		return
	}
	w.comes(s.voltage, "%s left by the circuit - %s x %s", w.put(quantity.DimVoltage, s.voltage+s.series*s.current),
		w.put(quantity.DimResistance, s.series), w.put(quantity.DimCurrent, s.current))
}

// workSlowedHeat multiplies the current by what the resistor takes, or takes the share a module wastes.
func workSlowedHeat(w *Work) {
	s := slowedAt(w.Calc)
	switch {
	case w.Lacks() || s == nil || s.failure != nil:
	case s.series == 0:
		w.comes(s.heat, "%s x %s x %s", w.number(moduleLoss), w.put(quantity.DimVoltage, s.voltage), w.put(quantity.DimCurrent, s.current))
	default:
		w.comes(s.heat, "%s x %s x %s", w.put(quantity.DimResistance, s.series), w.put(quantity.DimCurrent, s.current), w.put(quantity.DimCurrent, s.current))
	}
}

func slowedEntries() []Entry {
	entry := func(name string, d quantity.Dimension, meaning, formula string, read func(c *Calc, s *slowed) float64) Entry {
		return Entry{Name: name, On: "SpeedControl", PerPoint: true, Kind: Quantity, Dimension: d, Meaning: meaning + ", while the pump is slowed at idle or cruise",
			Formula: formula + "; " + balanceFormula + ", at the voltage of the slowed pump", Sources: balanceSources(),
			Needs: needs("design.pump.speed_control.kind", "design.pump.speed_control.reduced_voltage", "design.pump.speed_control.resistance", "at.<point>.pump_voltage", "design.pump.curve", "at.<point>.fuel_demand"),
			Compute: func(c *Calc) any {
				s := slowedAt(c)
				if c.Lacks() || s == nil {
					return nil
				}
				c.Unreachable(s.failure)
				if c.Lacks() {
					return nil
				}
				return read(c, s)
			}}
	}
	return []Entry{
		worked(workSlowedVoltage, entry("voltage", quantity.DimVoltage, "voltage at the pump's terminals", "behind a resistor what its circuit and the resistor leave at the pump's current; of a module or output the reduced voltage stated, no more than the circuit leaves",
			func(_ *Calc, s *slowed) float64 { return s.voltage })),
		entry("capacity", quantity.DimFlow, "flow the pump could give at the pressure that holds the setting", "flow of the curve moved to the slowed pump's voltage",
			func(c *Calc, s *slowed) float64 {
				if s.system.Layout != fluid.DeadHead && !s.state.Starved {
					return s.state.PumpFlow
				}
				rise := c.result(s.system.NeededRise())
				c.outside(s.system.Pump, s.printed, rise, true, false)
				return c.result(s.system.Pump.Flow(rise))
			}),
		entry("throttle_body_pressure", quantity.DimPressure, "gauge pressure of the fuel at the throttle body", "the setting, less what is missing where the slowed pump cannot hold it",
			func(_ *Calc, s *slowed) float64 { return s.state.ThrottleBodyPressure }),
		entry("return_flow", quantity.DimFlow, "flow that goes back to the tank", "pump flow less what the engine takes",
			func(_ *Calc, s *slowed) float64 { return s.state.ReturnFlow }),
		entry("current", quantity.DimCurrent, "current the pump draws", "current of the curve at the pump's pressure, moved to the slowed pump's voltage",
			func(_ *Calc, s *slowed) float64 { return s.current }),
		worked(workSlowedHeat, entry("heat", quantity.DimPower, "heat of what slows the pump", "series resistor: resistance x current squared; module or output: a twentieth of the pump's voltage x current",
			func(_ *Calc, s *slowed) float64 { return s.heat })),
		{Name: "pressure_deviation", On: "SpeedControl", Dimension: quantity.DimShare,
			Meaning: "measured fuel pressure while the pump is slowed against the computed one at idle, as a share",
			Formula: "reduced pressure / slowed throttle-body pressure at idle - 1",
			Needs:   needs("design.pump.speed_control.reduced_pressure", "speed_control.at.idle.throttle_body_pressure"),
			Sources: sources(practice("what was measured at start-up is held against what was computed")),
			Compute: func(c *Calc) any {
				control := Part[schema.SpeedControl](c)
				measured, computed := SI(c, &control.ReducedPressure), c.ValueOn(control, Idle, "throttle_body_pressure")
				if c.Lacks() {
					return nil
				}
				if computed <= 0 {
					c.ruledOut("design.pump.speed_control.at.idle.throttle_body_pressure")
					return nil
				}
				return measured/computed - 1
			}},
	}
}
