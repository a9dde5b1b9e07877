package derive

import (
	"plumbline/engine/physics/air"
	"plumbline/schema/quantity"
)

func airEntries() []Entry {
	atmosphere := standard("US Standard Atmosphere 1976", "")
	rajput := handbook("Rajput, Internal Combustion Engines", "example 7.2")
	white := handbook("White, Fluid Mechanics", "section 6.12")
	return []Entry{
		{Name: "barometer", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "pressure of the outside air at the highest road",
			Formula: "standard atmosphere at the altitude",
			Needs:   needs("design.climate.altitude"), Sources: sources(atmosphere),
			Compute: func(c *Calc) any { return outside(c).Pressure }},
		{Name: "air_flow", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "volume of outside air the engine draws",
			Formula: "full load: displacement x speed / 2 x volumetric efficiency; idle and cruise: air mass flow / density of the standard atmosphere at the altitude",
			Needs: needs("design.engine.displacement", "design.engine.power_speed", "design.engine.volumetric_efficiency",
				"at.<point>.air_mass_flow", "design.climate.altitude"),
			Sources: sources(rajput, atmosphere),
			Compute: func(c *Calc) any {
				if c.point != FullLoad {
					mass, density := c.Value("air_mass_flow"), outside(c).Density
					if c.Lacks() {
						return nil
					}
					return mass / density
				}
				e := &c.Design().Engine
				swept, n, ve := SI(c, &e.Displacement), revolutions(c), SI(c, &e.VolumetricEfficiency)
				if c.Lacks() {
					return nil
				}
				return c.result(air.EngineVolumeFlow(swept, n, ve))
			}},
		{Name: "air_mass_flow", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimMassFlow,
			Meaning: "mass of air the engine draws",
			Formula: "full load: air flow x density of the standard atmosphere at the altitude; idle and cruise: fuel mass demand x stoichiometric ratio; not modelled while cranking",
			Needs:   needs("at.<point>.air_flow", "at.<point>.fuel_mass_demand", "design.fuel.stoichiometric_ratio", "design.climate.altitude"),
			Sources: sources(rajput, atmosphere),
			Compute: func(c *Calc) any {
				if !c.notCranking("air flow") {
					return nil
				}
				if c.point == FullLoad {
					return c.Value("air_flow") * outside(c).Density
				}
				return c.Value("fuel_mass_demand") * c.ValueOn(&c.Design().Fuel, NoPoint, "stoichiometric_ratio")
			}},
		{Name: "throttle_drop", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure lost over the throttle",
			Formula: "full load: rated depression x (air flow / rated air flow)^2, in air of the density the rating holds for, as thinner air drops less; idle and cruise: stated manifold vacuum",
			Needs: needs("design.throttle_body.air_rating", "design.throttle_body.air_rating_depression", "at.<point>.air_flow",
				"design.engine.idle_vacuum", "design.engine.cruise_vacuum"),
			Sources: sources(white),
			Compute: throttleDrop},
		{Name: "cleaner_drop", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure lost in the openings of air cleaner and snorkel",
			Formula: "density / 2 x (air flow / (0.61 x open area))^2, in air of 1.225 kg/m3; the clean element itself is not counted",
			Needs:   needs("design.intake.cleaner_area", "at.<point>.air_flow"),
			Sources: sources(white),
			Compute: func(c *Calc) any {
				area, flow := SI(c, &c.Design().Intake.CleanerArea), c.Value("air_flow")
				if c.Lacks() {
					return nil
				}
				return c.result(air.OpeningLoss(flow, area, air.OpeningDischarge, seaLevelDensity))
			}},
		{Name: "manifold_pressure", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "absolute pressure in the manifold",
			Formula: "barometer - manifold vacuum; full load: barometer + boost, or without a compressor barometer - throttle drop - cleaner drop; cranking: the barometer, as the manifold is within a few kPa of it",
			Needs: needs("at.<point>.barometer", "design.engine.idle_vacuum", "design.engine.cruise_vacuum", "at.<point>.throttle_drop",
				"at.<point>.cleaner_drop", "design.engine.aspiration"),
			Sources: sources(handbook("definition of gauge vacuum", "")),
			Compute: func(c *Calc) any {
				barometer, vacuum := c.Value("barometer"), manifoldVacuum(c)
				if c.Lacks() {
					return nil
				}
				return c.result(air.ManifoldPressure(barometer, vacuum))
			}},
	}
}

// seaLevelDensity is that of the standard atmosphere, in which throttle bodies
// are rated.
const seaLevelDensity = air.SeaLevelPressure / (air.GasConstant * air.SeaLevelTemperature)

// outside is the standard atmosphere at the highest road.
func outside(c *Calc) air.Atmosphere {
	altitude := SI(c, &c.Design().Climate.Altitude)
	if c.Lacks() {
		return air.Atmosphere{}
	}
	a, err := air.StandardAtmosphere(altitude)
	c.Unreachable(err)
	return a
}

// throttleDrop is the loss over the throttle at the point.
func throttleDrop(c *Calc) any {
	switch c.point {
	case Cranking:
		return c.notCranking("throttle drop")
	case Idle, Cruise:
		return manifoldVacuum(c)
	}
	t := &c.Design().ThrottleBody
	rated, depression, flow := SI(c, &t.AirRating), SI(c, &t.AirRatingDepression), c.Value("air_flow")
	if c.Lacks() {
		return nil
	}
	return c.result(air.ThrottleDrop(rated, depression, seaLevelDensity, flow, seaLevelDensity))
}

// manifoldVacuum is the pressure of the manifold below the outside air, in Pa.
func manifoldVacuum(c *Calc) float64 {
	e := &c.Design().Engine
	switch c.point {
	case Idle:
		return SI(c, &e.IdleVacuum)
	case Cruise:
		return SI(c, &e.CruiseVacuum)
	case FullLoad:
		if boosted(c) {
			return -SI(c, &e.Boost)
		}
		return c.ValueAt(FullLoad, "throttle_drop") + c.ValueAt(FullLoad, "cleaner_drop")
	}
	// While cranking the manifold is within a few kPa of the outside air.
	return 0
}

// boosted reports whether the engine has a compressor.
func boosted(c *Calc) bool {
	kind := word(c, &c.Design().Engine.Aspiration)
	return kind != "natural" && kind != ""
}
