package fuel

import (
	"math"

	"plumbline/engine/physics/domain"
)

// AirFuelFromComposition returns the stoichiometric air-fuel mass ratio of a fuel
// from its mass fractions of carbon, hydrogen and oxygen, burning in air with a
// mass fraction of oxygen:
//
//	AFR = (8/3 c + 8 h - o) / oAir
//
// Domain: fractions 0 to 1, together at most 1.001; 0.2 <= oAir <= 0.25 (0.232
// is dry air, 0.23 a textbook figure). Source: Rajput, Internal Combustion
// Engines, example 7.4; atomic masses 12, 1, 16.
func AirFuelFromComposition(carbon, hydrogen, oxygen, oxygenInAir float64) (float64, error) {
	if err := domain.First(
		domain.Check("carbon mass fraction", carbon, 0, 1, "1"),
		domain.Check("hydrogen mass fraction", hydrogen, 0, 1, "1"),
		domain.Check("oxygen mass fraction", oxygen, 0, 1, "1"),
		domain.Check("sum of mass fractions", carbon+hydrogen+oxygen, 0, 1.001, "1"),
		domain.Check("oxygen mass fraction of air", oxygenInAir, 0.2, 0.25, "1"),
	); err != nil {
		return 0, err
	}
	ratio := (8.0/3*carbon + 8*hydrogen - oxygen) / oxygenInAir
	if err := domain.Check("air-fuel ratio", ratio, 0, math.Inf(1), "1"); err != nil {
		return 0, err
	}
	return ratio, nil
}

// LowerHeatingValue returns the lower heating value, J/kg, from the higher one,
// J/kg, the hydrogen mass fraction and the heat of evaporation of water, J/kg:
// LHV = HHV - 9 h r. Domain: HHV > 0, 0 <= h <= 1, 2.2e6 <= r <= 2.6e6. Source:
// Mathur and Sharma, Internal Combustion Engines, example 8.1.
func LowerHeatingValue(higher, hydrogen, evaporation float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("higher heating value", higher, "J/kg"),
		domain.Check("hydrogen mass fraction", hydrogen, 0, 1, "1"),
		domain.Check("heat of evaporation of water", evaporation, 2.2e6, 2.6e6, "J/kg"),
	); err != nil {
		return 0, err
	}
	return higher - 9*hydrogen*evaporation, nil
}
