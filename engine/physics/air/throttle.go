package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// The two pressure drops throttle bodies and carburettors are rated at, Pa: 3.0
// inHg for two-barrel, 1.5 inHg for four-barrel ones (common practice; 1 inHg =
// 3386.389 Pa).
const (
	TwoBarrelRatingDrop  = 3.0 * 3386.389
	FourBarrelRatingDrop = 1.5 * 3386.389
)

// ThrottleDrop returns the drop, Pa, across a throttle rated by one flow at one
// drop and density:
//
//	dp = dp0 (Q/Q0)^2 rho/rho0, at most MaxSquareLawDrop
//
// Domain: Q >= 0; the rest > 0. Source: as RatedFlowAt.
func ThrottleDrop(ratedFlow, ratedDrop, ratedDensity, flow, density float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("rated flow", ratedFlow, "m3/s"),
		domain.CheckPositive("rated drop", ratedDrop, "Pa"),
		domain.CheckPositive("rated density", ratedDensity, "kg/m3"),
		domain.CheckNotNegative("flow", flow, "m3/s"),
		domain.CheckPositive("air density", density, "kg/m3"),
	); err != nil {
		return 0, err
	}
	return math.Min(ratedDrop*math.Pow(flow/ratedFlow, 2)*density/ratedDensity, MaxSquareLawDrop), nil
}

// OpeningLoss returns the drop, Pa, of air through an opening of an area in m2:
// dp = rho/2 (Q/(Cd A))^2, at most MaxSquareLawDrop. Domain: Q >= 0; A, rho > 0;
// 0.1 <= Cd <= 1. Source: as RatedFlowAt.
func OpeningLoss(flow, area, discharge, density float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("flow", flow, "m3/s"),
		domain.CheckPositive("opening area", area, "m2"),
		domain.Check("discharge coefficient", discharge, 0.1, 1, "1"),
		domain.CheckPositive("air density", density, "kg/m3"),
	); err != nil {
		return 0, err
	}
	return math.Min(density/2*math.Pow(flow/(discharge*area), 2), MaxSquareLawDrop), nil
}

// MaxSquareLawDrop is the largest drop, Pa, the functions of this file give: that
// at which a throttle chokes at sea level. A flow that would need more does not
// get through, whatever the drop, so that the figure stands for "at least". The
// square law reads about 2 per cent low at 3 inHg and 6 per cent low at a tenth
// of an atmosphere, more beyond; a drop that large already condemns the throttle.
const MaxSquareLawDrop = (1 - 0.528) * SeaLevelPressure
