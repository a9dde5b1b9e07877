package derive

import (
	"slices"

	"fmt"
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func workBatteryResistance(w *Work) {
	c, b := w.Calc, &w.Design().Battery
	cca, nominal := SI(c, &b.ColdCranking), SI(c, &b.SystemVoltage)
	fresh := 5.4 / cca * nominal / 12
	ohms := w.value()
	text := fmt.Sprintf("5.4 V / %s cold cranking x %s / 12 V", w.put(quantity.DimCurrent, cca), w.put(quantity.DimVoltage, nominal))
	if ratio := ohms / fresh; math.Abs(ratio-1) > 1e-9 {
		text += fmt.Sprintf(" x %s at %s at rest", w.number(ratio), w.put(quantity.DimVoltage, SI(c, &b.RestVoltage)))
		if w.entry.Name == "cold_resistance" {
			text += " and " + w.put(quantity.DimTemperature, SI(c, &w.Design().Climate.ColdAmbient))
		}
	}
	w.comes(ohms, "%s", text)
}

func workCrankingCurrent(w *Work) {
	amps, engine := SI(w.Calc, &w.Design().Battery.StarterCurrent), w.ValueOn(&w.Design().Engine, NoPoint, "cold_start_temperature")
	factor := circuit.StarterColdFactor(engine)
	w.comes(amps*factor, "%s x %s with the engine at %s", w.put(quantity.DimCurrent, amps), w.number(factor), w.put(quantity.DimTemperature, engine))
}

func workWorkshopVoltage(w *Work) {
	b := &w.Design().Battery
	w.sags(SI(w.Calc, &b.RestVoltage), SI(w.Calc, &b.StarterCurrent), w.ValueOn(b, NoPoint, "resistance"))
}

// sags tells a battery's voltage under a current.
func (w *Work) sags(rest, amps, ohms float64) {
	w.comes(sagged(rest, amps, ohms), "%s at rest - %s x %s", w.put(quantity.DimVoltage, rest), w.put(quantity.DimCurrent, amps), w.put(quantity.DimResistance, ohms))
}

func workBatteryVoltage(w *Work) {
	c, d := w.Calc, w.Design()
	if w.point == Cranking {
		w.sags(SI(c, &d.Battery.RestVoltage), c.ValueOn(&d.Battery, NoPoint, "cranking_current"), c.ValueOn(&d.Battery, NoPoint, "cold_resistance"))
		return
	}
	regulated, output := SI(c, &d.Alternator.RegulatedVoltage), c.Value("charging_output")
	drawn := drawnAt(c, regulated)
	volts := w.value()
	if drawn(regulated) <= output {
		w.comes(volts, "regulated, as the %s drawn is no more than the %s made", w.put(quantity.DimCurrent, drawn(regulated)), w.put(quantity.DimCurrent, output))
		return
	}
	w.note("drawn at the regulated voltage", "%s, more than the %s made", w.put(quantity.DimCurrent, drawn(regulated)), w.put(quantity.DimCurrent, output))
	w.comes(volts, "where the loads draw %s, which alternator and battery give", w.put(quantity.DimCurrent, drawn(volts)))
}

func workSupplyVoltage(w *Work) {
	posts, v := w.Value("battery_voltage"), converter(w.Calc)
	if v == nil {
		w.comes(posts, "that of the battery's posts")
		return
	}
	w.comes(w.value(), "the converter's %s from %s at the posts up; there are %s", w.put(quantity.DimVoltage, SI(w.Calc, &v.OutputVoltage)),
		w.put(quantity.DimVoltage, SI(w.Calc, &v.LowestInput)), w.put(quantity.DimVoltage, posts))
}

func workChargingReserve(w *Work) {
	w.comes(w.value(), "%s / 10 h", w.put(quantity.DimCharge, SI(w.Calc, &w.Design().Battery.Capacity)))
}

func workNominalCurrent(w *Work) {
	ct := Part[schema.Circuit](w.Calc)
	if roleOf(w.Calc, ct) == otherLoad {
		w.comes(w.value(), "as stated for the load")
		return
	}
	w.comes(w.value(), "the pump's curve at the setting of %s", w.put(quantity.DimPressure, SI(w.Calc, &w.Design().Regulator.Setting)))
}

func workLoadCurrent(w *Work) {
	c, ct := w.Calc, Part[schema.Circuit](w.Calc)
	amps, load := w.value(), &ct.Load
	w.together = []string{"load_voltage", "pump_voltage"}
	if !runsAt(c, &load.RunsAt, w.point) {
		w.comes(amps, "it does not run")
		return
	}
	switch r := roleOf(c, ct); {
	case r == firstPump:
		w.comes(amps, "what the pump draws at %s and %s", w.put(quantity.DimPressure, c.ValueAt(w.point, "pump_pressure")), w.put(quantity.DimVoltage, c.ValueAt(w.point, "pump_voltage")))
	case r != otherLoad:
		w.comes(amps, "what the pump draws by its curve at the %s it gets, against the pressure in the feed", w.put(quantity.DimVoltage, c.Value("load_voltage")))
	case slices.Contains([]string{"resistive", "electronic"}, word(c, &load.Kind)):
		w.comes(amps, "%s at %s, at the %s it gets", w.put(quantity.DimCurrent, SI(c, &load.Current)), w.put(quantity.DimVoltage, SI(c, &load.RatedVoltage)),
			w.put(quantity.DimVoltage, c.Value("load_voltage")))
	default:
		w.comes(amps, "as stated for the load")
	}
}

func workCircuitResistance(w *Work) {
	ct := Part[schema.Circuit](w.Calc)
	w.comes(w.value(), "%s", w.sum(quantity.DimResistance, append(w.feedTerms(ct), w.wireTerms(&ct.ReturnWires)...), 6))
}

func workSmallestWire(w *Work) {
	wires := Items(w.Calc, &Part[schema.Circuit](w.Calc).FeedWires)
	text := ""
	for i := range wires {
		if i > 0 {
			text += ", "
		}
		text += w.size(&wires[i].Size)
	}
	w.comes(w.value(), "the thinnest of %s", text)
}

func workJointResistance(w *Work) {
	joints := Items(w.Calc, &Part[schema.Wire](w.Calc).Joints)
	if len(joints) == 0 {
		w.comes(0, "it has no joints")
		return
	}
	var terms []term
	for i := range joints {
		terms = append(terms, term{"", SI(w.Calc, &joints[i].Resistance)})
	}
	w.comes(w.value(), "%s over %d joints", w.sum(quantity.DimResistance, terms, len(terms)), len(joints))
}

func workGroundResistance(w *Work) {
	c, g := w.Calc, Part[schema.Ground](w.Calc)
	ohms, joints := w.value(), SI(c, &g.JointResistance)
	w.comes(ohms, "%s in %s of %s at %s + %s in its end joints", w.put(quantity.DimResistance, ohms-joints), w.put(quantity.DimLength, SI(c, &g.Length)), w.size(&g.Size),
		w.put(quantity.DimTemperature, SI(c, &g.Ambient)), w.put(quantity.DimResistance, joints))
}

func workGroundDrop(w *Work) {
	amps, ohms := w.Value("current"), w.ValueOn(w.on, NoPoint, "resistance")
	w.comes(amps*ohms, "%s x %s", w.put(quantity.DimCurrent, amps), w.put(quantity.DimResistance, ohms))
}

// workController takes a value of the circuit that powers the controller.
func workController(w *Work) {
	circuits := Items(w.Calc, &w.Design().Circuits)
	name := map[string]string{"controller_voltage": "load_voltage", "controller_ground_offset": "return_drop"}[w.entry.Name]
	for i := range circuits {
		if word(w.Calc, &circuits[i].Purpose) == "controller_power" {
			w.comes(w.ValueOn(&circuits[i], w.point, name), "that of the circuit %s", circuitName(&circuits[i]))
		}
	}
}

func workCoilSupply(w *Work) {
	circuits := Items(w.Calc, &w.Design().Circuits)
	text := ""
	for i := range circuits {
		if word(w.Calc, &circuits[i].Purpose) != "ignition_coil" {
			continue
		}
		if text != "" {
			text += ", "
		}
		text += w.put(quantity.DimVoltage, w.ValueOn(&circuits[i], w.point, "load_voltage")) + " of " + circuitName(&circuits[i])
	}
	w.comes(w.value(), "the lowest of %s", text)
}

func workConnectorDiagonal(w *Work) {
	k := Part[schema.Connector](w.Calc)
	width, height := SI(w.Calc, &k.Width), SI(w.Calc, &k.Height)
	w.comes(math.Hypot(width, height), "sqrt((%s)^2 + (%s)^2)", w.put(quantity.DimLength, width), w.put(quantity.DimLength, height))
}

func workPassingDiagonal(w *Work) {
	name := Get(w.Calc, &Part[schema.Passage](w.Calc).LargestConnector)
	if name == "nothing" {
		w.comes(0, "no connector must pass")
		return
	}
	w.comes(w.value(), "that of %s", name)
}

func workOpenCavities(w *Work) {
	k := Part[schema.Connector](w.Calc)
	all, wired, plugged := Get(w.Calc, &k.Cavities), Get(w.Calc, &k.Wired), Get(w.Calc, &k.Plugged)
	w.comes(float64(all-wired-plugged), "%d cavities - %d wired - %d plugged", all, wired, plugged)
}

func workBend(w *Work) {
	w.comes(w.value(), "10 x %s", w.put(quantity.DimLength, SI(w.Calc, &Part[schema.Harness](w.Calc).BundleDiameter)))
}

func workOutputCurrent(w *Work) {
	c, i := w.Calc, Part[schema.Injectors](w.Calc)
	volts, ohms := behindConverter(c, &w.Design().Alternator.RegulatedVoltage), SI(c, &i.Resistance)+SI(c, &i.SeriesResistance)
	each := math.Ceil(float64(Get(c, &i.Count)) / float64(Get(c, &w.Design().Controller.InjectorOutputs)))
	w.comes(volts/ohms*each, "%s / %s x %.0f on one output", w.put(quantity.DimVoltage, volts), w.put(quantity.DimResistance, ohms), each)
}
