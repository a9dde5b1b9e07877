package derive

import (
	"math"

	"plumbline/engine/physics/air"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func airEntries() []Entry {
	iso := standard("ISO 1585, net power of road-vehicle engines", "state of the air")
	atmosphere := standard("US Standard Atmosphere 1976", "")
	rajput := handbook("Rajput, Internal Combustion Engines", "example 7.2")
	orifice := handbook("White, Fluid Mechanics", "section 6.12")
	return []Entry{
		{Name: "barometer", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "pressure of the outside air at the highest road",
			Formula: "standard atmosphere at the altitude",
			Needs:   needs("design.climate.altitude"), Sources: sources(atmosphere),
			Compute: func(c *Calc) any { return outside(c).Pressure }},
		{Name: "air_flow", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "volume of outside air the engine draws",
			Formula: "full load: air mass flow / 1.157 kg/m3, the air of 25 degC and 99 kPa that power is stated for; idle and cruise: air mass flow / density of the standard atmosphere at the altitude",
			Needs:   needs("at.<point>.air_mass_flow", "design.climate.altitude"),
			Sources: sources(iso, atmosphere),
			Working: workAirFlow,
			Compute: func(c *Calc) any {
				mass, density := c.Value("air_mass_flow"), air.ReferenceDensity
				if c.point != FullLoad {
					density = outside(c).Density
				}
				if c.Lacks() {
					return nil
				}
				return mass / density
			}},
		{Name: "air_mass_flow", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimMassFlow,
			Meaning: "mass of air the engine draws; at full load in the air its power is stated for",
			Formula: "full load: displacement x speed x charges per revolution x volumetric efficiency x density; natural: of outside air at 25 degC and 99 kPa; " +
				"with a compressor: of the charge at 99 kPa + boost and the charge temperature; " +
				"idle and cruise: fuel mass demand x stoichiometric ratio; not modelled while cranking",
			Needs: needs("design.engine.displacement", "design.engine.power_speed", "design.engine.charges_per_revolution", "design.engine.volumetric_efficiency", "design.engine.aspiration",
				"design.engine.boost", "design.engine.charge_temperature", "at.<point>.fuel_mass_demand", "design.fuel.stoichiometric_ratio"),
			Sources: sources(rajput, iso),
			Working: workAirMassFlow,
			Compute: func(c *Calc) any {
				if !c.notCranking("air flow") {
					return nil
				}
				if c.point != FullLoad {
					return c.Value("fuel_mass_demand") * c.ValueOn(&c.Design().Fuel, NoPoint, "stoichiometric_ratio")
				}
				e := &c.Design().Engine
				swept, n, ve := SI(c, &e.Displacement), revolutions(c), SI(c, &e.VolumetricEfficiency)
				charges, density := chargesOf(c), filling(c)
				if c.Lacks() {
					return nil
				}
				return c.result(air.ChargeFlow(swept, n, charges, ve)) * density
			}},
		{Name: "clearance_at_rest", On: "Intake", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "distance between air cleaner lid and bonnet that the change of height leaves, engine at rest; negative where the bonnet does not close",
			Formula: "old bonnet clearance + old stack height - stack height - height of the adapter",
			Needs:   needs("design.intake.old_bonnet_clearance", "design.intake.old_stack_height", "design.intake.stack_height", "design.intake.adapter.height"),
			Sources: sources(physics("geometry")),
			Compute: func(c *Calc) any {
				i := Part[schema.Intake](c)
				left := SI(c, &i.OldBonnetClearance) + SI(c, &i.OldStackHeight) - SI(c, &i.StackHeight)
				if Fitted(c, &i.Adapter) {
					left -= SI(c, &i.Adapter.Part.Height)
				}
				return left
			}},
		{Name: "cruise_filling", On: "Engine", Kind: Number,
			Meaning: "share of its swept volume that the engine fills at cruise, at the manifold's pressure",
			Formula: "air mass flow at cruise / (manifold pressure / (287 J/(kg K) x 313 K) x displacement x cruise speed x charges per revolution)",
			Needs: needs("at.cruise.air_mass_flow", "at.cruise.manifold_pressure", "design.engine.displacement", "design.engine.cruise_speed",
				"design.engine.charges_per_revolution"),
			Sources: sources(rajput, practice("charge of 40 degC in a warm manifold")),
			Compute: func(c *Calc) any {
				e := &c.Design().Engine
				mass, pressure, charges := c.ValueAt(Cruise, "air_mass_flow"), c.ValueAt(Cruise, "manifold_pressure"), c.Value("charges_per_revolution")
				swept, turns := SI(c, &e.Displacement), SI(c, &e.CruiseSpeed)/(2*math.Pi)
				if c.Lacks() {
					return nil
				}
				density := c.result(air.Density(pressure, warmAir))
				return mass / (density * swept * turns * charges)
			}},
		{Name: "throttle_drop", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure lost over the throttle",
			Formula: "full load: rated depression x (air flow / rated air flow)^2, in air of the density the rating holds for, as thinner air drops less, and no more than 0.472 of 101.3 kPa, at which it chokes; " +
				"behind a compressor the flow and density are those of the charge; idle and cruise: barometer - manifold pressure",
			Needs: needs("design.throttle_body.air_rating", "design.throttle_body.air_rating_depression", "at.<point>.air_flow", "at.<point>.air_mass_flow",
				"design.engine.aspiration", "design.throttle_body.compressor_side", "at.<point>.barometer", "at.<point>.manifold_pressure"),
			Sources: sources(orifice),
			Working: workThrottleDrop,
			Compute: throttleDrop},
		{Name: "cleaner_drop", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure lost in the openings of air cleaner and snorkel",
			Formula: "density / 2 x (air flow / (0.61 x open area))^2; full load: in air of 1.225 kg/m3, as thinner air drops less, and no more than 0.472 of 101.3 kPa, at which it chokes; idle and cruise: in air of the highest road; " +
				"the clean element itself is not counted",
			Needs:   needs("design.intake.cleaner_area", "at.<point>.air_flow", "design.climate.altitude"),
			Sources: sources(orifice),
			Compute: func(c *Calc) any {
				area, flow, density := SI(c, &c.Design().Intake.CleanerArea), c.Value("air_flow"), seaLevelDensity
				if c.point != FullLoad {
					density = outside(c).Density
				}
				if c.Lacks() {
					return nil
				}
				return c.result(air.OpeningLoss(flow, area, air.OpeningDischarge, density))
			}},
		{Name: "manifold_pressure", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "absolute pressure in the manifold; at idle and cruise the same at any altitude, at full load on the highest road",
			Formula: "idle and cruise: standard atmosphere at the altitude where the vacuum was read - vacuum, no more than the barometer and no less than 1 kPa; full load: barometer + boost, or without a compressor " +
				"barometer - (throttle drop + cleaner drop) x air density there / 1.225 kg/m3, no less than 0.528 of the barometer, at which the throttle chokes; cranking: the barometer, as the manifold is within a few kPa of it",
			Needs: needs("at.<point>.barometer", "design.engine.idle_vacuum", "design.engine.cruise_vacuum", "design.engine.vacuum_altitude", "at.<point>.throttle_drop",
				"at.<point>.cleaner_drop", "design.engine.aspiration", "design.engine.boost"),
			Sources: sources(handbook("definition of gauge vacuum", ""), atmosphere,
				practice("idle needs a fixed mass of air, so the absolute pressure of the manifold stays; the gauge loses what the barometer loses")),
			Compute: manifoldPressure},
	}
}

// seaLevelDensity is that of the standard atmosphere, in which throttle bodies
// are rated.
const seaLevelDensity = air.SeaLevelPressure / (air.GasConstant * air.SeaLevelTemperature)

// outside is the standard atmosphere at the highest road.
func outside(c *Calc) air.Atmosphere { return atmosphereAt(c, SI(c, &c.Design().Climate.Altitude)) }

func atmosphereAt(c *Calc, altitude float64) air.Atmosphere {
	if c.Lacks() {
		return air.Atmosphere{}
	}
	a, err := air.StandardAtmosphere(altitude)
	c.Unreachable(err)
	return a
}

// filling is the density of the air that the volumetric efficiency refers to,
// kg/m3, at full load in the air power is stated for.
func filling(c *Calc) float64 {
	if !boosted(c) {
		return air.ReferenceDensity
	}
	e := &c.Design().Engine
	boost, kelvin := SI(c, &e.Boost), SI(c, &e.ChargeTemperature)
	if c.Lacks() {
		return 0
	}
	return c.result(air.Density(air.ReferencePressure+boost, kelvin))
}

// throttleDrop is the loss over the throttle at the point.
func throttleDrop(c *Calc) any {
	switch c.point {
	case Cranking:
		return c.notCranking("throttle drop")
	case Idle, Cruise:
		return c.Value("barometer") - c.Value("manifold_pressure")
	}
	t := &c.Design().ThrottleBody
	rated, depression, flow := SI(c, &t.AirRating), SI(c, &t.AirRatingDepression), c.Value("air_flow")
	density := seaLevelDensity
	if behindCompressor(c) {
		mass := c.Value("air_mass_flow")
		density = filling(c)
		flow = mass / density
	}
	if c.Lacks() {
		return nil
	}
	return c.result(air.ThrottleDrop(rated, depression, seaLevelDensity, flow, density))
}

func manifoldPressure(c *Calc) any {
	switch c.point {
	case Idle, Cruise:
		read, vacuum := atmosphereAt(c, SI(c, &c.Design().Engine.VacuumAltitude)), vacuumAsRead(c)
		if c.Lacks() {
			return nil
		}
		// Nothing pushes air in: where the engine needs more than the highest road gives, its throttle stands open. A vacuum
		// deeper than the air it was read in is no reading, and the least pressure there can be shows it.
		vacuum = math.Min(vacuum, read.Pressure-leastManifold)
		return math.Min(c.result(air.ManifoldPressure(read.Pressure, vacuum)), c.Value("barometer"))
	}
	vacuum := -airAt(c, inManifold)
	there := outside(c)
	if c.point == FullLoad && !boosted(c) {
		vacuum = math.Min(vacuum*there.Density/seaLevelDensity, (1-air.CriticalRatio())*there.Pressure)
	}
	if c.Lacks() {
		return nil
	}
	return c.result(air.ManifoldPressure(there.Pressure, vacuum))
}

// leastManifold is below what any engine leaves in its manifold, Pa, a judgement.
const leastManifold = 1e3

// vacuumAsRead is the manifold's vacuum at idle or cruise, Pa, where it was read.
func vacuumAsRead(c *Calc) float64 {
	if c.point == Idle {
		return SI(c, &c.Design().Engine.IdleVacuum)
	}
	return SI(c, &c.Design().Engine.CruiseVacuum)
}

// boosted reports whether the engine has a compressor.
func boosted(c *Calc) bool {
	kind := word(c, &c.Design().Engine.Aspiration)
	return kind != "natural" && kind != ""
}
