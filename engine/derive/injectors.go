package derive

import (
	"plumbline/engine/physics/air"
	"plumbline/schema/quantity"
)

func injectorEntries() []Entry {
	white := handbook("White, Fluid Mechanics", "section 6.12, incompressible orifice")
	massBalance := practice("mass balance over one injection; dead time added")
	return []Entry{
		{Name: "injector_flow", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "flow of one injector held open, at the real pressure across it",
			Formula: "static flow x sqrt(pressure across the nozzle / test pressure); above the throttle the pressure across is the throttle-body pressure, below it manifold vacuum adds; a mass rating is divided by the density of the hot fuel",
			Needs: needs("design.throttle_body.injectors.static_flow or static_mass_flow", "design.throttle_body.injectors.test_pressure",
				"design.throttle_body.injectors.location", "at.<point>.throttle_body_pressure", "at.<point>.manifold_pressure"),
			Sources: sources(white),
			Compute: injectorFlow},
		{Name: "injector_duty", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "share of the time the injectors must be open; above 100 % they are too small",
			Formula: "fuel demand / (number of injectors x injector flow); opening time is not counted",
			Needs:   needs("at.<point>.fuel_demand", "at.<point>.injector_flow", "design.throttle_body.injectors.count"),
			Sources: sources(massBalance),
			Compute: func(c *Calc) any {
				demand, flow, count := c.Value("fuel_demand"), c.Value("injector_flow"), Get(c, &c.Design().ThrottleBody.Injectors.Count)
				if c.Lacks() {
					return nil
				}
				return c.result(air.InjectorDuty(demand, count, flow))
			}},
		{Name: "injector_pulse", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "length of one injector pulse, dead time included",
			Formula: "fuel demand / (number of injectors x pulses per second x injector flow) + dead time",
			Needs: needs("at.<point>.fuel_demand", "at.<point>.injector_flow", "design.throttle_body.injectors.count",
				"design.throttle_body.injectors.pulses_per_revolution", "design.throttle_body.injectors.dead_time", "design.engine.idle_speed"),
			Sources: sources(massBalance),
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
			Compute: func(c *Calc) any { return pulse(c, 0) }},
		{Name: "regulator_flow_error", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "injector flow against what it would be with the regulator referenced to the pressure at the injector tips, less 1",
			Formula: "above the throttle, manifold reference: sqrt((setting - vacuum) / setting) - 1; below it, atmospheric reference: sqrt((setting + vacuum) / setting) - 1; else 0",
			Needs: needs("design.regulator.setting", "design.regulator.reference", "design.regulator.construction",
				"design.throttle_body.injectors.location", "at.<point>.manifold_pressure"),
			Sources: sources(white),
			Compute: regulatorFlowError},
	}
}

// injectorFlow scales the rating, by volume or by mass, to the real pressure.
func injectorFlow(c *Calc) any {
	i := &c.Design().ThrottleBody.Injectors
	volume, byVolume := Try(c, &i.StaticFlow)
	mass, byMass := Try(c, &i.StaticMassFlow)
	rating := volume.SI()
	switch {
	case byVolume && byMass:
		c.unreachable("state static_flow or static_mass_flow, not both")
	case byMass:
		rating = mass.SI() / c.ValueOn(&c.Design().Fuel, NoPoint, "hot_density")
	case !byVolume:
		c.Miss(i.StaticFlow.Path())
	}
	test, rail, location := SI(c, &i.TestPressure), c.Value("throttle_body_pressure"), word(c, &i.Location)
	tip := air.SeaLevelPressure
	if location == "below_throttle" {
		tip -= manifoldVacuum(c)
	}
	if c.Lacks() {
		return nil
	}
	// Only the difference of barometer and tip matters, so any barometer serves.
	drop := c.result(air.NozzleDrop(rail, air.SeaLevelPressure, tip))
	if c.Lacks() {
		return nil
	}
	return c.result(air.StaticFlow(rating, test, drop))
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

func regulatorFlowError(c *Calc) any {
	d := c.Design()
	setting, location, construction := SI(c, &d.Regulator.Setting), word(c, &d.ThrottleBody.Injectors.Location), word(c, &d.Regulator.Construction)
	// A regulator with its spring at the outlet has no chamber to connect.
	reference := "atmosphere"
	if construction == "diaphragm" {
		reference = word(c, &d.Regulator.Reference)
	}
	if c.Lacks() {
		return nil
	}
	const barometer = air.SeaLevelPressure
	switch reference {
	case "atmosphere", "unconnected", "air_cleaner", "throttle_inlet":
		if location == "above_throttle" {
			return 0.0
		}
		manifold := barometer - manifoldVacuum(c)
		if c.Lacks() {
			return nil
		}
		return c.result(air.UnreferencedFlowRatio(setting, barometer, manifold)) - 1
	case "manifold_vacuum":
		if location == "below_throttle" {
			return 0.0
		}
		manifold := barometer - manifoldVacuum(c)
		if c.Lacks() {
			return nil
		}
		return c.result(air.ReferencedFlowRatio(setting, barometer, manifold, barometer)) - 1
	}
	c.unreachable("what the regulator sees at %s is not known: connect it to the atmosphere or to full manifold vacuum", reference)
	return nil
}
