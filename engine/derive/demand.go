package derive

import (
	"plumbline/engine/physics/air"
	"plumbline/engine/physics/fuel"
	"plumbline/schema/quantity"
)

func demandEntries() []Entry {
	engineText := handbook("internal combustion engine text, definition of brake specific fuel consumption", "")
	energy := handbook("US Department of Energy, Alternative Fuels Data Center, fuel property comparison", "lower heating values")
	willans := practice("line of fuel over load of a carburetted-era engine, 215 g/kWh and 2.2 bar lost; a published map of 1991 gives 190 to 204 g/kWh and 1.6 to 2.2 bar")
	return []Entry{
		{Name: "fuel_mass_demand", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimMassFlow,
			Meaning: "fuel mass the engine burns; at full load in the air its power is stated for, where it burns most",
			Formula: "full load: crank power x specific consumption x heating value of the fuel it was given for / heating value of the fuel; " +
				"cruise: 215 g/kWh of petrol x (cruise power + 2.2 bar x displacement x speed / 2) x heating value of petrol / heating value of the fuel, " +
				"by 1 / 0.7 more in a two-stroke engine and 1 / 0.85 in a rotary one; " +
				"idle: idle fuel x density of the hot fuel; not modelled while cranking",
			Needs: needs("design.engine.crank_power", "design.engine.cruise_power", "design.engine.specific_consumption", "design.engine.consumption_ethanol",
				"design.engine.displacement", "design.engine.cycle", "design.engine.cruise_speed", "design.engine.idle_fuel", "design.fuel.ethanol", "design.fuel.hot_density"),
			Sources: sources(engineText, energy, willans, memory("an estimate: of a two-stroke engine's fresh charge some 30 percent leave unburnt with the exhaust; a rotary engine uses some 15 percent more than one with pistons")),
			Working: workFuelMassDemand,
			Compute: fuelMassDemand},
		{Name: "fuel_demand", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "volume of hot fuel the engine burns",
			Formula: "fuel mass demand / density of the hot fuel; idle: idle fuel as measured",
			Needs:   needs("at.<point>.fuel_mass_demand", "design.engine.idle_fuel", "design.fuel.hot_density"),
			Sources: sources(engineText),
			Working: workFuelDemand,
			Compute: func(c *Calc) any {
				if c.point == Idle {
					return SI(c, &c.Design().Engine.IdleFuel)
				}
				mass := c.Value("fuel_mass_demand")
				density := c.ValueOn(&c.Design().Fuel, NoPoint, "hot_density")
				if c.Lacks() {
					return nil
				}
				return mass / density
			}},
	}
}

func fuelMassDemand(c *Calc) any {
	d := c.Design()
	e := &d.Engine
	switch c.point {
	case FullLoad:
		power, consumption := c.ValueOn(e, NoPoint, "crank_power"), SI(c, &e.SpecificConsumption)
		given, filled := heatingValue(c, SI(c, &e.ConsumptionEthanol)), heatingValue(c, SI(c, &d.Fuel.Ethanol))
		if c.Lacks() {
			return nil
		}
		return c.result(air.FuelFlow(power, consumption)) * given / filled
	case Cruise:
		power, displacement, n := SI(c, &e.CruisePower), SI(c, &e.Displacement), revolutions(c)
		filled, kind := heatingValue(c, SI(c, &d.Fuel.Ethanol)), word(c, &e.Cycle)
		if c.Lacks() {
			return nil
		}
		return c.result(air.PartLoadFuel(power, displacement, n)) * fuel.GasolineHeatingValue / filled / burntShare(kind)
	case Idle:
		return SI(c, &e.IdleFuel) * c.ValueOn(&d.Fuel, NoPoint, "hot_density")
	}
	c.notCranking("fuel demand")
	return nil
}

// burntShare is the share of the fuel at part load that burns as in a four-stroke engine.
func burntShare(cycle string) float64 {
	switch cycle {
	case "two_stroke":
		return 0.7
	case "rotary":
		return 0.85
	}
	return 1
}

// heatingValue is that of a blend by its ethanol content, J/kg.
func heatingValue(c *Calc, ethanol float64) float64 {
	if c.Lacks() {
		return 0
	}
	w := c.result(fuel.EthanolMassFraction(ethanol, fuel.GasolineDensity, fuel.EthanolDensity))
	return c.result(fuel.HeatingValue(w))
}
