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

// slowedAt solves the fuel supply with the pump at its reduced voltage, at idle or cruise; at full load and while cranking it
// has the full one. A voltage beyond what the circuit leaves is that of the circuit: nothing adds volts.
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
		volts, kind := SI(c, &control.ReducedVoltage), word(c, &control.Kind)
		full, base := fuelSupplyAt(c, c.point), pumpCurve(c)
		w, i := wiringAt(c, c.point), pumpCircuit(c)
		if c.Lacks() {
			return nil
		}
		s := &slowed{fuelSupply: fuelSupply{system: full.system, printed: full.printed}}
		if s.failure = full.failure; s.failure != nil {
			return s
		}
		if volts >= full.voltage {
			s.fuelSupply = *full
			return s
		}
		parts := islandParts(c, c.point, w.island[i])
		if c.Lacks() {
			return nil
		}
		network, err := parts.withPump()
		if err == nil {
			err = s.pumpAt(base, volts)
		}
		if err == nil {
			s.heat, err = controlHeat(network, kind, volts, s.current)
		}
		if s.failure = err; err == nil {
			c.outside(s.system.Pump, s.printed, s.state.PumpRise, true, true)
		}
		return s
	})
}

// controlHeat is the heat (W) of what lowers the supply's voltage to that of the pump: a resistor passes the pump's current and
// takes the rest of the voltage, a module or an output passes its power.
func controlHeat(network *circuit.Varied, kind string, volts, amps float64) (float64, error) {
	if kind != "series_resistor" {
		return moduleLoss * volts * amps, nil
	}
	left, err := network.Voltage(amps)
	return (left - volts) * amps, err
}

func slowedEntries() []Entry {
	entry := func(name string, d quantity.Dimension, meaning, formula string, read func(c *Calc, s *slowed) float64) Entry {
		return Entry{Name: name, On: "SpeedControl", PerPoint: true, Kind: Quantity, Dimension: d, Meaning: meaning + ", while the pump is slowed at idle or cruise",
			Formula: formula + "; " + balanceFormula + ", at the reduced voltage", Sources: balanceSources(),
			Needs: needs("design.pump.speed_control.reduced_voltage", "design.pump.speed_control.kind", "at.<point>.pump_voltage", "design.pump.curve", "at.<point>.fuel_demand"),
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
		entry("capacity", quantity.DimFlow, "flow the pump could give at the pressure that holds the setting", "flow of the curve moved to the reduced voltage",
			func(c *Calc, s *slowed) float64 {
				if s.system.Layout != fluid.DeadHead && !s.state.Starved {
					return s.state.PumpFlow
				}
				rise := c.result(s.system.NeededRise())
				c.outside(s.system.Pump, s.printed, rise, true, false)
				return c.result(s.system.Pump.Flow(rise))
			}),
		entry("throttle_body_pressure", quantity.DimPressure, "gauge pressure of the fuel at the throttle body", "as with the full voltage",
			func(_ *Calc, s *slowed) float64 { return s.state.ThrottleBodyPressure }),
		entry("return_flow", quantity.DimFlow, "flow that goes back to the tank", "pump flow less what the engine takes",
			func(_ *Calc, s *slowed) float64 { return s.state.ReturnFlow }),
		entry("current", quantity.DimCurrent, "current the pump draws", "current of the curve at the pump's pressure, moved to the reduced voltage",
			func(_ *Calc, s *slowed) float64 { return s.current }),
		entry("heat", quantity.DimPower, "heat of what slows the pump", "series resistor: (voltage its circuit leaves at that current - reduced voltage) x current; module or output: a twentieth of reduced voltage x current",
			func(_ *Calc, s *slowed) float64 { return s.heat }),
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
