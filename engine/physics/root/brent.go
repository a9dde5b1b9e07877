package root

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// MaxIterations bounds the steps of Brent. Bisection alone narrows any bracket
// of finite float64 ends to neighbouring numbers in about 1100 steps when an
// end is near zero, and in about 60 for brackets that do not span decades.
const MaxIterations = 200

const machineEpsilon = 2.220446049250313e-16

// Func is a function whose root is sought. An error ends the search.
type Func func(x float64) (float64, error)

// Brent returns x in [low, high] with f(x) = 0 to within tolerance in x, by
// Brent's method: inverse quadratic interpolation and the secant, with
// bisection whenever they do not halve the step.
//
// Domain: low < high, both finite; tolerance >= 0; f continuous, with f(low)
// and f(high) of opposite signs or one of them zero. Errors: *domain.RangeError
// for a bad bracket or tolerance, *domain.NotConverged for ends of one sign, a
// value that is not finite or too many steps, and any error f returns.
//
// Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973),
// chapter 4.
func Brent(f Func, low, high, tolerance float64) (float64, error) {
	if err := checkBracket(low, high, tolerance); err != nil {
		return 0, err
	}
	atLow, err := evaluate(f, low, low, high)
	if err != nil {
		return 0, err
	}
	atHigh, err := evaluate(f, high, low, high)
	if err != nil {
		return 0, err
	}
	return Between(f, low, atLow, high, atHigh, tolerance)
}

func checkBracket(low, high, tolerance float64) error {
	return domain.First(
		domain.CheckFinite("bracket low end", low, ""),
		domain.CheckFinite("bracket high end", high, ""),
		domain.CheckNotNegative("tolerance", tolerance, ""),
		domain.Check("bracket low end", low, math.Inf(-1), high, ""),
	)
}

// evaluate returns f(x), which must be finite.
func evaluate(f Func, x, low, high float64) (float64, error) {
	y, err := f(x)
	if err != nil {
		return 0, err
	}
	if math.IsNaN(y) || math.IsInf(y, 0) {
		return 0, &domain.NotConverged{Method: "Brent root search", Low: low, High: high, Last: x,
			Residual: y, Reason: "the function is not finite"}
	}
	return y, nil
}

// Between is Brent where f(low) and f(high) are known already, both finite.
func Between(f Func, low, atLow, high, atHigh, tolerance float64) (float64, error) {
	if err := domain.First(
		domain.CheckFinite("value at the bracket's low end", atLow, ""),
		domain.CheckFinite("value at the bracket's high end", atHigh, ""),
		checkBracket(low, high, tolerance),
	); err != nil {
		return 0, err
	}
	a, fa, b, fb := low, atLow, high, atHigh
	if fa == 0 {
		return a, nil
	}
	if fb == 0 {
		return b, nil
	}
	if math.Signbit(fa) == math.Signbit(fb) {
		return 0, &domain.NotConverged{Method: "Brent root search", Low: low, High: high, Last: b, Residual: fb,
			Reason: fmt.Sprintf("both ends have the same sign, %.6g and %.6g", fa, fb)}
	}

	c, fc := a, fa
	step := b - a
	previous := step
	for range MaxIterations {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		limit := 2*machineEpsilon*math.Abs(b) + tolerance/2
		half := (c - b) / 2
		if math.Abs(half) <= limit || fb == 0 {
			return b, nil
		}
		if math.Abs(previous) < limit || math.Abs(fa) <= math.Abs(fb) {
			step, previous = half, half
		} else {
			step, previous = interpolate(a, b, c, fa, fb, fc, half, limit, step, previous)
		}
		a, fa = b, fb
		if math.Abs(step) > limit {
			b += step
		} else {
			b += math.Copysign(limit, half)
		}
		var err error
		if fb, err = evaluate(f, b, low, high); err != nil {
			return 0, err
		}
		if math.Signbit(fb) == math.Signbit(fc) {
			c, fc = a, fa
			step = b - a
			previous = step
		}
	}
	return 0, &domain.NotConverged{Method: "Brent root search", Iterations: MaxIterations,
		Low: math.Min(b, c), High: math.Max(b, c), Last: b, Residual: fb, Reason: "too many steps"}
}

// interpolate proposes the next step and falls back to bisection when the
// interpolated one would leave the bracket or shrink too slowly.
func interpolate(a, b, c, fa, fb, fc, half, limit, step, previous float64) (next, last float64) {
	var p, q float64
	s := fb / fa
	if a == c {
		p = 2 * half * s
		q = 1 - s
	} else {
		r := fb / fc
		t := fa / fc
		p = s * (2*half*t*(t-r) - (b-a)*(r-1))
		q = (t - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	} else {
		p = -p
	}
	if 2*p < math.Min(3*half*q-math.Abs(limit*q), math.Abs(previous*q)) {
		return p / q, step
	}
	return half, half
}
