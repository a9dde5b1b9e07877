package fluid

import "plumbline/engine/physics/domain"

// InletPressure returns the absolute pressure at a pump inlet, Pa: surface +
// rho g z - loss. The surface pressure is absolute, Pa; density kg/m3; height, m, positive with the
// fuel above the inlet; loss of the suction line, Pa. The result is negative
// where the liquid column would break.
func InletPressure(surface, density, height, loss float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("surface pressure", surface, "Pa"),
		domain.CheckNotNegative("suction loss", loss, "Pa"),
	); err != nil {
		return 0, err
	}
	head, err := HydrostaticHead(density, height)
	if err != nil {
		return 0, err
	}
	return surface + head - loss, nil
}
