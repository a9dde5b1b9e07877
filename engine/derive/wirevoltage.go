package derive

import (
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// wireVoltageEntries are what a meter reads along a circuit, its black lead on battery negative.
func wireVoltageEntries() []Entry {
	return []Entry{{Name: "voltage", On: "Wire", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
		Meaning: "voltage over battery negative at the end of the wire that is nearer the load, joint included",
		Formula: "feed wire: voltage where the circuit begins - current x (fuse + relay contact + wires and joints up to there), return wire: return drop - current x (return wires and joints before it); " +
			"fuse and relay contact are taken to come before the first wire",
		Needs:   append(networkNeeds(), "circuit.at.<point>.load_voltage"),
		Sources: networkSources(),
		Working: workWireVoltage,
		Compute: func(c *Calc) any {
			terms := wireVoltage(c)
			if c.Lacks() {
				return nil
			}
			return terms.begin - terms.current*terms.ohms
		}}}
}

// voltageTerms are what makes up a voltage along a circuit.
type voltageTerms struct {
	begins               string
	begin, current, ohms float64
}

// wireVoltage finds the voltage at the load's end of the wire of the calculation.
func wireVoltage(c *Calc) voltageTerms {
	wire := Part[schema.Wire](c)
	ct, back := circuitAround(c, wire.Path())
	if ct == nil || c.Lacks() {
		return voltageTerms{}
	}
	p := poweredAt(c, ct)
	if c.Lacks() {
		return voltageTerms{}
	}
	if back {
		out := voltageTerms{begins: "voltage the load is above battery negative", begin: p.back, current: p.current}
		out.ohms = wiresBefore(c, ct.ReturnWires.Items, wire, false)
		return out
	}
	// The whole feed is what the solved network knows; the way from the wire on to the load is taken off again.
	ohms := feedOhms(c, ct)
	through := feedCurrent(c, ct)
	out := voltageTerms{begins: "voltage where the circuit begins", begin: p.supply - p.feed + through*ohms, current: through}
	out.ohms = ohms - wireSum(c, &ct.FeedWires) + wiresBefore(c, ct.FeedWires.Items, wire, true)
	return out
}

// feedCurrent is the current of the feed: of its own load and of the circuits that branch from it.
func feedCurrent(c *Calc, ct *schema.Circuit) float64 {
	t := turnTo(c, ct)
	w := wiringIn(c, c.point, t)
	i := indexOf(w.circuits, ct)
	solution := island(c, c.point, w.island[i], t)
	if c.Lacks() {
		return 0
	}
	branch, err := solution.Branch(c.session.labelsOf(i).feed)
	c.Unreachable(err)
	return branch.Amps
}

// wiresBefore is the resistance of the wires before one, with their joints; that of the wire too where it is counted.
func wiresBefore(c *Calc, wires []schema.Wire, to *schema.Wire, counted bool) float64 {
	sum := 0.0
	for i := range wires {
		at := &wires[i] == to
		if at && !counted {
			return sum
		}
		sum += c.ValueOn(&wires[i], NoPoint, "resistance") + c.ValueOn(&wires[i], NoPoint, "joint_resistance")
		if at {
			return sum
		}
	}
	return sum
}

func workWireVoltage(w *Work) {
	t := wireVoltage(w.Calc)
	w.comes(t.begin-t.current*t.ohms, "%s %s - %s x %s up to there", w.put(quantity.DimVoltage, t.begin), t.begins,
		w.put(quantity.DimCurrent, t.current), w.put(quantity.DimResistance, t.ohms))
}
