package fuel

import (
	"math"
	"sort"

	"plumbline/engine/physics/domain"
)

// The temperatures, K, between which Density and Viscosity hold: -20 to 80 degC.
const (
	MinTemperature = 253.15
	MaxTemperature = 353.15
)

// ReferenceTemperature is the temperature, K, of a stated gasoline density: 15
// degC.
const ReferenceTemperature = 288.15

// GasolineExpansion is the fall of gasoline's density per kelvin as a share of
// the density at 15 degC (handbook figure 9.5e-4; 9.6e-4 in College Physics,
// 12th ed., chapter 10).
const GasolineExpansion = 9.5e-4

func checkTemperature(kelvin float64) error {
	return domain.Check("fuel temperature", kelvin, MinTemperature, MaxTemperature, "K")
}

// EthanolLiquidDensity returns the density of ethanol, kg/m3, at a temperature in
// K: rho = M C1 / C2^(1 + (1 - T/C3)^C4) with C1 = 1.6288 kmol/m3, C2 =
// 0.27469, C3 = 514 K, C4 = 0.23178, M = 46.06844 kg/kmol. Domain: 159.05 to
// 500 K. Source: Perry's Chemical Engineers' Handbook, 8th ed., table 2-32.
func EthanolLiquidDensity(kelvin float64) (float64, error) {
	if err := domain.Check("ethanol temperature", kelvin, 159.05, 500, "K"); err != nil {
		return 0, err
	}
	return 46.06844 * 1.6288 / math.Pow(0.27469, 1+math.Pow(1-kelvin/514, 0.23178)), nil
}

// EthanolDynamicViscosity returns the viscosity of liquid ethanol, Pa s, at a
// temperature in K: mu = exp(7.875 + 781.98/T - 3.0418 ln T). Domain: 200 to 440
// K. Source: Perry's Chemical Engineers' Handbook, 8th ed., table 2-313.
func EthanolDynamicViscosity(kelvin float64) (float64, error) {
	if err := domain.Check("ethanol temperature", kelvin, 200, 440, "K"); err != nil {
		return 0, err
	}
	return math.Exp(7.875 + 781.98/kelvin - 3.0418*math.Log(kelvin)), nil
}

// Density returns the density of a blend, kg/m3, at a temperature in K:
//
//	rho = (1-v) rhoG15 (1 - 9.5e-4 (T - 288.15)) + v rhoE(T)
//
// rhoG15 is the density of the gasoline part at 15 degC. Domain: 650 <= rhoG15
// <= 850, 0 <= v <= 1, -20 to 80 degC. Within about 1 per cent: volumes are
// taken to add, and v to hold at T; above 60 degC the expansion grows a little, and
// the figure reads up to half a per cent high. Source: handbook expansion of gasoline;
// EthanolLiquidDensity.
func Density(gasolineDensity, volumeFraction, kelvin float64) (float64, error) {
	if err := domain.First(
		domain.Check("gasoline density", gasolineDensity, 650, 850, "kg/m3"),
		checkFraction(volumeFraction),
		checkTemperature(kelvin),
	); err != nil {
		return 0, err
	}
	ethanol, err := EthanolLiquidDensity(kelvin)
	if err != nil {
		return 0, err
	}
	gasoline := gasolineDensity * (1 - GasolineExpansion*(kelvin-ReferenceTemperature))
	return (1-volumeFraction)*gasoline + volumeFraction*ethanol, nil
}

// DensityRatio returns the density of a blend at a temperature in K over that at
// 15 degC. Domain and source as Density.
func DensityRatio(gasolineDensity, volumeFraction, kelvin float64) (float64, error) {
	hot, err := Density(gasolineDensity, volumeFraction, kelvin)
	if err != nil {
		return 0, err
	}
	cold, err := Density(gasolineDensity, volumeFraction, ReferenceTemperature)
	if err != nil {
		return 0, err
	}
	return hot / cold, nil
}

// gasolineViscosities returns the table behind GasolineViscosity: K, m2/s.
func gasolineViscosities() (kelvin, viscosity []float64) {
	return []float64{253.15, 273.15, 288.15, 293.15, 313.15, 333.15, 353.15},
		[]float64{0.90e-6, 0.70e-6, 0.61e-6, 0.58e-6, 0.48e-6, 0.42e-6, 0.37e-6}
}

// GasolineViscosity returns a working kinematic viscosity of gasoline, m2/s, at a
// temperature in K: 0.90, 0.70, 0.61, 0.58, 0.48, 0.42, 0.37 mm2/s at -20, 0, 15,
// 20, 40, 60, 80 degC, the last on the line of the two before it, the logarithm straight over 1/T between them. Within 15 per cent.
// Source: from memory, common practice; inside the 0.8-1.0 (-20 degC) and
// 0.5-0.6 mm2/s (20 degC) of the Alternative Fuels Data Center.
func GasolineViscosity(kelvin float64) (float64, error) {
	if err := checkTemperature(kelvin); err != nil {
		return 0, err
	}
	ts, nus := gasolineViscosities()
	i := min(max(sort.SearchFloat64s(ts, kelvin), 1), len(ts)-1)
	share := (1/kelvin - 1/ts[i-1]) / (1/ts[i] - 1/ts[i-1])
	return nus[i-1] * math.Pow(nus[i]/nus[i-1], share), nil
}

// Viscosity returns the kinematic viscosity of a blend, m2/s, at a temperature in
// K, the logarithms weighted by volume:
//
//	ln nu = (1-v) ln nuG + v ln nuE
//
// Domain: 0 <= v <= 1, -20 to 80 degC. Within about 20 per cent. Source: the
// Arrhenius mixing rule on GasolineViscosity and Perry's ethanol; no published
// curve of a blend was found to hold it against.
func Viscosity(volumeFraction, kelvin float64) (float64, error) {
	if err := checkFraction(volumeFraction); err != nil {
		return 0, err
	}
	gasoline, err := GasolineViscosity(kelvin)
	if err != nil {
		return 0, err
	}
	mu, err := EthanolDynamicViscosity(kelvin)
	if err != nil {
		return 0, err
	}
	rho, err := EthanolLiquidDensity(kelvin)
	if err != nil {
		return 0, err
	}
	return math.Exp((1-volumeFraction)*math.Log(gasoline) + volumeFraction*math.Log(mu/rho)), nil
}
