package circuit

import "math"

// state returns the unknowns of the tableau with the non-linear elements at their solution.
func (t *tableau) state() ([]float64, error) {
	if t.fixed == nil {
		return nil, nil
	}
	if len(t.curved) == 0 {
		return t.solve(nil)
	}
	p, err := t.loadProblem()
	if err != nil {
		return nil, err
	}
	v, err := p.solve()
	if err != nil {
		return nil, err
	}
	s, err := p.sources(v)
	if err != nil {
		return nil, err
	}
	x, err := t.solve(s)
	if err != nil {
		return nil, err
	}
	for round := 0; round < polishRounds && t.offCurve(x) > polishTolerance; round++ {
		better, err := t.polish(x)
		if err != nil || t.offCurve(better) >= t.offCurve(x) {
			break
		}
		x = better
	}
	return x, nil
}

const (
	polishRounds    = 4
	polishTolerance = 1e-12 // of the largest current
)

// polish solves the tableau anew with each non-linear element as the tangent of its curve. Where a curve
// is steep and the network round it is not stiff, this sheds the rounding the fixed g leaves.
func (t *tableau) polish(x []float64) ([]float64, error) {
	slopes, s := make([]float64, len(t.curved)), make([]float64, len(t.curved))
	for k, i := range t.curved {
		v := t.across(x, i)
		amps, slope, err := t.net.elements[i].current(v)
		if err != nil {
			return nil, err
		}
		slopes[k], s[k] = slope, amps-slope*v
	}
	tangent, err := newTableau(t.net, slopes)
	if err != nil {
		return nil, err
	}
	return tangent.solve(s)
}

// offCurve returns how far the worst non-linear element's current is off its curve, over the largest
// current of all elements.
func (t *tableau) offCurve(x []float64) float64 {
	worst, largest := 0.0, 1e-9
	for _, b := range t.branch {
		if b >= 0 {
			largest = math.Max(largest, math.Abs(x[b]))
		}
	}
	for _, i := range t.curved {
		amps, _, err := t.net.elements[i].current(t.across(x, i))
		if err != nil {
			return math.Inf(1)
		}
		worst = math.Max(worst, math.Abs(amps-x[t.branch[i]]))
	}
	return worst / largest
}
