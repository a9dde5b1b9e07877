// Package fuel gives the properties of gasoline and of its blends with ethanol
// that a fuel supply and an engine's demand depend on.
//
// A blend is named by its ethanol volume fraction at 15 degC, from 0 (gasoline)
// to 1 (ethanol). All values are SI: K, Pa, kg/m3, m2/s, J/kg.
//
//	rho, err := fuel.Density(fuel.GasolineDensity, 0.10, 293.15)
//
// Limits: gasoline is no single substance. Density is good to about 1 per cent
// where the density at 15 degC is stated, viscosity to 15 per cent for gasoline
// and 20 per cent for blends. Density and viscosity hold from -20 to 60 degC.
// There is no function for the vapour pressure of a blend from that of its
// gasoline: no source for one was found. State the Reid vapour pressure of the
// blend as sold.
package fuel
