package fluid

import (
	"math"

	"plumbline/engine/physics/domain"
)

// StandardGravity is the standard acceleration of free fall, m/s2 (exact).
const StandardGravity = 9.80665

// MinorLoss returns K rho V^2 / 2, Pa. Domain: K, velocity >= 0, density > 0.
// Source: Munson, Fundamentals of Fluid Mechanics, chapter 8.
func MinorLoss(k, density, velocity float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("loss coefficient", k, "1"),
		domain.CheckPositive("density", density, "kg/m3"),
		domain.CheckNotNegative("velocity", velocity, "m/s"),
	); err != nil {
		return 0, err
	}
	return k * density * velocity * velocity / 2, nil
}

func checkSmallLarge(small, large float64) error {
	return domain.First(
		domain.CheckPositive("small bore", small, "m"),
		domain.CheckFinite("large bore", large, "m"),
		domain.Check("small bore", small, 0, large, "m"),
	)
}

// SuddenExpansion returns the loss coefficient, on the velocity in the small
// bore, of turbulent flow from a small into a large bore:
//
//	K = alpha (1 - (d/D)^2)^2
//
// alpha is the kinetic-energy factor of the inflow: 1, or 1.06 where a book
// uses it. Domain: 0 < d <= D, 1 <= alpha <= 2. Source: Borda-Carnot; Crane
// TP-410; Cengel and Cimbala, Fluid Mechanics, example 8-6.
func SuddenExpansion(small, large, alpha float64) (float64, error) {
	if err := domain.First(
		checkSmallLarge(small, large),
		domain.Check("kinetic-energy factor", alpha, 1, 2, "1"),
	); err != nil {
		return 0, err
	}
	beta := small / large
	x := 1 - beta*beta
	return alpha * x * x, nil
}

// SuddenContraction returns the loss coefficient, on the velocity in the small
// bore, of turbulent flow from a large into a small bore: K = 0.5 (1 - (d/D)^2).
// Domain: 0 < d <= D. Source: Crane TP-410.
func SuddenContraction(small, large float64) (float64, error) {
	if err := checkSmallLarge(small, large); err != nil {
		return 0, err
	}
	beta := small / large
	return 0.5 * (1 - beta*beta), nil
}

// OrificeLoss returns the pressure drop, Pa, across a hole of a diameter in m:
//
//	dp = rho/2 (Q / (Cd A))^2
//
// without recovery or velocity of approach, which suits a hole much smaller
// than the line. Domain: flow >= 0, hole, density > 0, 0.1 <= Cd <= 1. Source:
// Bernoulli with a discharge coefficient; White, Fluid Mechanics, chapter 6.
func OrificeLoss(flow, hole, discharge, density float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("flow", flow, "m3/s"),
		domain.CheckPositive("hole", hole, "m"),
		domain.Check("discharge coefficient", discharge, 0.1, 1, "1"),
		domain.CheckPositive("density", density, "kg/m3"),
	); err != nil {
		return 0, err
	}
	v := flow / (discharge * math.Pi * hole * hole / 4)
	return density / 2 * v * v, nil
}

// SquareLawLoss returns the drop, Pa, at a flow through a part rated by one
// drop at one flow, such as a filter:
//
//	dp = drop0 (Q/Q0)^2 rho/rho0
//
// It suits sharp passages. A fine element in laminar flow falls more slowly, so
// below the rated flow the figure is low and above it high. Domain: drop0, Q
// >= 0; Q0, rho, rho0 > 0. Source: MinorLoss with constant K; for filters
// common practice.
func SquareLawLoss(ratedDrop, ratedFlow, ratedDensity, flow, density float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("rated drop", ratedDrop, "Pa"),
		domain.CheckPositive("rated flow", ratedFlow, "m3/s"),
		domain.CheckPositive("rated density", ratedDensity, "kg/m3"),
		domain.CheckNotNegative("flow", flow, "m3/s"),
		domain.CheckPositive("density", density, "kg/m3"),
	); err != nil {
		return 0, err
	}
	ratio := flow / ratedFlow
	return ratedDrop * ratio * ratio * density / ratedDensity, nil
}

// HydrostaticHead returns rho g h, Pa, for a height in m; a negative height
// gives a negative pressure. Domain: density > 0. Source: hydrostatics, g =
// 9.80665 m/s2.
func HydrostaticHead(density, height float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("density", density, "kg/m3"),
		domain.CheckFinite("height", height, "m"),
	); err != nil {
		return 0, err
	}
	return density * StandardGravity * height, nil
}
