package fluid

import (
	"math"

	"plumbline/engine/physics/domain"
)

// Ranges of the friction formulas. The relative roughness and the upper
// Reynolds number are those of the Moody chart.
const (
	MaxReynolds          = 1e8
	MaxRelativeRoughness = 0.05

	minChurchillReynolds = 1e-12
	minTurbulentReynolds = 4000
	minExplicitReynolds  = 5000
)

// Velocity returns the mean velocity, m/s, of a flow in m3/s through a round
// bore in m: V = 4 Q / (pi D^2). Domain: flow >= 0, bore > 0. Source: continuity.
func Velocity(flow, bore float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("flow", flow, "m3/s"),
		domain.CheckPositive("bore", bore, "m"),
	); err != nil {
		return 0, err
	}
	return 4 * flow / (math.Pi * bore * bore), nil
}

// Reynolds returns V D / nu for a velocity in m/s, a bore in m and a kinematic
// viscosity in m2/s. Domain: velocity >= 0, bore > 0, viscosity > 0. Source:
// White, Fluid Mechanics, chapter 6.
func Reynolds(velocity, bore, viscosity float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("velocity", velocity, "m/s"),
		domain.CheckPositive("bore", bore, "m"),
		domain.CheckPositive("kinematic viscosity", viscosity, "m2/s"),
	); err != nil {
		return 0, err
	}
	return velocity * bore / viscosity, nil
}

func checkFriction(re, roughness, lowRe float64) error {
	return domain.First(
		domain.Check("Reynolds number", re, lowRe, MaxReynolds, "1"),
		domain.Check("relative roughness", roughness, 0, MaxRelativeRoughness, "1"),
	)
}

// Below handoverReynolds the model takes Churchill's friction factor, from
// minTurbulentReynolds up Colebrook's, between them Churchill's with a growing
// share of what parts the two at minTurbulentReynolds.
const handoverReynolds = 2500

// FrictionFactor returns the Darcy friction factor the model uses: that of
// Colebrook for Re >= 4000; below it Churchill's, from 2500 on brought smoothly to
// Colebrook's at 4000, at most 3.5 per cent of it. The loss it gives never falls
// with the flow. Domain and sources as Colebrook and FrictionFactorChurchill.
func FrictionFactor(re, relativeRoughness float64) (float64, error) {
	if err := checkFriction(re, relativeRoughness, minChurchillReynolds); err != nil {
		return 0, err
	}
	return friction(re, relativeRoughness), nil
}

// friction is FrictionFactor of numbers already checked.
func friction(re, relativeRoughness float64) float64 {
	switch {
	case re >= minTurbulentReynolds:
		return colebrook(re, relativeRoughness)
	case re <= handoverReynolds:
		return churchill(re, relativeRoughness)
	}
	share := (re - handoverReynolds) / (minTurbulentReynolds - handoverReynolds)
	share *= share * (3 - 2*share)
	apart := colebrook(minTurbulentReynolds, relativeRoughness)/churchill(minTurbulentReynolds, relativeRoughness) - 1
	return churchill(re, relativeRoughness) * (1 + share*apart)
}

// colebrook is Colebrook's equation by Newton's method on x = 1/sqrt f, for
// numbers inside its range: there x grows from below in a few steps.
func colebrook(re, relativeRoughness float64) float64 {
	const twoOverLn10 = 2 / math.Ln10
	r, s := relativeRoughness/3.7, 2.51/re
	x := -twoOverLn10 * math.Log(r+5*s)
	for range 12 {
		inside := r + s*x
		change := (x + twoOverLn10*math.Log(inside)) / (1 + twoOverLn10*s/inside)
		x -= change
		if math.Abs(change) <= 1e-9*x {
			break
		}
	}
	return 1 / (x * x)
}

