package derive

import (
	"fmt"
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func workWireResistance(w *Work) {
	c, wire := w.Calc, Part[schema.Wire](w.Calc)
	size, length, ambient, kind := SI(c, &wire.Size), SI(c, &wire.Length), SI(c, &wire.Ambient), word(c, &wire.Conductor)
	conductor, err := conductorOf(size, kind)
	if err != nil {
		c.Unreachable(err)
		return
	}
	cool := c.result(conductor.Resistance(length, workshop))
	hot := w.value()
	w.comes(hot, "%s of %s of %s at %s x %s at %s", w.put(quantity.DimResistance, cool), w.put(quantity.DimLength, length), w.size(&wire.Size), w.celsius(20),
		w.number(hot/cool), w.put(quantity.DimTemperature, ambient))
}

func workWireAmpacity(w *Work) {
	c, wire := w.Calc, Part[schema.Wire](w.Calc)
	size, class, ambient := SI(c, &wire.Size), SI(c, &wire.InsulationRating), SI(c, &wire.Ambient)
	count, kind := Get(c, &wire.BundleCount), word(c, &wire.Conductor)
	table := c.result(circuit.Ampacity(size, class))
	heat, bundle := c.result(circuit.AmbientFactor(class, ambient)), c.result(circuit.BundleCountFactor(count))
	text := fmt.Sprintf("%s in free air of %s, as %s of class %s carries, x %.3g for %s x %.3g for %s", w.put(quantity.DimCurrent, table), w.celsius(30), w.size(&wire.Size),
		w.put(quantity.DimTemperature, class), heat, w.put(quantity.DimTemperature, ambient), bundle, together(count))
	if metal := metalFactor(kind); metal != 1 {
		text += fmt.Sprintf(" x %.3g for copper-clad aluminium", metal)
	}
	w.comes(table*heat*bundle*metalFactor(kind), "%s", text)
}

func together(count int) string {
	if count <= 1 {
		return "a wire alone"
	}
	return fmt.Sprintf("%d together", count)
}

func workCircuitAmpacity(w *Work) {
	wires := Items(w.Calc, &Part[schema.Circuit](w.Calc).FeedWires)
	for i := range wires {
		if r := w.session.On(&wires[i], NoPoint, "ampacity"); w.by == nil || w.Calc.number(r) < w.Calc.number(w.by[0]) {
			w.by = []*Result{r}
		}
	}
	if len(wires) == 1 {
		w.comes(w.value(), "that of its one feed wire, %s", w.size(&wires[0].Size))
		return
	}
	w.comes(w.value(), "the least of %s", w.each(wires, quantity.DimCurrent, "ampacity"))
}

// each writes a value of every wire.
func (w *Work) each(wires []schema.Wire, d quantity.Dimension, name string) string {
	text := ""
	for i := range wires {
		if i > 0 {
			text += ", "
		}
		text += w.put(d, w.ValueOn(&wires[i], NoPoint, name)) + " (" + w.size(&wires[i].Size) + ")"
	}
	return text
}

func workFuseCeiling(w *Work) {
	c := w.Calc
	wires := Items(c, &Part[schema.Circuit](c).FeedWires)
	least, at := math.Inf(1), ""
	for i := range wires {
		size := SI(c, &wires[i].Size)
		table := c.result(circuit.Ampacity(size, SI(c, &wires[i].InsulationRating))) * metalFactor(word(c, &wires[i].Conductor))
		if table < least {
			least, at = table, w.size(&wires[i].Size)
		}
	}
	w.comes(w.value(), "%.0f %% of %s, which the weakest feed wire (%s) carries in free air", 100*circuit.CFRFuseCeiling, w.put(quantity.DimCurrent, least), at)
}

func workSteadyCurrent(w *Work) {
	c, me := w.Calc, Part[schema.Circuit](w.Calc)
	circuits, parents := Items(c, &c.Design().Circuits), parentsOf(c)
	parent := make([]int, len(circuits))
	for i := range circuits {
		parent[i] = parents.of(c, i)
	}
	var terms []term
	most, when := 0.0, ""
	for _, t := range turns(c, circuits) {
		for _, p := range Points() {
			var at []term
			sum := 0.0
			for i := range circuits {
				if !descends(circuits, parent, i, me) || !runsAt(c, &circuits[i].Load.RunsAt, p) || !t.mayRun(c, circuits, i) {
					continue
				}
				amps := c.ValueOn(&circuits[i], NoPoint, "nominal_current")
				at, sum = append(at, term{circuitName(&circuits[i]), amps}), sum+amps
			}
			if sum > most {
				terms, most, when = at, sum, p.String()
			}
		}
	}
	if len(terms) == 0 {
		w.comes(0, "nothing it carries runs")
		return
	}
	w.comes(most, "%s, at %s", w.sum(quantity.DimCurrent, terms, 6), pointWords(when))
}

func pointWords(name string) string {
	if name == "full_load" {
		return "full load"
	}
	return name
}

func workConversionLoad(w *Work) {
	circuits := Items(w.Calc, &w.Design().Circuits)
	var terms []term
	for i := range circuits {
		if draws(w.Calc, &circuits[i], w.point) {
			terms = append(terms, term{circuitName(&circuits[i]), w.ValueOn(&circuits[i], NoPoint, "nominal_current")})
		}
	}
	if len(terms) == 0 {
		w.comes(0, "no circuit runs")
		return
	}
	w.comes(w.value(), "%s", w.sum(quantity.DimCurrent, terms, 6))
}

func workElectricalLoad(w *Work) {
	own, other := w.Value("conversion_load"), SI(w.Calc, &w.Design().Alternator.OtherLoad)
	terms := []term{{"of the conversion", own}, {"of the rest of the vehicle", other}}
	w.remainder(&terms, "that the converter takes beyond it", w.value())
	w.comes(w.value(), "%s", w.sum(quantity.DimCurrent, terms, 4))
}

func workChargingOutput(w *Work) {
	c, a := w.Calc, &w.Design().Alternator
	switch w.point {
	case Cranking:
		w.comes(0, "none while cranking")
		return
	case Idle:
		w.comes(w.value(), "as stated for idle, hot")
		return
	}
	cruise, rated, around := SI(c, &a.CruiseOutput), SI(c, &a.RatedOutput), SI(c, &w.Design().Climate.UnderBonnet)
	w.comes(w.value(), "the less of %s as stated and %s rated x %s in air of %s", w.put(quantity.DimCurrent, cruise), w.put(quantity.DimCurrent, rated),
		w.number(circuit.AlternatorHeatFactor(around)), w.put(quantity.DimTemperature, around))
}

func workChargingBalance(w *Work) {
	out, load := w.Value("charging_output"), w.Value("electrical_load")
	w.comes(out-load, "%s made - %s drawn", w.put(quantity.DimCurrent, out), w.put(quantity.DimCurrent, load))
}

func workVoltageDrop(w *Work) {
	feed, back := w.Value("feed_drop"), w.Value("return_drop")
	w.comes(feed+back, "%s on the way to the load + %s on the way back", w.put(quantity.DimVoltage, feed), w.put(quantity.DimVoltage, back))
}

func workLoadVoltage(w *Work) {
	supply, drop := w.ValueAt(w.point, "supply_voltage"), w.Value("voltage_drop")
	w.comes(supply-drop, "%s supply - %s lost", w.put(quantity.DimVoltage, supply), w.put(quantity.DimVoltage, drop))
}

// wireTerms are the resistances of wires in a row with their joints.
func (w *Work) wireTerms(l *schema.List[schema.Wire]) (terms []term) {
	wires, joints := Items(w.Calc, l), 0.0
	for i := range wires {
		size := w.size(&wires[i].Size)
		length := w.put(quantity.DimLength, SI(w.Calc, &wires[i].Length))
		terms = append(terms, term{"in " + length + " of " + size, w.ValueOn(&wires[i], NoPoint, "resistance")})
		joints += w.ValueOn(&wires[i], NoPoint, "joint_resistance")
	}
	if joints > 0 {
		terms = append(terms, term{"in the joints", joints})
	}
	return terms
}

// feedTerms are the resistances of the feed of a circuit.
func (w *Work) feedTerms(ct *schema.Circuit) []term {
	terms := w.wireTerms(&ct.FeedWires)
	if Fitted(w.Calc, &ct.Fuse) {
		terms = append(terms, term{"in the fuse", SI(w.Calc, &ct.Fuse.Part.Resistance)})
	}
	if Fitted(w.Calc, &ct.Relay) {
		terms = append(terms, term{"in the relay", SI(w.Calc, &ct.Relay.Part.ContactResistance)})
	}
	return terms
}

// drops tells what a circuit's own current loses in its own resistances, and
// what is lost beyond that in what it shares with others.
func (w *Work) drops(way string, terms []term, drop float64, shared string) {
	sum := 0.0
	for _, t := range terms {
		sum += t.si
	}
	w.line(way, quantity.DimResistance, sum, "%s", w.sum(quantity.DimResistance, terms, 5))
	amps := w.Value("load_current")
	w.together = []string{"load_current"}
	lost := []term{{"", amps * sum}}
	w.remainder(&lost, shared, drop)
	if len(lost) == 1 {
		w.comes(drop, "%s x %s", w.put(quantity.DimCurrent, amps), w.put(quantity.DimResistance, sum))
		return
	}
	w.comes(drop, "%s x %s + %s %s", w.put(quantity.DimCurrent, amps), w.put(quantity.DimResistance, sum), w.put(quantity.DimVoltage, lost[1].si), shared)
}

func workFeedDrop(w *Work) {
	ct := Part[schema.Circuit](w.Calc)
	w.drops("feed", w.feedTerms(ct), w.value(), "in what it shares with other circuits")
}

func workReturnDrop(w *Work) {
	ct := Part[schema.Circuit](w.Calc)
	terms := w.wireTerms(&ct.ReturnWires)
	if len(terms) == 0 {
		w.comes(w.value(), "in the ground paths to the battery, with the current of all that share them")
		return
	}
	w.drops("return", terms, w.value(), "in the ground paths to the battery, which others share")
}

func workFaultCurrent(w *Work) {
	c := w.Calc
	volts, amps := behindConverter(c, &w.Design().Battery.RestVoltage), w.value()
	ct := Part[schema.Circuit](c)
	terms := []term{{"in the battery", c.ValueOn(&w.Design().Battery, NoPoint, "resistance")}, {"in the feed", feedOhms(c, ct)}, {"in the return", wireSum(c, &ct.ReturnWires)}}
	if amps <= 0 {
		return
	}
	w.remainder(&terms, "in what it shares and the grounds", volts/amps)
	w.comes(amps, "%s / (%s)", w.put(quantity.DimVoltage, volts), w.sum(quantity.DimResistance, terms, 5))
}

func workSparkInterval(w *Work) {
	c := w.Calc
	turns := speed
	if w.entry.Name == "shortest_firing_interval" {
		turns = func(c *Calc) float64 { return SI(c, &c.Design().Engine.MaximumSpeed) }
	}
	cylinders, coils, charges := Get(c, &w.Design().Engine.Cylinders), Get(c, &Part[schema.Ignition](c).Coil.Count), chargesOf(c)
	text := ""
	if coils > 1 {
		text = fmt.Sprintf("%d coils x ", coils)
	}
	w.comes(w.value(), "%s60 / (%s x %d cylinders x %s)", text, w.put(quantity.DimRotationalSpeed, turns(c)), cylinders, w.number(charges))
}

func workDwellShare(w *Work) {
	share, seconds, timed := dwell(w.Calc)
	if !timed {
		w.comes(share, "as stated")
		return
	}
	interval := w.Value("shortest_firing_interval")
	w.comes(seconds/interval, "%s of dwell / %s between two sparks", w.put(quantity.DimTime, seconds), w.put(quantity.DimTime, interval))
}

func workCoilEnergy(w *Work) {
	name := "coil_current"
	if w.entry.Name == "coil_energy_at_maximum_speed" {
		name = "coil_current_at_maximum_speed"
	}
	henries, amps := SI(w.Calc, &Part[schema.Ignition](w.Calc).Coil.Inductance), w.Value(name)
	w.comes(henries*amps*amps/2, "%s x (%s)^2 / 2", w.put(quantity.DimInductance, henries), w.put(quantity.DimCurrent, amps))
}

func workCoilCurrent(w *Work) {
	c, i := w.Calc, Part[schema.Ignition](w.Calc)
	at, name := w.point, "firing_interval"
	if w.entry.Name == "coil_current_at_maximum_speed" {
		at, name = FullLoad, "shortest_firing_interval"
	}
	interval := c.Value(name)
	supply, lost := c.ValueOn(i, at, "coil_supply"), SI(c, &i.Coil.DriverDrop)
	volts := math.Max(supply-lost, 0)
	w.line("over coil and ballast", quantity.DimVoltage, volts, "%s - %s in the driver", w.put(quantity.DimVoltage, supply), w.put(quantity.DimVoltage, lost))
	cool, body := SI(c, &i.Coil.Resistance), SI(c, &i.Coil.BodyTemperature)
	ohms := cool * (1 + copperPerKelvin*(body-workshop))
	text := fmt.Sprintf("%s at %s x %s at %s", w.put(quantity.DimResistance, cool), w.celsius(20), w.number(ohms/cool), w.put(quantity.DimTemperature, body))
	if Fitted(c, &i.Ballast) && !(at == Cranking && Get(c, &i.Ballast.Part.BypassedInStart)) {
		ballast := SI(c, &i.Ballast.Part.Resistance)
		ohms += ballast
		text += " + " + w.put(quantity.DimResistance, ballast) + " of ballast"
	}
	w.line("resistance", quantity.DimResistance, ohms, "%s", text)
	share, seconds, timed := dwell(c)
	if !timed {
		seconds = share * interval
	}
	seconds = math.Min(seconds, interval)
	reached, limit := w.value(), math.Inf(1)
	henries := SI(c, &i.Coil.Inductance)
	if word(c, &i.Kind) != "points" {
		limit = SI(c, &i.Coil.CurrentLimit)
	}
	formula := fmt.Sprintf("%s / %s x (1 - exp(-%s x %s / %s))", w.put(quantity.DimVoltage, volts), w.put(quantity.DimResistance, ohms),
		w.put(quantity.DimTime, seconds), w.put(quantity.DimResistance, ohms), w.put(quantity.DimInductance, henries))
	if reached >= limit*(1-1e-12) {
		formula = "the driver's limit, as " + formula + " would be more"
	}
	w.comes(reached, "%s", formula)
}
