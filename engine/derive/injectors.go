package derive

import (
	"math"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/fuel"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func injectorEntries() []Entry {
	orifice := handbook("White, Fluid Mechanics", "section 6.12, incompressible orifice")
	label := practice("labels hold for a test liquid near petrol, 745 kg/m3 at 15 degC")
	massBalance := practice("mass balance over one injection; dead time added")
	return []Entry{
		{Name: "injector_flow", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "flow of one injector held open, of hot fuel at the real pressure across it",
			Formula: "static flow x sqrt(pressure across the nozzle / test pressure) x sqrt(745 kg/m3 / density of the hot fuel); a mass rating is divided by 745 kg/m3 first; " +
				"pressure across: throttle-body pressure - air pressure at the tip: outside air above the throttle, the manifold below it, boost behind a compressor",
			Needs: needs("design.throttle_body.injectors.static_flow or static_mass_flow", "design.throttle_body.injectors.test_pressure",
				"design.throttle_body.injectors.location", "design.throttle_body.compressor_side", "design.engine.aspiration", "design.engine.boost",
				"design.regulator.reference", "at.<point>.throttle_body_pressure", "at.<point>.barometer", "at.<point>.manifold_pressure", "at.<point>.throttle_drop", "at.<point>.cleaner_drop", "design.fuel.hot_density"),
			Sources: sources(orifice, label),
			Working: workInjectorFlow,
			Compute: injectorFlow},
		{Name: "injector_duty", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "share of the time the injectors must be open; above 100 % they are too small",
			Formula: "fuel demand / (number of injectors x injector flow); opening time is not counted, see injector_driven",
			Needs:   needs("at.<point>.fuel_demand", "at.<point>.injector_flow", "design.throttle_body.injectors.count"),
			Sources: sources(massBalance),
			Working: workInjectorDuty,
			Compute: func(c *Calc) any {
				demand, flow, count := c.Value("fuel_demand"), c.Value("injector_flow"), Get(c, &c.Design().ThrottleBody.Injectors.Count)
				if c.Lacks() {
					return nil
				}
				return c.result(air.InjectorDuty(demand, count, flow))
			}},
		{Name: "injector_driven", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "share of the time the injectors are driven, opening time counted; at 1 they never close, above it the fuel does not get through",
			Formula: "injector duty + dead time x pulses per second",
			Needs: needs("at.<point>.injector_duty", "design.throttle_body.injectors.dead_time", "design.throttle_body.injectors.pulses_per_revolution",
				"design.engine.cranking_speed", "design.engine.idle_speed", "design.engine.cruise_speed", "design.engine.power_speed"),
			Sources: sources(massBalance),
			Working: workInjectorDriven,
			Compute: func(c *Calc) any {
				i := &c.Design().ThrottleBody.Injectors
				duty, dead, rate := c.Value("injector_duty"), SI(c, &i.DeadTime), SI(c, &i.PulsesPerRevolution)*revolutions(c)
				if c.Lacks() {
					return nil
				}
				return c.result(air.InjectorDriven(duty, rate, dead))
			}},
		{Name: "driven_at_maximum_speed", On: "Injectors", Dimension: quantity.DimShare,
			Meaning: "share of the time the injectors are driven at the highest speed, with the fuel of rated power, which is the most it can be there",
			Formula: "injector duty at full load + dead time x pulses per revolution x maximum speed",
			Needs: needs("at.full_load.injector_duty", "design.throttle_body.injectors.dead_time", "design.throttle_body.injectors.pulses_per_revolution",
				"design.engine.maximum_speed"),
			Sources: sources(massBalance),
			Working: workDrivenAtMaximum,
			Compute: func(c *Calc) any {
				i := Part[schema.Injectors](c)
				duty, dead := c.ValueAt(FullLoad, "injector_duty"), SI(c, &i.DeadTime)
				rate := SI(c, &i.PulsesPerRevolution) * SI(c, &c.Design().Engine.MaximumSpeed) / (2 * math.Pi)
				if c.Lacks() {
					return nil
				}
				return c.result(air.InjectorDriven(duty, rate, dead))
			}},
		{Name: "label_flow", On: "Injectors", Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "labelled flow of one injector by volume, at its test pressure",
			Formula: "static flow as stated; a mass rating / 745 kg/m3",
			Needs:   needs("design.throttle_body.injectors.static_flow or static_mass_flow"),
			Sources: sources(label),
			Working: workLabelFlow,
			Compute: func(c *Calc) any { return labelFlow(c, Part[schema.Injectors](c)) }},
		{Name: "flow_at_setting", On: "Injectors", Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "labelled flow of one injector brought to the regulator's setting: what a controller without its own correction is told",
			Formula: "static flow x sqrt(setting / test pressure); a mass rating is divided by 745 kg/m3 first",
			Needs: needs("design.throttle_body.injectors.static_flow or static_mass_flow", "design.throttle_body.injectors.test_pressure",
				"design.regulator.setting"),
			Sources: sources(orifice, label),
			Working: workFlowAtSetting,
			Compute: func(c *Calc) any {
				i := Part[schema.Injectors](c)
				rating, test, setting := labelFlow(c, i), SI(c, &i.TestPressure), SI(c, &c.Design().Regulator.Setting)
				if c.Lacks() {
					return nil
				}
				return c.result(air.StaticFlow(rating, test, setting))
			}},
		{Name: "output_current", On: "Injectors", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current one injector output carries where only the coils limit it",
			Formula: "regulated voltage, or the converter's output where the vehicle is of another voltage, / (coil resistance + series resistance) x injectors for each output, rounded up; resistance at 20 degC, as coils are cold at the start",
			Needs: needs("design.alternator.regulated_voltage", "design.battery.system_voltage", "design.battery.converter", "design.throttle_body.injectors.resistance", "design.throttle_body.injectors.series_resistance",
				"design.throttle_body.injectors.count", "design.controller.injector_outputs"),
			Sources: sources(handbook("Ohm's law", "")),
			Working: workOutputCurrent,
			Compute: func(c *Calc) any {
				i := Part[schema.Injectors](c)
				volts, ohms := behindConverter(c, &c.Design().Alternator.RegulatedVoltage), SI(c, &i.Resistance)+SI(c, &i.SeriesResistance)
				count, outputs := Get(c, &i.Count), Get(c, &c.Design().Controller.InjectorOutputs)
				if c.Lacks() {
					return nil
				}
				return volts / ohms * math.Ceil(float64(count)/float64(outputs))
			}},
		{Name: "injector_pulse", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "length of one injector pulse, dead time included",
			Formula: "fuel demand / (number of injectors x pulses per second x injector flow) + dead time",
			Needs: needs("at.<point>.fuel_demand", "at.<point>.injector_flow", "design.throttle_body.injectors.count",
				"design.throttle_body.injectors.pulses_per_revolution", "design.throttle_body.injectors.dead_time", "design.engine.idle_speed"),
			Sources: sources(massBalance),
			Working: workPulse,
			Compute: func(c *Calc) any {
				dead := SI(c, &c.Design().ThrottleBody.Injectors.DeadTime)
				return pulse(c, dead)
			}},
		{Name: "injector_open_time", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "part of the injector pulse in which fuel flows",
			Formula: "fuel demand / (number of injectors x pulses per second x injector flow)",
			Needs: needs("at.<point>.fuel_demand", "at.<point>.injector_flow", "design.throttle_body.injectors.count",
				"design.throttle_body.injectors.pulses_per_revolution", "design.engine.idle_speed"),
			Sources: sources(massBalance),
			Working: workPulse,
			Compute: func(c *Calc) any { return pulse(c, 0) }},
		{Name: "regulator_flow_error", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "injector flow against what it would be with the regulator referenced to the pressure at the injector tips, less 1",
			Formula: "sqrt((setting + air pressure the regulator sees - air pressure at the tips) / setting) - 1, both against the outside air",
			Needs: needs("design.regulator.setting", "design.regulator.reference", "design.regulator.construction", "design.throttle_body.injectors.location",
				"design.throttle_body.compressor_side", "design.engine.aspiration", "design.engine.boost", "at.<point>.barometer", "at.<point>.manifold_pressure",
				"at.<point>.throttle_drop", "at.<point>.cleaner_drop"),
			Sources: sources(orifice),
			Compute: func(c *Calc) any {
				setting, reference, tip := SI(c, &c.Design().Regulator.Setting), airAt(c, referencePlace(c)), nozzleAir(c)
				if c.Lacks() {
					return nil
				}
				return c.result(air.ReferenceFlowRatio(setting, reference, tip)) - 1
			}},
	}
}

