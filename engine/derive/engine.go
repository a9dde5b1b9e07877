package derive

import (
	"math"

	"plumbline/engine/physics/air"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// What is left of a power that was not measured at the crankshaft of the engine
// as it sits in the vehicle. Each is the careful end of what the trade counts
// on: the most power, and so the most fuel.
const ()

// chargesOf is how often a cylinder of the engine draws in a turn.
func chargesOf(c *Calc) float64 {
	return c.ValueOn(&c.Design().Engine, NoPoint, "charges_per_revolution")
}

func engineEntries() []Entry {
	iso := standard("ISO 1585, net power of road-vehicle engines", "correction for spark-ignition engines; 0.93 to 1.07, an estimate beyond")
	atmosphere := standard("US Standard Atmosphere 1976", "")
	definition := handbook("internal combustion engine text, definition of brake thermal efficiency", "")
	gas := handbook("isentropic compression of an ideal gas", "any thermodynamics text")
	return []Entry{
		{Name: "crank_power", On: "Engine", Kind: Quantity, Dimension: quantity.DimPower,
			Meaning: "rated net power at the crankshaft, in the air power is stated for",
			Formula: "net: as stated; gross or at the driven wheels: x the net share",
			Needs:   needs("design.engine.power", "design.engine.power_as", "design.engine.net_share"),
			Sources: sources(practice("a gross figure leaves 70 to 85 percent, driven wheels get 78 to 88 percent of the crankshaft's")),
			Working: workCrankPower,
			Compute: func(c *Calc) any {
				e := Part[schema.Engine](c)
				power := SI(c, &e.Power)
				if word(c, &e.PowerAs) != "net" {
					return power * SI(c, &e.NetShare)
				}
				return power
			}},
		{Name: "power_at_altitude", On: "Engine", Kind: Quantity, Dimension: quantity.DimPower,
			Meaning: "net power at the crankshaft on the highest road",
			Formula: "natural: crank power x (p / 99 kPa)^1.2 x (298 K / T)^0.6; with a compressor that holds its boost above outside air: " +
				"crank power x (p + boost) / (99 kPa + boost); p and T of the standard atmosphere at the altitude",
			Needs: needs("design.engine.crank_power", "design.engine.aspiration", "design.engine.boost", "design.climate.altitude"),
			Sources: sources(iso, atmosphere,
				practice("behind a compressor power goes as the absolute pressure of the manifold; a waste gate that holds it the same keeps more")),
			Working: workPowerAtAltitude,
			Compute: func(c *Calc) any {
				power, there := c.Value("crank_power"), outside(c)
				if boosted(c) {
					boost := SI(c, &c.Design().Engine.Boost)
					return power * (there.Pressure + boost) / (air.ReferencePressure + boost)
				}
				if c.Lacks() {
					return nil
				}
				return power * c.result(air.PowerFactor(there.Pressure, there.Temperature))
			}},
		{Name: "charges_per_revolution", On: "Engine", Kind: Number,
			Meaning: "how often each cylinder, or each rotor, draws and fires in a turn of the shaft",
			Formula: "four-stroke: 0.5; two-stroke: 1; rotary: 1 for each rotor and turn of the eccentric shaft",
			Needs:   needs("design.engine.cycle"),
			Sources: sources(physics("a four-stroke engine draws every second turn, a two-stroke one and each rotor every turn")),
			Compute: func(c *Calc) any {
				switch word(c, &Part[schema.Engine](c).Cycle) {
				case "two_stroke":
					return air.TwoStrokeCharges
				case "rotary":
					return air.RotaryCharges
				}
				return air.FourStrokeCharges
			}},
		{Name: "four_stroke_cylinders", On: "Engine", Kind: Number,
			Meaning: "cylinders of a four-stroke engine that draws and fires as often, as a controller counts them",
			Formula: "cylinders x 2 x charges per revolution",
			Needs:   needs("design.engine.cylinders", "design.engine.charges_per_revolution"),
			Sources: sources(physics("a four-stroke engine draws every second turn, a two-stroke one and each rotor every turn")),
			Working: workFourStroke,
			Compute: func(c *Calc) any {
				return float64(Get(c, &Part[schema.Engine](c).Cylinders)) * 2 * c.Value("charges_per_revolution")
			}},
		{Name: "four_stroke_displacement", On: "Engine", Kind: Quantity, Dimension: quantity.DimVolume,
			Meaning: "swept volume of a four-stroke engine that draws as much in a turn, as a controller counts it",
			Formula: "displacement x 2 x charges per revolution",
			Needs:   needs("design.engine.displacement", "design.engine.charges_per_revolution"),
			Sources: sources(physics("a four-stroke engine draws every second turn, a two-stroke one and each rotor every turn")),
			Working: workFourStroke,
			Compute: func(c *Calc) any {
				return SI(c, &Part[schema.Engine](c).Displacement) * 2 * c.Value("charges_per_revolution")
			}},
		{Name: "mean_pressure", On: "Engine", Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "mean effective pressure at rated power, of the power as stated",
			Formula: "power / (displacement x power speed x charges per revolution)",
			Needs:   needs("design.engine.power", "design.engine.displacement", "design.engine.power_speed", "design.engine.charges_per_revolution"),
			Sources: sources(handbook("Heywood, Internal Combustion Engine Fundamentals", "chapter 2, work of a cycle by swept volume")),
			Working: workMeanPressure,
			Compute: func(c *Calc) any {
				e := Part[schema.Engine](c)
				power, swept, turns, charges := SI(c, &e.Power), SI(c, &e.Displacement), SI(c, &e.PowerSpeed)/(2*math.Pi), c.Value("charges_per_revolution")
				if c.Lacks() {
					return nil
				}
				return power / (swept * turns * charges)
			}},
		{Name: "brake_efficiency", On: "Engine", Kind: Number,
			Meaning: "share of the fuel's energy that reaches the crankshaft at rated power",
			Formula: "1 / (specific consumption x lower heating value of the fuel it was given for)",
			Needs:   needs("design.engine.specific_consumption", "design.engine.consumption_ethanol"),
			Sources: sources(definition),
			Working: workBrakeEfficiency,
			Compute: func(c *Calc) any {
				e := Part[schema.Engine](c)
				consumption, heat := SI(c, &e.SpecificConsumption), heatingValue(c, SI(c, &e.ConsumptionEthanol))
				if c.Lacks() {
					return nil
				}
				return c.result(air.BrakeEfficiency(1, consumption, heat))
			}},
		{Name: "relative_efficiency", On: "Engine", Kind: Number,
			Meaning: "brake efficiency over that of the ideal petrol cycle at its compression ratio",
			Formula: "brake efficiency / (1 - compression ratio^-0.4)",
			Needs:   needs("design.engine.brake_efficiency", "design.engine.compression_ratio"),
			Sources: sources(handbook("air-standard Otto cycle", "any thermodynamics text")),
			Compute: func(c *Calc) any {
				brake, ratio := c.Value("brake_efficiency"), SI(c, &Part[schema.Engine](c).CompressionRatio)
				if c.Lacks() {
					return nil
				}
				return brake / c.result(air.OttoEfficiency(ratio))
			}},
		{Name: "implied_lambda", On: "Engine", Kind: Number,
			Meaning: "mixture at full load that power, consumption, filling and fuel come to: air over what the fuel needs",
			Formula: "air mass flow / (fuel mass demand x stoichiometric ratio), at full load",
			Needs:   needs("at.full_load.air_mass_flow", "at.full_load.fuel_mass_demand", "design.fuel.stoichiometric_ratio"),
			Sources: sources(handbook("definition of lambda", "any internal combustion engine text")),
			Working: workImpliedLambda,
			Compute: func(c *Calc) any {
				airMass, fuelMass := c.ValueAt(FullLoad, "air_mass_flow"), c.ValueAt(FullLoad, "fuel_mass_demand")
				ratio := c.ValueOn(&c.Design().Fuel, NoPoint, "stoichiometric_ratio")
				if c.Lacks() {
					return nil
				}
				return airMass / (fuelMass * ratio)
			}},
		{Name: "hottest_charge", On: "Engine", Kind: Quantity, Dimension: quantity.DimTemperature,
			Meaning: "temperature behind a poor compressor without a cooler at full boost",
			Formula: "298 K x (1 + (((99 kPa + boost) / 99 kPa)^0.2857 - 1) / 0.5), air of 25 degC; without a compressor that air",
			Needs:   needs("design.engine.boost", "design.engine.aspiration"),
			Sources: sources(gas, practice("half of the ideal is about the least a worn or overdriven compressor reaches")),
			Compute: func(c *Calc) any {
				if !boosted(c) {
					return air.ReferenceTemperature
				}
				boost := SI(c, &c.Design().Engine.Boost)
				if c.Lacks() {
					return nil
				}
				return c.result(air.CompressedTemperature(air.ReferenceTemperature, 1+boost/air.ReferencePressure, 0.5))
			}},
		{Name: "idle_vacuum_at_sea_level", On: "Engine", Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "manifold vacuum at idle brought to sea level",
			Formula: "101.325 kPa - manifold pressure at idle",
			Needs:   needs("at.idle.manifold_pressure"),
			Sources: sources(atmosphere, handbook("definition of gauge vacuum", "")),
			Working: workIdleVacuum,
			Compute: func(c *Calc) any { return air.SeaLevelPressure - c.ValueAt(Idle, "manifold_pressure") }},
		{Name: "idle_vacuum_at_altitude", On: "Engine", Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "manifold vacuum at idle on the highest road",
			Formula: "barometer - manifold pressure at idle, not below 0",
			Needs:   needs("at.idle.manifold_pressure", "at.idle.barometer"),
			Sources: sources(atmosphere, handbook("definition of gauge vacuum", "")),
			Working: workIdleVacuum,
			Compute: func(c *Calc) any { return max(0, c.ValueAt(Idle, "barometer")-c.ValueAt(Idle, "manifold_pressure")) }},
	}
}
