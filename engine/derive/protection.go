package derive

import (
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func protectionEntries() []Entry {
	return []Entry{
		{Name: "steady_current", On: "Circuit", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "largest current the feed wires carry for long",
			Formula: "nominal currents of the circuit's load and of the circuits that branch from it, summed at each operating point, a standby pump in the place of the first; the largest sum",
			Needs:   needs("circuit.nominal_current", "circuit.load.runs_at", "circuit.purpose", "circuit.load.kind", "design.circuits"),
			Sources: sources(practice("fuses and wires are sized by the load's rated current")),
			Working: workSteadyCurrent,
			Compute: steadyCurrent},
		{Name: "fault_current", On: "Circuit", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current of a dead short at the load's terminals",
			Formula: "rest voltage / (battery's internal resistance + fuses, contacts, wires and joints of feed and return + grounds); the alternator's share is left out; " +
				"behind a converter its output for the rest voltage, though it may give less, as many limit themselves to a little over their rated current",
			Needs: needs("design.battery.rest_voltage", "design.battery.system_voltage", "design.battery.converter", "battery.resistance", "circuit.fuse.resistance", "circuit.relay.contact_resistance",
				"circuit.feed_wires", "circuit.return_wires", "wire.joint_resistance", "circuit.returns_to", "circuit.source", "circuit.branch_of", "design.grounds"),
			Sources: sources(standard("SAE J537", "cold cranking rating, 7.2 V"), practice("the drop to 7.2 V is taken as resistance")),
			Working: workFaultCurrent,
			Compute: faultCurrent},
		{Name: "fuse_ceiling", On: "Circuit", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "largest fuse the weakest feed wire may have",
			Formula: "150 % of the table ampacity (30 degC, not bundled) of the weakest feed wire; copper-clad aluminium x 0.79",
			Needs:   needs("circuit.feed_wires", "wire.size", "wire.insulation_rating", "wire.conductor"),
			Sources: sources(law("33 CFR 183.455(c)", "for boats, borrowed")),
			Working: workFuseCeiling,
			Compute: func(c *Calc) any {
				return leastOver(c, func(w *schema.Wire) float64 {
					size, class, kind := SI(c, &w.Size), SI(c, &w.InsulationRating), word(c, &w.Conductor)
					if c.Lacks() {
						return 0
					}
					table := c.result(circuit.Ampacity(size, class)) * metalFactor(kind)
					if c.Lacks() {
						return 0
					}
					return c.result(circuit.FuseCeiling(table, circuit.CFRFuseCeiling))
				})
			}},
		{Name: "short_heating", On: "Circuit", Kind: Number,
			Meaning: "heat a dead short puts into the weakest feed wire before the fuse opens, over what its insulation stands; below 1 is safe",
			Formula: "let-through of the fuse at the fault current and its longest opening time / (k S)^2, k = 226 sqrt(ln((234.5 + Tf)/(234.5 + Ti))), of copper-clad aluminium 148 sqrt(ln((228 + Tf)/(228 + Ti))), from the insulation class to 160 degC (cross-linked, from class 125 degC: 250 degC; silicone rubber, from class 180 degC: 350 degC)",
			Needs:   needs("circuit.fuse.rating", "circuit.fuse.kind", "circuit.fault_current", "circuit.feed_wires", "wire.size", "wire.insulation_rating", "wire.conductor"),
			Sources: sources(standard("IEC 60364-4-43 and IEC 60364-5-54", "adiabatic heating"), memory("opening-time band of ISO 8820-3 blade fuses")),
			Compute: shortHeating},
	}
}

// steadyCurrent sums a circuit and its branches over the points they run at.
func steadyCurrent(c *Calc) any {
	me := Part[schema.Circuit](c)
	circuits, parents := Items(c, &c.Design().Circuits), parentsOf(c)
	parent := make([]int, len(circuits))
	for i := range circuits {
		parent[i] = parents.of(c, i)
	}
	if c.Lacks() {
		return nil
	}
	type when struct {
		p Point
		t turn
	}
	sums, all := map[when]float64{}, turns(c, circuits)
	for i := range circuits {
		if !descends(circuits, parent, i, me) {
			continue
		}
		amps := c.ValueOn(&circuits[i], NoPoint, "nominal_current")
		for _, p := range Points() {
			if !runsAt(c, &circuits[i].Load.RunsAt, p) {
				continue
			}
			for _, t := range all {
				if t.mayRun(c, circuits, i) {
					sums[when{p, t}] += amps
				}
			}
		}
	}
	largest := 0.0
	for _, sum := range sums {
		largest = math.Max(largest, sum)
	}
	return largest
}

// descends reports whether circuit i is the one given or branches from it.
func descends(circuits []schema.Circuit, parent []int, i int, head *schema.Circuit) bool {
	for steps := 0; i >= 0 && steps <= len(circuits); steps++ {
		if &circuits[i] == head {
			return true
		}
		i = parent[i]
	}
	return false
}

// faultCurrent shorts the circuit's load with every other load left out.
func faultCurrent(c *Calc) any {
	d, me := c.Design(), Part[schema.Circuit](c)
	circuits, parents := Items(c, &d.Circuits), parentsOf(c)
	rest, internal := behindConverter(c, &d.Battery.RestVoltage), c.ValueOn(&d.Battery, NoPoint, "resistance")
	back := Get(c, &me.ReturnsTo)
	elements := []circuit.Element{circuit.Resistor("return", "load negative", pointNode(back), wireSum(c, &me.ReturnWires))}

	// Feed wires, from the load back to the battery.
	i, node := indexOf(circuits, me), "load positive"
	for steps := 0; i >= 0; steps++ {
		if steps > len(circuits) {
			c.unreachable("circuit %s branches from itself", me.Path())
			break
		}
		ohms, next := feedOhms(c, &circuits[i]), parents.of(c, i)
		from := batteryPositive
		if next >= 0 {
			from = c.session.labelsOf(next).feedEnd
		}
		elements = append(elements, circuit.Resistor(c.session.labelsOf(i).feed, from, node, ohms))
		i, node = next, from
	}
	if back != batteryNegative && !c.Lacks() {
		checkGround(c, me, back)
		parts := &networkParts{}
		groundElements(c, NoPoint, parts)
		elements = append(elements, parts.elements...)
	}
	if c.Lacks() {
		return nil
	}
	elements = append(elements, circuit.Battery("battery", batteryPositive, batteryNegative, rest, internal))
	amps, _, err := circuit.ShortCircuit(batteryNegative, elements, "load positive", "load negative", 0)
	return c.result(amps, err)
}

func indexOf(circuits []schema.Circuit, me *schema.Circuit) int {
	for i := range circuits {
		if &circuits[i] == me {
			return i
		}
	}
	return -1
}

// shortHeating compares the fuse's let-through with the weakest wire.
func shortHeating(c *Calc) any {
	me := Part[schema.Circuit](c)
	fuse := Require(c, &me.Fuse)
	if c.absent != "" {
		return nil
	}
	rating, kind := SI(c, &fuse.Rating), word(c, &fuse.Kind)
	fault := c.Value("fault_current")
	wires := Items(c, &me.FeedWires)
	type gauge struct {
		size, class float64
		clad        bool
	}
	var gauges []gauge
	for i := range wires {
		gauges = append(gauges, gauge{SI(c, &wires[i].Size), SI(c, &wires[i].InsulationRating), word(c, &wires[i].Conductor) == cladAluminium})
	}
	if c.Lacks() {
		return nil
	}
	if len(gauges) == 0 {
		c.unreachable("%s has no feed wires", me.Path())
	}
	if kind != "blade" && kind != "mini_blade" {
		c.unreachable("no opening-time band is at hand for a fuse of the kind %s", kind)
		return nil
	}
	through := c.result(circuit.Blade.LetThrough(rating, fault))
	worst := 0.0
	for _, g := range gauges {
		worst = math.Max(worst, c.result(circuit.ShortCircuitHeating(through, g.size, g.class, g.clad)))
	}
	return worst
}
