package derive

import (
	"slices"

	"plumbline/engine/physics/circuit"
	"plumbline/engine/physics/fluid"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// stillAt solves the fuel supply with the pump running and the engine still, as at key-on or by a controller's test output: the
// battery alone feeds the pump, no other load runs and no fuel is burnt. With the return free the regulator's outlet runs
// through a short wide hose into a can.
func stillAt(c *Calc, freeReturn bool) *fuelSupply {
	number := 0
	if freeReturn {
		number = 1
	}
	return Memo(c, "still supply", number, c.Design(), Idle, func(c *Calc) *fuelSupply {
		base, system := pumpCurve(c), fuelSystem(c, Idle)
		system.Demand = 0
		if freeReturn {
			system.Return = nil
		}
		s := newSupply(base)
		parts := pumpsAlone(c)
		s.pumps = pumpsAt(c, Idle, 0)
		if c.Lacks() {
			return s
		}
		if s.system, s.failure = fluid.Prepare(system); s.failure == nil {
			if s.failure = s.solve(base, parts); s.failure == nil {
				c.outside(s.system.Pump, s.printed, s.state.PumpRise, true, true)
			}
		}
		return s
	})
}

// pumpsAlone are the elements of the pumps' own way from the battery and back, nothing else running.
func pumpsAlone(c *Calc) []*networkParts {
	w, pumps := wiringAt(c, Idle), pumpsAt(c, Idle, 0).all()
	parts := &networkParts{}
	parts.supply = c.ValueOn(&c.Design().Battery, NoPoint, "conversion_rest_voltage")
	out := []*networkParts{parts}
	if c.Lacks() {
		return out
	}
	feeds := func(k int) bool { return slices.ContainsFunc(pumps, func(i int) bool { return w.feeds(k, i) }) }
	parts.elements = append(parts.elements, circuit.Battery("battery", batteryPositive, batteryNegative, parts.supply, 0))
	for k := range w.circuits {
		if !feeds(k) {
			continue
		}
		if slices.Contains(pumps, k) {
			circuitElements(c, w, k, parts)
			continue
		}
		from, names := batteryPositive, *c.session.labelsOf(k)
		if w.parent[k] >= 0 {
			from = c.session.labelsOf(w.parent[k]).feedEnd
		}
		parts.elements = append(parts.elements, circuit.Resistor(names.feed, from, names.feedEnd, feedOhms(c, &w.circuits[k])))
	}
	if slices.ContainsFunc(pumps, func(i int) bool { return w.back[i] != batteryNegative }) {
		groundElements(c, Idle, parts)
	}
	return out
}

// stillEntries are what is read with the pump running and the engine still.
func stillEntries() []Entry {
	entry := func(name string, d quantity.Dimension, meaning string, free bool, read func(*Calc, *fuelSupply) any) Entry {
		return Entry{Name: name, On: "Measured", Kind: Quantity, Dimension: d,
			Meaning: meaning + ", with the pump running and the engine still",
			Formula: balanceFormula + ", the battery at rest, the pump alone running and no fuel burnt",
			Needs: needs("design.pump.curve", "design.pump.curve_voltage", "design.pump.kind", "design.feed", "design.return_line", "design.suction",
				"design.tank.strainer", "design.regulator", "design.circuits", "design.grounds", "battery.conversion_rest_voltage"),
			Sources: balanceSources(),
			Working: workStill,
			Compute: func(c *Calc) any {
				s := stillAt(c, free)
				if c.Lacks() {
					return nil
				}
				if c.Unreachable(s.failure); c.Lacks() {
					return nil
				}
				return read(c, s)
			}}
	}
	returned := func(c *Calc, s *fuelSupply, v float64) any {
		if s.system.Layout != fluid.ReturnStyle {
			c.notThere(c.Design().ReturnLine.Path())
			return nil
		}
		return v
	}
	return []Entry{
		entry("expected_prime_pressure", quantity.DimPressure, "gauge pressure of the fuel at the throttle body", false,
			func(_ *Calc, s *fuelSupply) any { return s.state.ThrottleBodyPressure }),
		entry("expected_test_pump_voltage", quantity.DimVoltage, "voltage at the pump's terminals", false,
			func(_ *Calc, s *fuelSupply) any { return s.voltage }),
		entry("expected_test_pump_current", quantity.DimCurrent, "current the pump draws", false,
			func(_ *Calc, s *fuelSupply) any { return s.current }),
		entry("expected_can_flow", quantity.DimFlow, "flow out of the return line", false,
			func(c *Calc, s *fuelSupply) any { return returned(c, s, s.state.ReturnFlow) }),
		entry("expected_free_return_pressure", quantity.DimPressure, "gauge pressure at the throttle body with the return let freely into a can", true,
			func(c *Calc, s *fuelSupply) any { return returned(c, s, s.state.ThrottleBodyPressure) }),
	}
}

func workStill(w *Work) {
	s := stillAt(w.Calc, w.entry.Name == "expected_free_return_pressure")
	if w.Lacks() || s.failure != nil {
		return
	}
	rest := w.ValueOn(&w.Design().Battery, NoPoint, "conversion_rest_voltage")
	w.comes(w.value(), "read off the balance at %s left of %s at the pump, which draws %s", w.put(quantity.DimVoltage, s.voltage),
		w.put(quantity.DimVoltage, rest), w.put(quantity.DimCurrent, s.current))
}

// fuelPathEntries are what gauges along the fuel path show at idle.
func fuelPathEntries() []Entry {
	entry := func(name, meaning, formula string, from []string, read func(*Calc) any) Entry {
		return Entry{Name: name, On: "Measured", Kind: Quantity, Dimension: quantity.DimPressure, Meaning: meaning + ", at idle", Formula: formula,
			Needs: from, Sources: balanceSources(), Working: workReadOff, Compute: read}
	}
	return []Entry{
		entry("expected_pump_outlet_pressure", "gauge pressure right behind the pump", "throttle-body pressure + loss and rise of the feed",
			needs("at.idle.throttle_body_pressure", "at.idle.feed_loss", "design.feed.rise"), func(c *Calc) any {
				s := fuelSupplyAt(c, Idle)
				if c.Lacks() {
					return nil
				}
				if c.Unreachable(s.failure); c.Lacks() {
					return nil
				}
				return s.state.PumpOutletPressure
			}),
		entry("expected_filter_drop", "pressure lost over the filters of the feed", "sum of the losses of the feed's filters",
			needs("run.kind", "run.at.idle.loss"), func(c *Calc) any {
				runs, sum, found := Items(c, &c.Design().Feed.Runs), 0.0, false
				for i := range runs {
					if word(c, &runs[i].Kind) == "filter" {
						sum, found = sum+c.ValueOn(&runs[i], Idle, "loss"), true
					}
				}
				if !found && !c.Lacks() {
					c.notThere(c.Design().Feed.Runs.Path())
				}
				return sum
			}),
		entry("expected_inlet_vacuum", "vacuum at the inlet of a pump outside the tank", "barometer - pump inlet pressure, no less than nothing; with the tank at its lowest",
			needs("at.idle.barometer", "at.idle.pump_inlet_pressure", "design.suction"), func(c *Calc) any {
				Require(c, &c.Design().Suction)
				outer, inner := c.ValueAt(Idle, "barometer"), c.ValueAt(Idle, "pump_inlet_pressure")
				return max(0, outer-inner-c.fault(tankPressure))
			}),
		entry("expected_tank_pressure", "pressure in the tank over the outside air", "none in a vented tank",
			needs("design.tank"), func(c *Calc) any { return c.fault(tankPressure) }),
	}
}

func workReadOff(w *Work) { w.comes(w.value(), "%s", w.entry.Formula) }

// pumpWay is one drop along the circuit of the pump, at idle.
func pumpWay(name, from, meaning string, read func(c *Calc, ct *schema.Circuit) float64) Entry {
	return Entry{Name: name, On: "Measured", Kind: Quantity, Dimension: quantity.DimVoltage, Meaning: meaning + ", at idle",
		Formula: from + " of the circuit whose load is the fuel pump", Needs: needs("circuit.load.kind", "circuit.at.idle."+from),
		Sources: networkSources(), Working: workReadOff,
		Compute: func(c *Calc) any {
			i := pumpCircuit(c, Idle)
			if c.Lacks() {
				return nil
			}
			return read(c, &c.Design().Circuits.Items[i])
		}}
}

// pumpWayEntries are what a meter reads along the pump's circuit.
func pumpWayEntries() []Entry {
	over := func(c *Calc, ct *schema.Circuit, ohms float64) float64 {
		return ohms * c.ValueOn(ct, Idle, "load_current")
	}
	return []Entry{
		pumpWay("expected_pump_plus_drop", "feed_drop", "voltage lost from battery positive to the pump", func(c *Calc, ct *schema.Circuit) float64 {
			return c.ValueOn(ct, Idle, "feed_drop")
		}),
		pumpWay("expected_pump_ground_drop", "return_drop", "voltage lost from the pump to battery negative", func(c *Calc, ct *schema.Circuit) float64 {
			return c.ValueOn(ct, Idle, "return_drop")
		}),
		pumpWay("expected_pump_fuse_drop", "load_current x fuse resistance", "voltage lost over the pump's fuse and its holder", func(c *Calc, ct *schema.Circuit) float64 {
			return over(c, ct, SI(c, &Require(c, &ct.Fuse).Resistance))
		}),
		pumpWay("expected_pump_relay_drop", "load_current x contact resistance", "voltage lost over the contact of the pump's relay", func(c *Calc, ct *schema.Circuit) float64 {
			return over(c, ct, SI(c, &Require(c, &ct.Relay).ContactResistance))
		}),
	}
}
