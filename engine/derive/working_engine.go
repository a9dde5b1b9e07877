package derive

import (
	"fmt"
	"math"
	"strings"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/exhaust"
	"plumbline/engine/physics/fuel"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// rating writes the labelled flow of one injector and returns it.
func (w *Work) rating(i *schema.Injectors) (text string, flow float64) {
	flow = labelFlow(w.Calc, i)
	if mass, ok := Try(w.Calc, &i.StaticMassFlow); ok {
		return w.put(quantity.DimMassFlow, mass.SI()) + " / " + w.put(quantity.DimDensity, fuel.GasolineDensity) + " of test liquid", flow
	}
	return w.put(quantity.DimFlow, flow), flow
}

func workFlowAtSetting(w *Work) {
	i := Part[schema.Injectors](w.Calc)
	text, _ := w.rating(i)
	w.comes(w.value(), "%s x sqrt(%s setting / %s on the label)", text, w.put(quantity.DimPressure, SI(w.Calc, &w.Design().Regulator.Setting)),
		w.put(quantity.DimPressure, SI(w.Calc, &i.TestPressure)))
}

func workInjectorFlow(w *Work) {
	c := w.Calc
	i := &w.Design().ThrottleBody.Injectors
	rail, tip, density := c.Value("throttle_body_pressure"), nozzleAir(c), c.ValueOn(&w.Design().Fuel, NoPoint, "hot_density")
	drop := c.result(air.NozzleDrop(rail, tip))
	if tip != 0 {
		w.line("pressure across the nozzle", quantity.DimPressure, drop, "%s of fuel - %s of air at the tip", w.put(quantity.DimPressure, rail), w.put(quantity.DimPressure, tip))
	}
	text, flow := w.rating(i)
	flow = c.result(air.StaticFlow(flow, SI(c, &i.TestPressure), drop))
	w.comes(c.result(air.LiquidFlow(flow, fuel.GasolineDensity, density)), "%s x sqrt(%s / %s on the label) x sqrt(%s / %s of hot fuel)", text,
		w.put(quantity.DimPressure, drop), w.put(quantity.DimPressure, SI(c, &i.TestPressure)),
		w.put(quantity.DimDensity, fuel.GasolineDensity), w.put(quantity.DimDensity, density))
}

func workInjectorDuty(w *Work) {
	count := Get(w.Calc, &w.Design().ThrottleBody.Injectors.Count)
	demand, flow := w.Value("fuel_demand"), w.Value("injector_flow")
	w.comes(demand/(float64(count)*flow), "%s needed / (%d injectors x %s)", w.put(quantity.DimFlow, demand), count, w.put(quantity.DimFlow, flow))
}

func workInjectorDriven(w *Work) {
	i := &w.Design().ThrottleBody.Injectors
	duty, dead, rate := w.Value("injector_duty"), SI(w.Calc, &i.DeadTime), SI(w.Calc, &i.PulsesPerRevolution)*revolutions(w.Calc)
	w.comes(duty+dead*rate, "%s open + %s to open and close x %s pulses a second", w.put(quantity.DimShare, duty), w.put(quantity.DimTime, dead), w.number(rate))
}

func workPulse(w *Work) {
	c := w.Calc
	i := &w.Design().ThrottleBody.Injectors
	demand, flow, count, pulses := c.Value("fuel_demand"), c.Value("injector_flow"), Get(c, &i.Count), SI(c, &i.PulsesPerRevolution)
	rate := pulses * revolutions(c)
	w.plain("pulses a second", rate, "%s in a turn x %s / 60", w.number(pulses), w.put(quantity.DimRotationalSpeed, speed(c)))
	open := demand / (float64(count) * rate * flow)
	if w.entry.Name == "injector_open_time" {
		w.comes(open, "%s needed / (%d injectors x %s a second x %s)", w.put(quantity.DimFlow, demand), count, w.number(rate), w.put(quantity.DimFlow, flow))
		return
	}
	w.line("open time", quantity.DimTime, open, "%s needed / (%d injectors x %s a second x %s)", w.put(quantity.DimFlow, demand), count, w.number(rate), w.put(quantity.DimFlow, flow))
	dead := SI(c, &i.DeadTime)
	w.comes(open+dead, "%s open + %s dead time", w.put(quantity.DimTime, open), w.put(quantity.DimTime, dead))
}

func workAirMassFlow(w *Work) {
	c, e := w.Calc, &w.Design().Engine
	if w.point != FullLoad {
		mass, ratio := c.Value("fuel_mass_demand"), c.ValueOn(&w.Design().Fuel, NoPoint, "stoichiometric_ratio")
		w.comes(mass*ratio, "%s of fuel x %s", w.put(quantity.DimMassFlow, mass), w.number(ratio))
		return
	}
	density := filling(c)
	w.comes(w.value(), "%s x %s x %s charges a turn x %s filled x %s", w.put(quantity.DimVolume, SI(c, &e.Displacement)), w.put(quantity.DimRotationalSpeed, speed(c)),
		w.number(chargesOf(c)), w.put(quantity.DimShare, SI(c, &e.VolumetricEfficiency)), w.put(quantity.DimDensity, density))
}

func workAirFlow(w *Work) {
	mass, density := w.Value("air_mass_flow"), air.ReferenceDensity
	if w.point != FullLoad {
		density = outside(w.Calc).Density
	}
	w.comes(mass/density, "%s / %s of air", w.put(quantity.DimMassFlow, mass), w.put(quantity.DimDensity, density))
}

func workThrottleDrop(w *Work) {
	c := w.Calc
	if w.point != FullLoad {
		outer, inner := c.Value("barometer"), c.Value("manifold_pressure")
		w.comes(outer-inner, "%s outside - %s in the manifold", w.put(quantity.DimAbsolutePressure, outer), w.put(quantity.DimAbsolutePressure, inner))
		return
	}
	t := &w.Design().ThrottleBody
	rated, depression, flow, density := SI(c, &t.AirRating), SI(c, &t.AirRatingDepression), c.Value("air_flow"), seaLevelDensity
	text := ""
	if behindCompressor(c) {
		mass := c.Value("air_mass_flow")
		density = filling(c)
		flow = mass / density
		text = " x " + w.number(density/seaLevelDensity) + " for denser air"
	}
	drop := w.value()
	if free := depression * math.Pow(flow/rated, 2) * density / seaLevelDensity; drop < free*(1-1e-9) {
		w.comes(drop, "the most air can drop before it chokes, as %s x (%s / %s)^2%s is more", w.put(quantity.DimPressure, depression), w.put(quantity.DimFlow, flow), w.put(quantity.DimFlow, rated), text)
		return
	}
	w.comes(drop, "%s of the rating x (%s drawn / %s rated)^2%s", w.put(quantity.DimPressure, depression), w.put(quantity.DimFlow, flow), w.put(quantity.DimFlow, rated), text)
}

func workTransportDelay(w *Work) {
	c, s := w.Calc, Part[schema.OxygenSensor](w.Calc)
	volume, share := volumeToSensor(c, s), seenShare(c, s)
	airMass, fuelMass := c.ValueAt(w.point, "air_mass_flow"), c.ValueAt(w.point, "fuel_mass_demand")
	pressure := air.ReferencePressure
	if w.point != FullLoad {
		pressure = c.ValueAt(w.point, "barometer")
	}
	mass := c.result(exhaust.MassFlow(airMass*share, airMass/fuelMass))
	flow := c.result(exhaust.VolumeFlow(mass, gasTemperature(w.point), pressure))
	text := fmt.Sprintf("%s of air + %s of fuel", w.put(quantity.DimMassFlow, airMass), w.put(quantity.DimMassFlow, fuelMass))
	if share != 1 {
		text = "(" + text + ") x " + w.number(share) + " that passes the sensor"
	}
	w.line("exhaust", quantity.DimMassFlow, mass, "%s", text)
	w.line("gas", quantity.DimFlow, flow, "%s at %s and %s", w.put(quantity.DimMassFlow, mass), w.put(quantity.DimTemperature, gasTemperature(w.point)),
		w.put(quantity.DimAbsolutePressure, pressure))
	bore := w.put(quantity.DimLength, SI(c, &w.Design().Exhaust.PipeBore))
	if word(c, &s.Sees) == "one_cylinder" {
		w.line("way to the sensor", quantity.DimVolume, volume, "%s of its pipe, bore %s", w.put(quantity.DimLength, SI(c, &s.DistanceFromPort)), bore)
	} else {
		w.line("way to the sensor", quantity.DimVolume, volume, "the larger of manifold %s + %s of pipe, and %s of pipe from the nearest port; bore %s",
			w.put(quantity.DimVolume, SI(c, &w.Design().Exhaust.ManifoldVolume)), w.put(quantity.DimLength, max(0, SI(c, &s.DistanceAfterMerge))),
			w.put(quantity.DimLength, SI(c, &s.DistanceFromPort)), bore)
	}
	w.comes(volume/flow, "%s / %s", w.put(quantity.DimVolume, volume), w.put(quantity.DimFlow, flow))
}

func workBundle(w *Work) {
	p := Part[schema.Passage](w.Calc)
	if _, measured := Try(w.Calc, &p.BundleDiameter); measured {
		w.comes(w.value(), "as stated")
		return
	}
	items := Items(w.Calc, &p.Wires)
	var parts []string
	total := 0
	for i := range items {
		n := Get(w.Calc, &items[i].Count)
		total += n
		parts = append(parts, fmt.Sprintf("%d x (%s)^2", n, w.put(quantity.DimLength, SI(w.Calc, &items[i].OutsideDiameter))))
	}
	factor := "1.2 x "
	if total == 1 {
		factor = ""
	}
	w.comes(w.value(), "%ssqrt(%s)", factor, strings.Join(parts, " + "))
}

func workHoleNeeded(w *Work) {
	c, p := w.Calc, Part[schema.Passage](w.Calc)
	bundle, diagonal, lining := c.Value("bundle"), c.Value("connector_diagonal"), word(c, &p.Lining)
	grommet, with := 0.0, ""
	if lining == "grommet" || lining == "split_grommet" {
		grommet = math.Max(SI(c, &p.Hole)-SI(c, &p.GrommetBore), 0)
		with = " + " + w.put(quantity.DimLength, grommet) + " of grommet"
	}
	wires := bundle + grommet + bundleClearance
	w.line("for the wires", quantity.DimLength, wires, "bundle %s%s + %s of clearance", w.put(quantity.DimLength, bundle), with, w.put(quantity.DimLength, bundleClearance))
	if diagonal <= 0 {
		w.comes(wires, "no connector must pass")
		return
	}
	plug := diagonal + connectorClearance
	if lining == "grommet" {
		plug += grommet
	} else {
		with = ""
	}
	w.line("for the connector", quantity.DimLength, plug, "diagonal %s%s + %s of clearance", w.put(quantity.DimLength, diagonal), with, w.put(quantity.DimLength, connectorClearance))
	w.comes(math.Max(wires, plug), "the larger of %s and %s", w.put(quantity.DimLength, wires), w.put(quantity.DimLength, plug))
}
