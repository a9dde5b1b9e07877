package circuit

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"plumbline/engine/physics/domain"
)

const (
	newtonSteps     = 60    // iterations of one attempt
	newtonHalvings  = 30    // shortest step 2^-30
	newtonTolerance = 1e-12 // of the largest voltage
	runaway         = 1e6   // V, past any source this package takes
	rampSteps       = 24    // from no load to full load
	settleSteps     = 120   // of the settling in time
)

// loadProblem is the network seen from its non-linear elements:
//
//	F(v) = v - open - D s(v) = 0    s(v) = share i(v) - g v
//
// open are their voltages with all s at 0, D the response to s, and share ramps the loads from 0 to 1.
type loadProblem struct {
	elements []Element
	g        []float64
	open     []float64
	d        *mat.Dense

	hold   float64   // conductance that holds each voltage at its anchor while the network settles in time
	anchor []float64 // nil when it does not
}

func (t *tableau) loadProblem() (*loadProblem, error) {
	p := &loadProblem{g: t.parallel}
	for _, i := range t.curved {
		p.elements = append(p.elements, t.net.elements[i])
	}
	x, err := t.solve(make([]float64, len(t.curved)))
	if err != nil {
		return nil, err
	}
	p.open = t.across(x)
	p.d, err = t.response()
	return p, err
}

// sources returns s(v) and its slope.
func (p *loadProblem) sources(v []float64, share float64) (s, slope []float64, err error) {
	s, slope = make([]float64, len(v)), make([]float64, len(v))
	for k, e := range p.elements {
		amps, g, err := e.current(v[k])
		if err != nil {
			return nil, nil, err
		}
		s[k], slope[k] = share*amps-p.g[k]*v[k], share*g-p.g[k]
		if p.anchor != nil {
			s[k], slope[k] = s[k]+p.hold*(v[k]-p.anchor[k]), slope[k]+p.hold
		}
	}
	return s, slope, nil
}

// residual returns F(v), its norm and the slope of s.
func (p *loadProblem) residual(v []float64, share float64) (f *mat.VecDense, norm float64, slope []float64, err error) {
	s, slope, err := p.sources(v, share)
	if err != nil {
		return nil, 0, nil, err
	}
	f = mat.NewVecDense(len(v), nil)
	f.MulVec(p.d, mat.NewVecDense(len(s), s))
	for k := range v {
		f.SetVec(k, v[k]-p.open[k]-f.AtVec(k))
	}
	return f, mat.Norm(f, math.Inf(1)), slope, nil
}

// newton runs damped Newton steps from v: each step is halved until the residual falls.
func (p *loadProblem) newton(start []float64, share float64) ([]float64, error) {
	v := append([]float64(nil), start...)
	f, norm, slope, err := p.residual(v, share)
	if err != nil {
		return nil, err
	}
	for step := 0; step < newtonSteps; step++ {
		if p.tolerance(v) > newtonTolerance*runaway {
			return nil, p.stuck(v, f, step, "the voltage runs away")
		}
		if norm <= p.tolerance(v) {
			return v, nil
		}
		move, ok := p.step(f, slope)
		if !ok {
			return nil, p.stuck(v, f, step, "the slope is singular")
		}
		// Where a load's curve is steep, rounding keeps the residual up while the voltage is settled.
		if mat.Norm(move, math.Inf(1)) <= p.tolerance(v) {
			return v, nil
		}
		lowered := false
		for cut, half := 1.0, 0; half < newtonHalvings; cut, half = cut/2, half+1 {
			next := make([]float64, len(v))
			for k := range v {
				next[k] = v[k] - cut*move.AtVec(k)
			}
			nf, nn, ns, err := p.residual(next, share)
			if err != nil {
				return nil, err
			}
			if nn < norm*(1-1e-4*cut) {
				v, f, norm, slope, lowered = next, nf, nn, ns, true
				break
			}
		}
		if !lowered {
			return nil, p.stuck(v, f, step, "no step lowers the residual")
		}
	}
	return nil, p.stuck(v, f, newtonSteps, "too many steps")
}

// step solves (1 - D diag(slope)) move = f.
func (p *loadProblem) step(f *mat.VecDense, slope []float64) (*mat.VecDense, bool) {
	m := f.Len()
	jacobian := mat.NewDense(m, m, nil)
	for r := 0; r < m; r++ {
		for c := 0; c < m; c++ {
			jacobian.Set(r, c, -p.d.At(r, c)*slope[c])
		}
		jacobian.Set(r, r, 1+jacobian.At(r, r))
	}
	move := mat.NewVecDense(m, nil)
	err := move.SolveVec(jacobian, f)
	if condition, poor := err.(mat.Condition); err != nil && (!poor || math.IsInf(float64(condition), 1)) {
		return nil, false
	}
	for k := 0; k < m; k++ {
		if x := move.AtVec(k); math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, false
		}
	}
	return move, true
}

func (p *loadProblem) tolerance(v []float64) float64 {
	scale := 1.0
	for k := range v {
		scale = math.Max(scale, math.Max(math.Abs(v[k]), math.Abs(p.open[k])))
	}
	return newtonTolerance * scale
}

// stuck reports the load whose voltage is furthest from settled.
func (p *loadProblem) stuck(v []float64, f *mat.VecDense, steps int, reason string) error {
	worst := 0
	for k := range v {
		if math.Abs(f.AtVec(k)) > math.Abs(f.AtVec(worst)) {
			worst = k
		}
	}
	e := p.elements[worst]
	return fmt.Errorf("voltage of %s %q is not settled: %w", e.Kind, e.Name, &domain.NotConverged{
		Method: "network solution", Iterations: steps, Low: 0, High: p.open[worst], Last: v[worst],
		Residual: f.AtVec(worst), Reason: reason + "; the supply may be too weak for this load",
	})
}

// solve returns the voltages of the non-linear elements. It starts from the loads switched off, so that of
// two states a constant-power load allows it finds the one of higher voltage; then it ramps the loads
// up; then it lets the network settle in time from there and from 0 V, where loads are below their knees.
func (p *loadProblem) solve() ([]float64, error) {
	idle, err := p.newton(p.open, 0)
	if err != nil {
		if !errors.As(err, new(*domain.NotConverged)) {
			return nil, err
		}
		idle = p.open
	}
	v, first := p.newton(idle, 1)
	if first == nil || !errors.As(first, new(*domain.NotConverged)) {
		return v, first
	}
	v = idle
	for k := 1; k <= rampSteps && v != nil; k++ {
		v, _ = p.newton(v, float64(k)/rampSteps)
	}
	if v != nil {
		return v, nil
	}
	for _, start := range [][]float64{idle, make([]float64, len(p.open))} {
		if v, err = p.newton(start, 1); err == nil {
			return v, nil
		}
		if v, err = p.settle(start); err == nil {
			return v, nil
		}
	}
	return nil, first
}

// settle follows the network in time as if each load had a capacitor across it: implicit steps that
// lengthen while they succeed, until Newton's method holds without the capacitors.
func (p *loadProblem) settle(start []float64) ([]float64, error) {
	v, held := start, *p
	for _, g := range p.g {
		held.hold = math.Max(held.hold, 10*g)
	}
	var last error
	for step := 0; step < settleSteps; step++ {
		held.anchor = v
		next, err := held.newton(v, 1)
		if err != nil {
			held.hold *= 8
			last = err
			continue
		}
		v = next
		held.hold /= 3
		if v, last = p.newton(next, 1); last == nil {
			return v, nil
		}
		v = next
	}
	return nil, last
}
