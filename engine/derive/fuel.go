package derive

import (
	"plumbline/engine/physics/fuel"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func fuelEntries() []Entry {
	doe := handbook("US Department of Energy, Alternative Fuels Data Center, fuel property comparison", "")
	perry := handbook("Perry's Chemical Engineers' Handbook, 8th edition", "tables 2-32 and 2-313")
	return []Entry{
		{Name: "stoichiometric_ratio", On: "Fuel", Kind: Number,
			Meaning: "mass of air that burns one mass of the fuel completely",
			Formula: "(1 - w) 14.7 + w 9.0, with the ethanol mass fraction w of the blend",
			Needs:   needs("design.fuel.ethanol"),
			Sources: sources(doe),
			Compute: func(c *Calc) any {
				ethanol := SI(c, &Part[schema.Fuel](c).Ethanol)
				if c.Lacks() {
					return nil
				}
				w := c.result(fuel.EthanolMassFraction(ethanol, fuel.GasolineDensity, fuel.EthanolDensity))
				if c.Lacks() {
					return nil
				}
				return c.result(fuel.StoichiometricAirFuel(w))
			}},
		{Name: "hot_density", On: "Fuel", Kind: Quantity, Dimension: quantity.DimDensity,
			Meaning: "density of the fuel at its hottest",
			Formula: "density at 15 degC x what a blend of this ethanol content loses from there to the hot fuel: gasoline 0.095 % per kelvin, mixed by volume with ethanol",
			Needs:   needs("design.fuel.density", "design.fuel.ethanol", "design.climate.hot_fuel"),
			Sources: sources(doe, perry),
			Working: workHotDensity,
			Compute: func(c *Calc) any {
				cold := SI(c, &Part[schema.Fuel](c).Density)
				share := blendAt(c, fuel.DensityRatio)
				if c.Lacks() {
					return nil
				}
				return cold * share
			}},
		{Name: "blend_density", On: "Fuel", Kind: Quantity, Dimension: quantity.DimDensity,
			Meaning: "density at 15 degC of a usual fuel of this ethanol content",
			Formula: "gasoline of 745 kg/m3 mixed by volume with ethanol",
			Needs:   needs("design.fuel.ethanol"),
			Sources: sources(doe, perry),
			Compute: func(c *Calc) any {
				ethanol := SI(c, &Part[schema.Fuel](c).Ethanol)
				if c.Lacks() {
					return nil
				}
				return c.result(fuel.Density(fuel.GasolineDensity, ethanol, fuel.ReferenceTemperature))
			}},
		{Name: "hot_viscosity", On: "Fuel", Kind: Quantity, Dimension: quantity.DimKinematicViscosity,
			Meaning: "kinematic viscosity of the fuel at its hottest",
			Formula: "logarithms of gasoline's and ethanol's viscosity at the temperature of the hot fuel, weighted by volume",
			Needs:   needs("design.fuel.ethanol", "design.climate.hot_fuel"),
			Sources: sources(memory("gasoline viscosity table, inside the range of the Alternative Fuels Data Center"), perry),
			Compute: func(c *Calc) any {
				return blendAt(c, func(_, fraction, kelvin float64) (float64, error) { return fuel.Viscosity(fraction, kelvin) })
			}},
		{Name: "hot_vapour_pressure", On: "Fuel", Kind: Quantity, Dimension: quantity.DimAbsolutePressure,
			Meaning: "absolute pressure below which the hot fuel boils",
			Formula: "exp(A - B / (T + 459.6)) psia at T degF, A and B from the Reid vapour pressure, slope 3.0 for gasoline",
			Needs:   needs("design.fuel.reid_vapour_pressure", "design.climate.hot_fuel"),
			Sources: sources(standard("EPA AP-42 chapter 7.1", "figure 7.1-14b")),
			Compute: func(c *Calc) any {
				reid, kelvin := SI(c, &Part[schema.Fuel](c).ReidVapourPressure), SI(c, &c.Design().Climate.HotFuel)
				if c.Lacks() {
					return nil
				}
				return c.result(fuel.TrueVapourPressure(reid, kelvin))
			}},
		{Name: "density_deviation", On: "Fuel", Dimension: quantity.DimShare,
			Meaning: "stated density against that of a usual fuel of this ethanol content, at 15 degC, as a share",
			Formula: "stated density / density of the blend at 15 degC - 1",
			Needs:   needs("design.fuel.density", "design.fuel.blend_density"),
			Sources: sources(doe, perry),
			Compute: func(c *Calc) any {
				f := Part[schema.Fuel](c)
				stated, usual := SI(c, &f.Density), c.Value("blend_density")
				if c.Lacks() {
					return nil
				}
				return stated/usual - 1
			}},
	}
}

// blendAt evaluates a property of the blend at the temperature of the hot fuel.
func blendAt(c *Calc, property func(gasoline, fraction, kelvin float64) (float64, error)) float64 {
	ethanol, kelvin := SI(c, &Part[schema.Fuel](c).Ethanol), SI(c, &c.Design().Climate.HotFuel)
	if c.Lacks() {
		return 0
	}
	return c.result(property(fuel.GasolineDensity, ethanol, kelvin))
}
