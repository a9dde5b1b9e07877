package derive

import (
	"fmt"
	"math"
	"strings"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/fluid"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// workRunLoss tells the friction of one run by its kind.
func workRunLoss(w *Work) {
	c, r := w.Calc, Part[schema.Run](w.Calc)
	flow, loss := runFlow(c, r), w.value()
	put := func(si float64) string { return w.put(quantity.DimFlow, si) }
	kind := word(c, &r.Kind)
	if kind == "filter" {
		drop, rated := SI(c, &r.Filter.RatedDrop), SI(c, &r.Filter.RatedFlow)
		w.comes(loss, "%s when rated x (%s / %s)^2", w.put(quantity.DimPressure, drop), put(flow), put(rated))
		return
	}
	element, ok := runElement(c, r)
	if !ok || element.Bore <= 0 || flow == 0 {
		w.comes(loss, "it costs nothing at %s", put(flow))
		return
	}
	density := c.ValueOn(&w.Design().Fuel, NoPoint, "hot_density")
	speed := flow / (math.Pi / 4 * element.Bore * element.Bore)
	head := density * speed * speed / 2
	w.line("speed", quantity.DimVelocity, speed, "%s through a bore of %s", put(flow), w.put(quantity.DimLength, element.Bore))
	w.line("pressure of that speed", quantity.DimPressure, head, "%s x (%s)^2 / 2", w.put(quantity.DimDensity, density), w.put(quantity.DimVelocity, speed))
	if element.Kind == fluid.Pipe {
		w.comes(loss, "friction factor %s x %s / %s x %s", w.number(loss/head*element.Bore/element.Length), w.put(quantity.DimLength, element.Length),
			w.put(quantity.DimLength, element.Bore), w.put(quantity.DimPressure, head))
		return
	}
	w.comes(loss, "loss coefficient %s (%d x %s) x %s", w.number(loss/head), element.Count, strings.ReplaceAll(word(c, &r.Fitting), "_", " "), w.put(quantity.DimPressure, head))
}

func workRunVelocity(w *Work) {
	r := Part[schema.Run](w.Calc)
	w.comes(w.value(), "%s / (pi / 4 x (%s)^2)", w.put(quantity.DimFlow, runFlow(w.Calc, r)), w.put(quantity.DimLength, SI(w.Calc, &r.Bore)))
}

func workSuctionLoss(w *Work) {
	loss := w.value()
	var terms []term
	if Fitted(w.Calc, &w.Design().Suction) {
		runs := Items(w.Calc, &w.Design().Suction.Part.Runs)
		for i := range runs {
			terms = append(terms, term{"in " + runName(&runs[i], i), w.ValueOn(&runs[i], w.point, "loss")})
		}
	}
	w.remainder(&terms, "in the strainer", loss)
	if len(terms) == 0 {
		w.comes(loss, "nothing in the way")
		return
	}
	w.comes(loss, "%s, at %s", w.sum(quantity.DimPressure, terms, 5), w.put(quantity.DimFlow, w.Value("pump_flow")))
}

func workPumpCurrent(w *Work) {
	w.comes(w.value(), "its curve at %s, moved from %s to %s", w.put(quantity.DimPressure, w.Value("pump_pressure")),
		w.put(quantity.DimVoltage, SI(w.Calc, &w.Design().Pump.CurveVoltage)), w.put(quantity.DimVoltage, w.Value("pump_voltage")))
}

func workEngineFlow(w *Work) {
	if w.point == Cranking {
		w.comes(w.value(), "neglected while cranking")
		return
	}
	flow, demand := w.value(), w.Value("fuel_demand")
	if flow < demand*(1-1e-9) {
		w.comes(flow, "less than the %s needed, as the pump starves", w.put(quantity.DimFlow, demand))
		return
	}
	w.comes(demand, "the fuel demand")
}

func workBarometer(w *Work) {
	w.comes(w.value(), "standard atmosphere at %s", w.put(quantity.DimLength, SI(w.Calc, &w.Design().Climate.Altitude)))
}

func workManifoldPressure(w *Work) {
	c, e := w.Calc, &w.Design().Engine
	inner := w.value()
	switch w.point {
	case Cranking:
		w.comes(inner, "the barometer, as hardly any air is drawn")
		return
	case Idle, Cruise:
		read, vacuum := atmosphereAt(c, SI(c, &e.VacuumAltitude)).Pressure, vacuumAsRead(c)
		text := fmt.Sprintf("%s of air where the vacuum was read - %s of vacuum", w.put(quantity.DimAbsolutePressure, read), w.put(quantity.DimPressure, vacuum))
		if math.Abs(read-vacuum-inner) > 1 {
			text += ", held between 1 kPa and the barometer"
		}
		w.comes(inner, "%s", text)
		return
	}
	outer := c.Value("barometer")
	if boosted(c) {
		w.comes(inner, "%s of air + %s of boost", w.put(quantity.DimAbsolutePressure, outer), w.put(quantity.DimPressure, inner-outer))
		return
	}
	w.comes(inner, "%s of air - %s lost over cleaner and throttle in thinner air", w.put(quantity.DimAbsolutePressure, outer), w.put(quantity.DimPressure, outer-inner))
}

func workCleanerDrop(w *Work) {
	c := w.Calc
	area, flow, density := SI(c, &w.Design().Intake.CleanerArea), c.Value("air_flow"), seaLevelDensity
	if w.point != FullLoad {
		density = outside(c).Density
	}
	w.comes(w.value(), "%s / 2 x (%s / (0.61 x %s))^2", w.put(quantity.DimDensity, density), w.put(quantity.DimFlow, flow), w.put(quantity.DimArea, area))
}

func workMeanPressure(w *Work) {
	e := Part[schema.Engine](w.Calc)
	w.comes(w.value(), "%s / (%s x %s x %s charges a turn)", w.put(quantity.DimPower, SI(w.Calc, &e.Power)), w.put(quantity.DimVolume, SI(w.Calc, &e.Displacement)),
		w.put(quantity.DimRotationalSpeed, SI(w.Calc, &e.PowerSpeed)), w.number(w.Value("charges_per_revolution")))
}

func workPowerAtAltitude(w *Work) {
	power, there := w.Value("crank_power"), w.value()
	w.comes(there, "%s x %s for the air at %s", w.put(quantity.DimPower, power), w.number(there/power), w.put(quantity.DimLength, SI(w.Calc, &w.Design().Climate.Altitude)))
}

func workImpliedLambda(w *Work) {
	mass, burnt := w.ValueAt(FullLoad, "air_mass_flow"), w.ValueAt(FullLoad, "fuel_mass_demand")
	ratio := w.ValueOn(&w.Design().Fuel, NoPoint, "stoichiometric_ratio")
	w.comes(mass/(burnt*ratio), "%s of air / (%s of fuel x %s)", w.put(quantity.DimMassFlow, mass), w.put(quantity.DimMassFlow, burnt), w.number(ratio))
}

func workBrakeEfficiency(w *Work) {
	e := Part[schema.Engine](w.Calc)
	consumption, heat := SI(w.Calc, &e.SpecificConsumption), heatingValue(w.Calc, SI(w.Calc, &e.ConsumptionEthanol))
	w.comes(1/(consumption*heat), "1 / (%s x %s)", w.put(quantity.DimSpecificConsumption, consumption), w.put(quantity.DimHeatingValue, heat))
}

func workFourStroke(w *Work) {
	e, charges := Part[schema.Engine](w.Calc), w.Value("charges_per_revolution")
	if w.entry.Name == "four_stroke_cylinders" {
		w.comes(w.value(), "%d cylinders x 2 x %s charges a turn", Get(w.Calc, &e.Cylinders), w.number(charges))
		return
	}
	w.comes(w.value(), "%s x 2 x %s charges a turn", w.put(quantity.DimVolume, SI(w.Calc, &e.Displacement)), w.number(charges))
}

func workIdleVacuum(w *Work) {
	outer, inner := air.SeaLevelPressure, w.ValueAt(Idle, "manifold_pressure")
	if w.entry.Name == "idle_vacuum_at_altitude" {
		outer = w.ValueAt(Idle, "barometer")
	}
	w.comes(max(0, outer-inner), "%s of air - %s in the manifold", w.put(quantity.DimAbsolutePressure, outer), w.put(quantity.DimAbsolutePressure, inner))
}

func workOpenEnd(w *Work) {
	w.comes(w.value(), "%s / %s of bore", w.put(quantity.DimLength, SI(w.Calc, &Part[schema.OxygenSensor](w.Calc).DistanceToOpenEnd)),
		w.put(quantity.DimLength, SI(w.Calc, &w.Design().Exhaust.PipeBore)))
}

func workLabelFlow(w *Work) {
	text, flow := w.rating(Part[schema.Injectors](w.Calc))
	w.comes(flow, "%s", text)
}

func workDrivenAtMaximum(w *Work) {
	c, i := w.Calc, Part[schema.Injectors](w.Calc)
	duty, dead := c.ValueAt(FullLoad, "injector_duty"), SI(c, &i.DeadTime)
	rate := SI(c, &i.PulsesPerRevolution) * SI(c, &w.Design().Engine.MaximumSpeed) / (2 * math.Pi)
	w.comes(duty+dead*rate, "%s open + %s to open and close x %s pulses a second", w.put(quantity.DimShare, duty), w.put(quantity.DimTime, dead), w.number(rate))
}

func workSoakMargin(w *Work) {
	outer, margin := w.ValueAt(Idle, "barometer"), w.value()
	w.comes(margin, "%s of air - %s at which fuel of %s boils", w.put(quantity.DimAbsolutePressure, outer), w.put(quantity.DimAbsolutePressure, outer-margin),
		w.put(quantity.DimTemperature, SI(w.Calc, &Part[schema.ThrottleBody](w.Calc).HotSoakFuel)))
}

func workClearanceAtRest(w *Work) {
	c, i := w.Calc, Part[schema.Intake](w.Calc)
	terms := []term{{"with the old stack", SI(c, &i.OldBonnetClearance)}, {"of old stack", SI(c, &i.OldStackHeight)}, {"of new stack", -SI(c, &i.StackHeight)}}
	if Fitted(c, &i.Adapter) {
		terms = append(terms, term{"of adapter", -SI(c, &i.Adapter.Part.Height)})
	}
	w.comes(w.value(), "%s", w.sum(quantity.DimLength, terms, 4))
}
