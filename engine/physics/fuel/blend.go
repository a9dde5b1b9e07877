package fuel

import "plumbline/engine/physics/domain"

// Properties of the pure components. Source: US Department of Energy,
// Alternative Fuels Data Center, fuel property comparison.
const (
	// GasolineDensity is kg/m3 at 15 degC: 116090 Btu/gal over 18676 Btu/lb.
	GasolineDensity = 745.0
	// EthanolDensity is kg/m3 at 60 degF, specific gravity 0.794.
	EthanolDensity = 794.0
	// GasolineAirFuel and EthanolAirFuel are the stoichiometric mass ratios.
	GasolineAirFuel = 14.7
	EthanolAirFuel  = 9.0
	// The lower heating values by mass, J/kg: 18676 and 11585 Btu/lb.
	GasolineHeatingValue = 18676 * 2326.0
	EthanolHeatingValue  = 11585 * 2326.0
)

func checkFraction(fraction float64) error {
	return domain.Check("ethanol volume fraction", fraction, 0, 1, "1")
}

func checkDensities(gasoline, ethanol float64) error {
	return domain.First(
		domain.Check("gasoline density", gasoline, 650, 850, "kg/m3"),
		domain.Check("ethanol density", ethanol, 750, 850, "kg/m3"),
	)
}

// EthanolMassFraction returns the ethanol mass fraction w of a blend with
// volume fraction v:
//
//	w = v rhoE / (v rhoE + (1-v) rhoG)
//
// with the densities in kg/m3 at one temperature. Domain: 0 <= v <= 1, 650 <=
// rhoG <= 850, 750 <= rhoE <= 850. Source: mass balance.
func EthanolMassFraction(volumeFraction, gasolineDensity, ethanolDensity float64) (float64, error) {
	if err := domain.First(checkFraction(volumeFraction), checkDensities(gasolineDensity, ethanolDensity)); err != nil {
		return 0, err
	}
	mass := volumeFraction * ethanolDensity
	return mass / (mass + (1-volumeFraction)*gasolineDensity), nil
}

// StoichiometricAirFuel returns the stoichiometric air-fuel mass ratio of a blend
// with an ethanol mass fraction: (1-w) 14.7 + w 9.0. Weighting by mass is exact;
// by volume it is half a per cent off at E85. Domain: 0 <= w <= 1. Source: mass
// balance on the figures of the Alternative Fuels Data Center.
func StoichiometricAirFuel(massFraction float64) (float64, error) {
	if err := domain.Check("ethanol mass fraction", massFraction, 0, 1, "1"); err != nil {
		return 0, err
	}
	return (1-massFraction)*GasolineAirFuel + massFraction*EthanolAirFuel, nil
}

// HeatingValue returns the lower heating value of a blend, J/kg, with an ethanol
// mass fraction, weighted by mass. Domain: 0 <= w <= 1. Source: Alternative
// Fuels Data Center; published values differ by 1 to 4 per cent.
func HeatingValue(massFraction float64) (float64, error) {
	if err := domain.Check("ethanol mass fraction", massFraction, 0, 1, "1"); err != nil {
		return 0, err
	}
	return (1-massFraction)*GasolineHeatingValue + massFraction*EthanolHeatingValue, nil
}
