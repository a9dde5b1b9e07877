package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// HoleDischarge is the discharge coefficient of a ragged hole, a judgement between a sharp edge (0.61) and a nozzle.
const HoleDischarge = 0.8

// ChokedFlow returns the mass flow, kg/s, of air through a hole of an area (m2) into a manifold below 0.528 of the outside
// pressure (Pa, at K):
//
//	m = Cd A p sqrt(k/(R T)) (2/(k+1))^((k+1)/(2(k-1)))
//
// Domain: area >= 0. Source: White, Fluid Mechanics, chapter 9, choked flow.
func ChokedFlow(area, pressure, kelvin float64) (float64, error) {
	if err := domain.First(domain.CheckNotNegative("area of the hole", area, "m2"), checkGas(pressure, kelvin)); err != nil {
		return 0, err
	}
	const k = heatRatio
	return HoleDischarge * area * pressure * math.Sqrt(k/(GasConstant*kelvin)) * math.Pow(2/(k+1), (k+1)/(2*(k-1))), nil
}
