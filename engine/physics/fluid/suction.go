package fluid

import "plumbline/engine/physics/domain"

// NetPositiveSuctionHead returns the head available at a pump inlet, m:
//
//	NPSHa = (p_surface - p_vapour)/(rho g) + z - loss/(rho g)
//
// surface and vapour pressures in Pa absolute, density in kg/m3, height z of the
// liquid above the inlet in m (negative for a lift), loss in Pa. A negative
// result means the liquid boils before the pump. Domain: surface > 0; vapour,
// loss >= 0; density > 0. Source: Crane TP-410, example 7.32; Munson,
// Fundamentals of Fluid Mechanics, example 12.3.
func NetPositiveSuctionHead(surface, vapour, density, height, loss float64) (float64, error) {
	margin, err := VapourMargin(surface, vapour, density, height, loss)
	if err != nil {
		return 0, err
	}
	return margin / (density * StandardGravity), nil
}

// InletPressure returns the absolute pressure at a pump inlet, Pa: surface +
// rho g z - loss. Arguments as NetPositiveSuctionHead. The result is negative
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

// VapourMargin returns the inlet pressure less the vapour pressure, Pa; negative
// means vapour. Arguments and source as NetPositiveSuctionHead.
func VapourMargin(surface, vapour, density, height, loss float64) (float64, error) {
	if err := domain.CheckNotNegative("vapour pressure", vapour, "Pa"); err != nil {
		return 0, err
	}
	inlet, err := InletPressure(surface, density, height, loss)
	if err != nil {
		return 0, err
	}
	return inlet - vapour, nil
}