// labelFlow is the rating of one injector by volume; a mass rating is that of
// the test liquid.
func labelFlow(c *Calc, i *schema.Injectors) float64 {
	volume, byVolume := Try(c, &i.StaticFlow)
	mass, byMass := Try(c, &i.StaticMassFlow)
	switch {
	case byVolume && byMass:
		c.unreachable("state static_flow or static_mass_flow, not both")
	case byMass:
		return mass.SI() / fuel.GasolineDensity
	case !byVolume:
		c.Miss(i.StaticFlow.Path())
	}
	return volume.SI()
}

// injectorFlow brings the rating to the real pressure and the hot fuel.
func injectorFlow(c *Calc) any {
	i := &c.Design().ThrottleBody.Injectors
	rating, test, rail, tip := labelFlow(c, i), SI(c, &i.TestPressure), c.Value("throttle_body_pressure"), nozzleAir(c)
	density := c.ValueOn(&c.Design().Fuel, NoPoint, "hot_density")
	if c.Lacks() {
		return nil
	}
	if rail <= 0 {
		c.ruledOut("throttle_body_pressure")
		return nil
	}
	drop := c.result(air.NozzleDrop(rail, tip))
	if c.Lacks() {
		return nil
	}
	flow := c.result(air.StaticFlow(rating, test, drop))
	return c.result(air.LiquidFlow(flow, fuel.GasolineDensity, density))
}

// pulse is the length of one injection with a dead time.
func pulse(c *Calc, dead float64) any {
	i := &c.Design().ThrottleBody.Injectors
	demand, flow, count := c.Value("fuel_demand"), c.Value("injector_flow"), Get(c, &i.Count)
	rate := SI(c, &i.PulsesPerRevolution) * revolutions(c)
	if c.Lacks() {
		return nil
	}
	return c.result(air.PulseWidth(demand, count, rate, flow, dead))
}