// FrictionFactorChurchill returns the Darcy friction factor in laminar,
// transition and turbulent flow, in one formula.
//
//	f = 8 [ (8/Re)^12 + (A+B)^-1.5 ]^(1/12)
//	A = [ 2.457 ln( 1 / ((7/Re)^0.9 + 0.27 e/D) ) ]^16,  B = (37530/Re)^16
//
// Domain: 1e-12 <= Re <= 1e8, 0 <= e/D <= 0.05. Against Colebrook it is within
// 3.5 per cent for Re >= 4000. Source: S. W. Churchill, Chemical Engineering
// 84 (1977) 91.
func FrictionFactorChurchill(re, relativeRoughness float64) (float64, error) {
	if err := checkFriction(re, relativeRoughness, minChurchillReynolds); err != nil {
		return 0, err
	}
	return churchill(re, relativeRoughness), nil
}

// churchill is the formula of FrictionFactorChurchill, its whole powers written
// as products and its twelfth root as roots, which costs a third of math.Pow.
func churchill(re, relativeRoughness float64) float64 {
	a := sixteenth(2.457 * math.Log(math.Exp(0.9*math.Log(7/re))+0.27*relativeRoughness))
	b := sixteenth(37530 / re)
	laminar := 8 / re
	laminar *= laminar * laminar // cubed
	laminar *= laminar
	laminar *= laminar
	return 8 * math.Sqrt(math.Sqrt(math.Cbrt(laminar+1/((a+b)*math.Sqrt(a+b)))))
}

// sixteenth is x to the 16th power; the sign of x does not matter.
func sixteenth(x float64) float64 {
	x *= x
	x *= x
	x *= x
	return x * x
}

// Colebrook returns the Darcy friction factor of turbulent flow, iterated until
// it no longer changes in the 13th figure.
//
//	1/sqrt f = -2 log10( (e/D)/3.7 + 2.51/(Re sqrt f) )
//
// Domain: 4000 <= Re <= 1e8, 0 <= e/D <= 0.05. Error: *domain.NotConverged if
// 50 steps do not settle it. Source: White, Fluid Mechanics, eq. 6.64 (the
// number differs by edition); stated accuracy of the chart 15 per cent.
func Colebrook(re, relativeRoughness float64) (float64, error) {
	if err := checkFriction(re, relativeRoughness, minTurbulentReynolds); err != nil {
		return 0, err
	}
	// Newton's method on x = 1/sqrt f: g(x) = x + 2 log10(r + s x).
	r, s := relativeRoughness/3.7, 2.51/re
	x := -1.8 * math.Log10(math.Pow(r, 1.11)+6.9/re)
	var change float64
	const steps = 50
	for range steps {
		g := x + 2*math.Log10(r+s*x)
		slope := 1 + 2*s/(math.Ln10*(r+s*x))
		change = g / slope
		x -= change
		if math.Abs(change) <= 1e-13*x {
			return 1 / (x * x), nil
		}
	}
	return 0, &domain.NotConverged{Method: "Colebrook friction factor", Iterations: steps,
		Low: x - math.Abs(change), High: x + math.Abs(change), Last: x, Residual: change, Reason: "too many steps"}
}

// DarcyLoss returns the friction pressure loss, Pa, of a straight pipe:
//
//	dp = f (L/D) rho V^2 / 2
//
// Domain: factor, length, velocity >= 0; bore, density > 0. Source:
// Darcy-Weisbach; Cengel and Cimbala, Fluid Mechanics, eq. 8-21 (number from
// memory).
func DarcyLoss(factor, length, bore, density, velocity float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("friction factor", factor, "1"),
		domain.CheckNotNegative("length", length, "m"),
		domain.CheckPositive("bore", bore, "m"),
		domain.CheckPositive("density", density, "kg/m3"),
		domain.CheckNotNegative("velocity", velocity, "m/s"),
	); err != nil {
		return 0, err
	}
	return factor * length / bore * density * velocity * velocity / 2, nil
}
