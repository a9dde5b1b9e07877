package derive

import "plumbline/schema/quantity"

func demandEntries() []Entry {
	heywood := handbook("internal combustion engine text, definition of brake specific fuel consumption", "")
	return []Entry{
		{Name: "fuel_mass_demand", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimMassFlow,
			Meaning: "fuel mass the engine burns",
			Formula: "full load: power x specific consumption; cruise: cruise power x specific consumption; idle: idle fuel x density of the hot fuel; not modelled while cranking",
			Needs: needs("design.engine.power", "design.engine.cruise_power", "design.engine.specific_consumption",
				"design.engine.idle_fuel", "design.fuel.hot_density"),
			Sources: sources(heywood, practice("the consumption at rated power is used for cruise, where it is a little higher")),
			Compute: fuelMassDemand},
		{Name: "fuel_demand", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimFlow,
			Meaning: "volume of hot fuel the engine burns",
			Formula: "fuel mass demand / density of the hot fuel; idle: idle fuel as measured",
			Needs:   needs("at.<point>.fuel_mass_demand", "design.engine.idle_fuel", "design.fuel.hot_density"),
			Sources: sources(heywood),
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
	e := &c.Design().Engine
	switch c.point {
	case FullLoad:
		return SI(c, &e.Power) * SI(c, &e.SpecificConsumption)
	case Cruise:
		return SI(c, &e.CruisePower) * SI(c, &e.SpecificConsumption)
	case Idle:
		return SI(c, &e.IdleFuel) * c.ValueOn(&c.Design().Fuel, NoPoint, "hot_density")
	}
	c.notCranking("fuel demand")
	return nil
}
