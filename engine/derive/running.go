package derive

import (
	"math"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/fuel"
	"plumbline/engine/physics/sensor"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// correctionEntries are how far the controller's fuel is from what the engine needs.
func correctionEntries() []Entry {
	return []Entry{{Name: "fuel_correction", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
		Meaning: "share by which the controller has to add fuel to what it works out from its entries; below nothing it takes fuel away",
		Formula: "(entered flow at the pressure it is entered for / labelled flow at the pressure across the nozzle) x (air by volume of the blend entered / of the blend in the tank) x (displacement / displacement entered) " +
			"x what the sensors misread of the air x 1 / (1 - what a dead injector leaves out) + false air + opening time short / open time - fuel beside the injected / demand - 1",
		Needs: needs("design.setup.injector_flow", "design.setup.injector_flow_at", "design.setup.fuel_pressure", "design.setup.ethanol", "design.setup.displacement", "design.setup.load_signal",
			"design.throttle_body.injectors", "at.<point>.throttle_body_pressure", "design.fuel.ethanol", "design.engine.displacement", "at.<point>.fuel_demand", "at.<point>.injector_open_time"),
		Sources: sources(handbook("White, Fluid Mechanics", "section 6.12, incompressible orifice"), physics("fuel goes as the square root of the pressure across the nozzle, air by the ideal gas law"),
			handbook("US Department of Energy, Alternative Fuels Data Center, fuel property comparison", "air that a blend needs")),
		Working: workReadOff,
		Compute: fuelCorrection}}
}

func fuelCorrection(c *Calc) any {
	if !c.notCranking("fuel correction") {
		return nil
	}
	d := c.Design()
	i, e := &d.ThrottleBody.Injectors, &d.Setup
	label, test := labelFlow(c, i), SI(c, &i.TestPressure)
	rail, tip := c.Value("throttle_body_pressure"), nozzleAir(c)
	entered, at, held := SI(c, &e.InjectorFlow), word(c, &e.InjectorFlowAt), SI(c, &e.FuelPressure)
	share := SI(c, &d.Engine.Displacement) / SI(c, &e.Displacement)
	share *= airOfFuel(c, SI(c, &e.Ethanol)) / airOfFuel(c, SI(c, &d.Fuel.Ethanol))
	demand := c.Value("fuel_demand")
	if c.Lacks() {
		return nil
	}
	if rail <= tip {
		c.ruledOut("throttle_body_pressure")
		return nil
	}
	if at == "test_pressure" {
		entered = c.result(air.StaticFlow(entered, test, held))
	}
	share *= entered / c.result(air.StaticFlow(label, test, c.result(air.NozzleDrop(rail, tip))))
	share *= misread(c) / ((1 - c.fault(fuelLost)) * (1 + c.fault(falsePulses)))
	share += falseAir(c) - c.fault(rawFuel)/demand
	if late := c.fault(openingLate); late != 0 {
		share += late / c.Value("injector_open_time")
	}
	return share - 1
}

// airOfFuel is the mass of air that a volume of a blend needs, kg/m3.
func airOfFuel(c *Calc, ethanol float64) float64 {
	if c.Lacks() {
		return 1
	}
	w := c.result(fuel.EthanolMassFraction(ethanol, fuel.GasolineDensity, fuel.EthanolDensity))
	return c.result(fuel.StoichiometricAirFuel(w)) * (fuel.GasolineDensity*(1-ethanol) + fuel.EthanolDensity*ethanol)
}

// misread is the air there is over the air the controller takes there to be.
func misread(c *Calc) float64 {
	load, scale, offset := word(c, &c.Design().Setup.LoadSignal), c.fault(loadScale), c.fault(loadOffset)
	out := 1.0
	if load != "throttle_position" && (scale != 1 || offset != 0) {
		manifold := c.Value("manifold_pressure")
		out = manifold / (manifold*scale + offset)
	}
	if c.fault(airCurve) != 1 {
		a := &c.Design().Sensors.IntakeAir
		t := thermistor{curve: &a.Curve, pullUp: &a.PullUp, series: &a.SeriesResistance, at: warmAir}
		out *= t.seen(c, c.fault(airCurve)) / warmAir
	}
	return out
}

// falseAir is the air that the controller does not count, or that its oxygen sensor sees and the engine never had, as a share.
func falseAir(c *Calc) float64 {
	leak, beside := c.fault(airLeak), c.fault(exhaustAir)
	if leak == 0 && beside == 0 || c.point == FullLoad {
		return 0 // at full load both are lost in the engine's own air
	}
	here, out := c.Value("air_mass_flow"), 0.0
	if beside != 0 {
		out += beside * c.ValueAt(Idle, "air_mass_flow") / here
	}
	switch word(c, &c.Design().Setup.LoadSignal) {
	case "throttle_position":
		out += leaked(c) / here
	case "blend":
		out += leaked(c) / here / 2
	}
	return out
}

// leaked is the mass of air through the hole, kg/s.
func leaked(c *Calc) float64 {
	if c.Lacks() {
		return 0
	}
	return c.result(air.ChokedFlow(c.fault(airLeak), air.SeaLevelPressure, air.SeaLevelTemperature))
}

// seen is the temperature (K) the controller reads of a sensor with so many times the resistance of its curve.
func (t thermistor) seen(c *Calc, times float64) float64 {
	curve, pullUp, reference, series := t.readCurve(c), SI(c, t.pullUp), SI(c, &c.Design().Sensors.ReferenceVoltage), SI(c, t.series)
	if c.Lacks() {
		return t.at
	}
	ohms := c.result(curve.Resistance(t.at))
	return c.result(sensor.ReadTemperature(curve, reference, pullUp, t.at, sensor.Fault{Series: max(0, ohms*(times-1)) + series})) + t.below(c, curve, ohms, times)
}

// below is what less resistance than the curve's adds to the reading.
func (t thermistor) below(c *Calc, curve sensor.Curve, ohms, times float64) float64 {
	if times >= 1 || c.Lacks() {
		return 0
	}
	return c.result(curve.Temperature(ohms*times)) - t.at
}

// How an idle answers to air and spark, from practice: half of the air too much goes into speed, half into manifold pressure; a
// degree of late spark asks for a hundredth more charge and costs a hundredth of the speed.
const (
	idleShare    = 0.5
	lateByDegree = 0.01
)

// idleState is what a leak and a late spark make of the idle, with the idle valve held still.
func idleState(c *Calc) (speed, charge float64) {
	late := c.fault(lateSpark) * 180 / math.Pi * lateByDegree
	speed, charge = 1-late, 1+late
	if c.fault(airLeak) != 0 {
		more := math.Pow(1+leaked(c)/c.ValueAt(Idle, "air_mass_flow"), idleShare)
		speed, charge = speed*more, charge*more
	}
	return speed, charge
}

// vehicleEntries are what is read of the engine, its sensors and its fuel.
func vehicleEntries() []Entry {
	entry := func(name string, d quantity.Dimension, meaning, formula string, from []string, s []Source, read func(*Calc, *schema.Measured) any) Entry {
		return Entry{Name: name, On: "Measured", Kind: Quantity, Dimension: d, Meaning: meaning, Formula: formula, Needs: from, Sources: s, Working: workReadOff,
			Compute: func(c *Calc) any { return read(c, Part[schema.Measured](c)) }}
	}
	idle := sources(practice("half of the air too much goes into speed, half into manifold pressure; a degree of late spark costs a hundredth of both"))
	check := sources(practice("what was measured at start-up is held against what was computed"))
	return []Entry{
		entry("expected_idle_speed", quantity.DimRotationalSpeed, "warm idle speed, the idle valve held still", "idle speed as planned",
			needs("design.engine.idle_speed"), idle, func(c *Calc, _ *schema.Measured) any {
				speed, _ := idleState(c)
				return SI(c, &c.Design().Engine.IdleSpeed) * speed
			}),
		entry("expected_idle_vacuum", quantity.DimPressure, "manifold vacuum at warm idle, the idle valve held still", "idle vacuum as planned",
			needs("design.engine.idle_vacuum", "at.idle.barometer"), idle, func(c *Calc, _ *schema.Measured) any {
				_, charge := idleState(c)
				outer := atmosphereAt(c, SI(c, &c.Design().Engine.VacuumAltitude)).Pressure
				vacuum := SI(c, &c.Design().Engine.IdleVacuum)
				return outer - math.Min(outer, (outer-vacuum)*charge)
			}),
		entry("expected_opening_at_floor", quantity.DimShare, "throttle opening with the pedal on the floor", "the whole of its travel",
			needs("design.throttle_control"), sources(physics("of a thin plate that closes square to its bore all but the cosine of its angle is open")), func(c *Calc, _ *schema.Measured) any {
				return math.Acos(1-math.Min(c.fault(throttleArea), 1)) / (math.Pi / 2)
			}),
		entry("expected_timing_error", quantity.DimAngle, "timing seen less timing commanded", "none",
			needs("design.ignition.mode"), check, func(c *Calc, _ *schema.Measured) any {
				mode := &c.Design().Ignition.Mode
				if word(c, mode) == "distributor_advance" {
					c.notThere(mode.Path()) // nothing commands it
				}
				return -c.fault(lateSpark)
			}),
		entry("expected_base_timing", quantity.DimAngle, "timing at idle by the light, vacuum advance off", "that before the conversion",
			needs("design.condition.ran_before.base_timing"), check, func(c *Calc, _ *schema.Measured) any {
				return SI(c, &Require(c, &c.Design().Condition.RanBefore).BaseTiming) - c.fault(lateSpark)
			}),
		entry("expected_key_on_manifold_pressure", quantity.DimAbsolutePressure, "manifold pressure as the controller shows it with the engine still", "barometer at the shop, as measured",
			needs("design.measured.barometer"), check, func(c *Calc, m *schema.Measured) any {
				return SI(c, &m.Barometer)*c.fault(loadScale) + c.fault(loadOffset)
			}),
		entry("expected_cold_coolant_reading", quantity.DimTemperature, "coolant temperature as the controller shows it, cold soaked", "air temperature by the thermometer, read through the sensor's curve and its wiring",
			needs("design.measured.soak_temperature", "coolant.curve", "coolant.pull_up", "coolant.series_resistance", "design.sensors.reference_voltage"), thermistorSources(),
			func(c *Calc, m *schema.Measured) any {
				s := &c.Design().Sensors.Coolant
				return thermistor{curve: &s.Curve, pullUp: &s.PullUp, series: &s.SeriesResistance, at: SI(c, &m.SoakTemperature)}.seen(c, c.fault(coolantCurve))
			}),
		entry("expected_cold_air_reading", quantity.DimTemperature, "air temperature as the controller shows it, cold soaked", "air temperature by the thermometer, read through the sensor's curve and its wiring",
			needs("design.measured.soak_temperature", "intake_air.curve", "intake_air.pull_up", "intake_air.series_resistance", "design.sensors.reference_voltage"), thermistorSources(),
			func(c *Calc, m *schema.Measured) any {
				s := &c.Design().Sensors.IntakeAir
				return thermistor{curve: &s.Curve, pullUp: &s.PullUp, series: &s.SeriesResistance, at: SI(c, &m.SoakTemperature)}.seen(c, c.fault(airCurve))
			}),
		entry("expected_full_load_manifold_pressure", quantity.DimAbsolutePressure, "manifold pressure at full load of an engine without a compressor", "barometer at the shop, as measured, - throttle drop - cleaner drop",
			needs("design.measured.barometer", "at.full_load.throttle_drop", "at.full_load.cleaner_drop", "design.engine.aspiration"), check, func(c *Calc, m *schema.Measured) any {
				if boosted(c) {
					c.notThere(c.Design().Engine.Aspiration.Path())
					return nil
				}
				outer := SI(c, &m.Barometer)
				lost := c.ValueAt(FullLoad, "throttle_drop") + c.ValueAt(FullLoad, "cleaner_drop")
				return math.Max(outer-lost, air.CriticalRatio()*outer)
			}),
		entry("expected_lid_off_pressure", quantity.DimAbsolutePressure, "manifold pressure at full load with the air cleaner's lid and element off", "barometer at the shop, as measured, - throttle drop",
			needs("design.measured.barometer", "at.full_load.throttle_drop"), check, func(c *Calc, m *schema.Measured) any {
				outer := SI(c, &m.Barometer)
				return math.Max(outer-c.ValueAt(FullLoad, "throttle_drop"), air.CriticalRatio()*outer)
			}),
		entry("expected_warm_coolant_reading", quantity.DimTemperature, "coolant temperature as the controller shows it at 80 degC", "80 degC, read through the sensor's curve and its wiring",
			needs("coolant.curve", "coolant.pull_up", "coolant.series_resistance", "design.sensors.reference_voltage"), thermistorSources(),
			func(c *Calc, _ *schema.Measured) any {
				s := &c.Design().Sensors.Coolant
				return thermistor{curve: &s.Curve, pullUp: &s.PullUp, series: &s.SeriesResistance, at: warmCoolant}.seen(c, c.fault(coolantCurve))
			}),
		entry("expected_unloaded_voltage", quantity.DimVoltage, "battery voltage at fast idle with every load off", "regulated voltage",
			needs("design.alternator.regulated_voltage"), check, func(c *Calc, _ *schema.Measured) any { return SI(c, &c.Design().Alternator.RegulatedVoltage) }),
		entry("expected_hose_fuel", quantity.DimFlow, "fuel out of the regulator's reference connection", "none",
			needs("design.regulator.construction"), check, func(c *Calc, _ *schema.Measured) any {
				construction := &c.Design().Regulator.Construction
				if kind := word(c, construction); kind != "diaphragm" {
					c.notThere(construction.Path())
				}
				return c.fault(hoseFuel)
			}),
		entry("expected_cup_flow", quantity.DimFlow, "flow of one injector into a measuring glass at its test pressure", "label flow",
			needs("injectors.label_flow"), check, func(c *Calc, _ *schema.Measured) any { return labelFlow(c, &c.Design().ThrottleBody.Injectors) }),
		entry("expected_displacement_shown", quantity.DimVolume, "displacement as the controller shows it", "displacement entered",
			needs("design.setup.displacement"), check, func(c *Calc, _ *schema.Measured) any { return SI(c, &c.Design().Setup.Displacement) }),
		entry("expected_injector_flow_shown", quantity.DimFlow, "flow of one injector as the controller shows it", "injector flow entered",
			needs("design.setup.injector_flow"), check, func(c *Calc, _ *schema.Measured) any { return SI(c, &c.Design().Setup.InjectorFlow) }),
		entry("expected_pressure_shown", quantity.DimPressure, "fuel pressure entered as the controller shows it", "fuel pressure entered",
			needs("design.setup.fuel_pressure"), check, func(c *Calc, _ *schema.Measured) any { return SI(c, &c.Design().Setup.FuelPressure) }),
		entry("expected_ethanol_found", quantity.DimShare, "ethanol content of the fuel in the tank", "the highest the vehicle is filled with",
			needs("design.fuel.ethanol"), check, func(c *Calc, _ *schema.Measured) any { return SI(c, &c.Design().Fuel.Ethanol) }),
	}
}

func thermistorSources() []Source {
	return sources(handbook("Steinhart and Hart, Calibration curves for thermistors, Deep-Sea Research 15, 1968", "the curve through three points"),
		handbook("voltage divider, and the exponential law of a thermistor through two points", "any electronics text"))
}

// heldSound is the share of its pressure that a sound system loses in five minutes, from practice.
const heldSound = 0.05

// heldEntries are what is left of the fuel pressure some time after the pump stopped.
func heldEntries() []Entry {
	entry := func(name, on, meaning string, leaks ...string) Entry {
		return Entry{Name: name, On: on, Kind: Quantity, Dimension: quantity.DimShare,
			Meaning: meaning + ", as a share of that at the stop", Formula: "(1 - 5 % in five minutes)^(time waited / five minutes); none where the body bleeds down or the pump has no check valve",
			Needs:   needs("design.procedure.held_for", "design.throttle_body.bleeds_down", "design.pump.check_valve"),
			Sources: sources(practice("a sound system at a steady temperature loses some 5 percent in five minutes, and no more than 20")),
			Working: workReadOff,
			Compute: func(c *Calc) any {
				d := c.Design()
				waited, bleeds, valve := SI(c, &d.Procedure.HeldFor), Get(c, &d.ThrottleBody.BleedsDown), Get(c, &d.Pump.CheckValve)
				if c.Lacks() {
					return nil
				}
				if bleeds || !valve {
					c.notThere(d.Procedure.HeldPressure.Path())
					return nil
				}
				left := 1 - heldSound
				for _, leak := range leaks {
					left *= 1 - c.fault(leak)
				}
				return math.Pow(left, waited/300)
			}}
	}
	return []Entry{
		entry("expected_held_pressure", "Procedure", "pressure still held when the waiting time is over", checkLeak, spillLeak, tipLeak),
		entry("expected_held_feed_clamped", "Measured", "pressure still held with the feed hose clamped behind the pump", spillLeak, tipLeak),
		entry("expected_held_return_clamped", "Measured", "pressure still held with the return hose clamped", checkLeak, tipLeak),
	}
}
