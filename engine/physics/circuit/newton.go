package circuit

import (
	"errors"
	"fmt"
	"math"

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
	d        []float64 // row by row

	hold   float64   // conductance that holds each voltage at its anchor while the network settles in time
	anchor []float64 // nil when it does not
}

func (t *tableau) loadProblem() (*loadProblem, error) {
	x, err := t.solve(make([]float64, len(t.curved)))
	if err != nil {
		return nil, err
	}
	p := t.loads(t.response(t.curved))
	for k, i := range t.curved {
		p.open[k] = t.across(x, i)
	}
	return p, nil
}

// loads is the problem with a response, without the open voltages.
func (t *tableau) loads(response []float64) *loadProblem {
	p := &loadProblem{g: t.parallel, d: response, open: make([]float64, len(t.curved)), elements: make([]Element, len(t.curved))}
	for k, i := range t.curved {
		p.elements[k] = t.net.elements[i]
	}
	return p
}

// source returns s(v) of one element and its slope.
func (p *loadProblem) source(k int, v, share float64) (s, slope float64, err error) {
	amps, g, err := p.elements[k].current(v)
	if err != nil {
		return 0, 0, err
	}
	s, slope = share*amps-p.g[k]*v, share*g-p.g[k]
	if p.anchor != nil {
		s, slope = s+p.hold*(v-p.anchor[k]), slope+p.hold
	}
	return s, slope, nil
}

// sources returns s(v).
func (p *loadProblem) sources(v []float64) ([]float64, error) {
	s := make([]float64, len(v))
	for k := range v {
		var err error
		if s[k], _, err = p.source(k, v[k], 1); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// trial is a set of voltages with what Newton's method wants to know of it: F, its norm and the slope of s.
type trial struct {
	v, f, slope []float64
	norm        float64
}

// newTrial cuts a trial of m voltages from room.
func newTrial(m int, room []float64) trial {
	return trial{v: room[:m:m], f: room[m : 2*m : 2*m], slope: room[2*m : 3*m : 3*m]}
}

// evaluate fills in the trial of t.v.
func (p *loadProblem) evaluate(t *trial, share float64) error {
	m := len(t.v)
	for k := range t.v {
		t.f[k] = t.v[k] - p.open[k]
	}
	for k := range t.v {
		s, slope, err := p.source(k, t.v[k], share)
		if err != nil {
			return err
		}
		t.slope[k] = slope
		for r := range t.f {
			t.f[r] -= p.d[r*m+k] * s
		}
	}
	t.norm = largestOf(t.f)
	return nil
}

// newton runs damped Newton steps from v: each step is halved until the residual falls.
func (p *loadProblem) newton(start []float64, share float64) ([]float64, error) {
	m := len(start)
	room := make([]float64, 7*m+m*m)
	now, next, move, jacobian := newTrial(m, room), newTrial(m, room[3*m:]), room[6*m:7*m], room[7*m:]
	var f factors
	copy(now.v, start)
	if err := p.evaluate(&now, share); err != nil {
		return nil, err
	}
	for step := 0; step < newtonSteps; step++ {
		tolerance := p.tolerance(now.v)
		if tolerance > newtonTolerance*runaway {
			return nil, p.stuck(&now, step, "the voltage runs away")
		}
		if now.norm <= tolerance {
			return now.v, nil
		}
		if !p.step(&now, &f, jacobian, move) {
			return nil, p.stuck(&now, step, "the slope is singular")
		}
		// Where a load's curve is steep, rounding keeps the residual up while the voltage is settled.
		if largestOf(move) <= tolerance {
			return now.v, nil
		}
		lowered := false
		for cut, half := 1.0, 0; half < newtonHalvings; cut, half = cut/2, half+1 {
			for k := range move {
				next.v[k] = now.v[k] - cut*move[k]
			}
			if err := p.evaluate(&next, share); err != nil {
				return nil, err
			}
			if next.norm < now.norm*(1-1e-4*cut) {
				now, next, lowered = next, now, true
				break
			}
		}
		if !lowered {
			return nil, p.stuck(&now, step, "no step lowers the residual")
		}
	}
	return nil, p.stuck(&now, newtonSteps, "too many steps")
}

// step solves (1 - D diag(slope)) move = F. It is false when there is no finite solution.
func (p *loadProblem) step(t *trial, f *factors, jacobian, move []float64) bool {
	m := len(move)
	for r := range m {
		for c := range m {
			jacobian[r*m+c] = -p.d[r*m+c] * t.slope[c]
		}
		jacobian[r*m+r]++
	}
	if !f.factorize(m, jacobian) {
		return false
	}
	copy(move, t.f)
	f.solve(move)
	return finite(move)
}

func (p *loadProblem) tolerance(v []float64) float64 {
	return newtonTolerance * max(1, largestOf(v), largestOf(p.open))
}

// stuck reports the load whose voltage is furthest from settled.
func (p *loadProblem) stuck(t *trial, steps int, reason string) error {
	worst := 0
	for k, f := range t.f {
		if math.Abs(f) > math.Abs(t.f[worst]) {
			worst = k
		}
	}
	e := p.elements[worst]
	return fmt.Errorf("voltage of %s %q is not settled: %w", e.Kind, e.Name, &domain.NotConverged{
		Method: "network solution", Iterations: steps, Low: 0, High: p.open[worst], Last: t.v[worst],
		Residual: t.f[worst], Reason: reason + "; the supply may be too weak for this load",
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
