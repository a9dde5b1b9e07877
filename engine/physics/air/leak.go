package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// CriticalRatio returns the ratio of downstream to upstream absolute pressure at
// and below which air through a hole is choked: (2/(k+1))^(k/(k-1)), 0.528 with
// k = 1.4. Source: White, Fluid Mechanics, chapter 9.
func CriticalRatio() float64 {
	return math.Pow(2/(heatRatio+1), heatRatio/(heatRatio-1))
}

func checkHole(area, discharge, pressure, kelvin float64) error {
	return domain.First(
		domain.CheckNotNegative("hole area", area, "m2"),
		domain.Check("discharge coefficient", discharge, 0.1, 1, "1"),
		checkGas(pressure, kelvin),
	)
}

// ChokedFlow returns the mass flow of air, kg/s, through a choked hole of an area
// in m2 from a state in Pa absolute and K:
//
//	m = Cd A p0 sqrt(k/(R T0)) (2/(k+1))^((k+1)/(2(k-1))) = 0.0404 Cd A p0/sqrt(T0)
//
// Domain: A >= 0, 0.1 <= Cd <= 1, that of Density. Source: White, Fluid
// Mechanics, chapter 9.
func ChokedFlow(area, discharge, pressure, kelvin float64) (float64, error) {
	if err := checkHole(area, discharge, pressure, kelvin); err != nil {
		return 0, err
	}
	const k = heatRatio
	return discharge * area * pressure * math.Sqrt(k/(GasConstant*kelvin)) *
		math.Pow(2/(k+1), (k+1)/(2*(k-1))), nil
}

// HoleFlow returns the mass flow of air, kg/s, through a hole of an area in m2
// from a state in Pa absolute and K to a pressure in Pa absolute, choked or not:
//
//	m = Cd A p0 sqrt( 2k/((k-1) R T0) (r^(2/k) - r^((k+1)/k)) ),  r = p/p0
//
// Domain: that of ChokedFlow, 0 <= p <= p0. Source: isentropic nozzle flow;
// White, Fluid Mechanics, chapter 9.
func HoleFlow(area, discharge, pressure, kelvin, downstream float64) (float64, error) {
	if err := domain.First(
		checkHole(area, discharge, pressure, kelvin),
		domain.Check("pressure behind the hole", downstream, 0, pressure, "Pa"),
	); err != nil {
		return 0, err
	}
	ratio := min(downstream/pressure, 1)
	if ratio <= CriticalRatio() {
		return ChokedFlow(area, discharge, pressure, kelvin)
	}
	const k = heatRatio
	return discharge * area * pressure * math.Sqrt(2*k/((k-1)*GasConstant*kelvin)*
		(math.Pow(ratio, 2/k)-math.Pow(ratio, (k+1)/k))), nil
}

// ChokedArea returns the hole area, m2, that passes a mass flow in kg/s when
// choked: ChokedFlow solved for A. Domain: flow >= 0 and that of ChokedFlow.
// Source: as ChokedFlow.
func ChokedArea(massFlow, discharge, pressure, kelvin float64) (float64, error) {
	if err := domain.CheckNotNegative("air mass flow", massFlow, "kg/s"); err != nil {
		return 0, err
	}
	unit, err := ChokedFlow(1, discharge, pressure, kelvin)
	if err != nil {
		return 0, err
	}
	return massFlow / unit, nil
}

// LeakFraction returns a leak as a share of the engine's air, both kg/s. Domain:
// leak >= 0, engine air > 0. Source: definition.
func LeakFraction(leak, engineAir float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("leak", leak, "kg/s"),
		domain.CheckPositive("engine air", engineAir, "kg/s"),
	); err != nil {
		return 0, err
	}
	return leak / engineAir, nil
}
