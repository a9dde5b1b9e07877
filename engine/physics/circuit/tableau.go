package circuit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// tableau is the linear part of a network. Its unknowns are the voltages of the nodes, merged across
// resistors of 0 ohm, and the current of every other element, so Kirchhoff's current law holds
// to rounding however small a resistance is. A non-linear element is a conductance plus a source
// current s that Newton's method settles:
//
//	I - g V = s
type tableau struct {
	net      *Network
	root     sets
	column   []int // of a node's voltage, -1 for the reference
	branch   []int // of an element's current, -1 for a short
	lu       mat.LU
	system   *mat.Dense
	fixed    *mat.VecDense // right-hand side with all s = 0
	curved   []int         // non-linear elements
	parallel []float64     // g of each of them
}

// newTableau sets up and factors the tableau, with the given g of the non-linear elements or, if nil, one
// near the working slope of each.
func newTableau(n *Network, parallel []float64) (*tableau, error) {
	t := &tableau{net: n, parallel: parallel, root: n.merged(), column: make([]int, len(n.nodes)), branch: make([]int, len(n.elements))}
	size := 0
	for i := range n.nodes {
		t.column[i] = -1
		if t.root.find(i) == i && i != 0 {
			t.column[i] = size
			size++
		}
	}
	for i := range n.nodes {
		t.column[i] = t.column[t.root.find(i)]
	}
	for i, e := range n.elements {
		t.branch[i] = -1
		if !e.isShort() {
			t.branch[i] = size
			size++
		}
		if !e.linear() {
			t.curved = append(t.curved, i)
			if parallel == nil {
				g, err := e.parallelConductance()
				if err != nil {
					return nil, err
				}
				t.parallel = append(t.parallel, g)
			}
		}
	}
	if size == 0 {
		return t, nil
	}
	t.system, t.fixed = mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	for i, e := range n.elements {
		if t.branch[i] < 0 {
			continue
		}
		t.stamp(i, e)
	}
	for k, i := range t.curved {
		t.stampCurve(i, t.parallel[k])
	}
	t.lu.Factorize(t.system)
	if math.IsInf(t.lu.Cond(), 1) {
		return nil, fmt.Errorf("singular: the network has no single solution; look for sources without internal resistance and parts joined at one end only")
	}
	return t, nil
}

// stamp enters one element: its current into the current law of its nodes, and its own equation
// V - R I = E (scaled by R where that is large) or I - g V = s.
func (t *tableau) stamp(i int, e Element) {
	from, to, current := t.places(i)
	t.add(from, current, 1)
	t.add(to, current, -1)
	switch {
	case e.Kind == KindResistor, e.Kind == KindResistive, e.Kind == KindVoltageSource:
		scale := math.Max(1, e.Ohms)
		t.add(current, from, 1/scale)
		t.add(current, to, -1/scale)
		t.add(current, current, -e.Ohms/scale)
		if e.Kind == KindVoltageSource {
			t.fixed.SetVec(current, e.Volts/scale)
		}
	case e.linear():
		t.add(current, current, 1)
		t.fixed.SetVec(current, e.Amps)
	}
}

// stampCurve enters I - g V = s of a non-linear element.
func (t *tableau) stampCurve(i int, g float64) {
	from, to, current := t.places(i)
	t.add(current, current, 1)
	t.add(current, from, -g)
	t.add(current, to, g)
}

func (t *tableau) places(i int) (from, to, current int) {
	e := t.net.elements[i]
	return t.column[t.net.index[e.From]], t.column[t.net.index[e.To]], t.branch[i]
}

func (t *tableau) add(row, column int, v float64) {
	if row >= 0 && column >= 0 {
		t.system.Set(row, column, t.system.At(row, column)+v)
	}
}

// parallelConductance returns the g that stands for a non-linear element in the linear part: near its
// working slope, so that a node fed only through it is settled. The solution does not depend on it.
func (e Element) parallelConductance() (float64, error) {
	var g float64
	switch e.Kind {
	case KindConstantCurrent:
		g = e.Amps / e.Knee
	case KindConstantPower:
		g = e.Watts / (e.Knee * e.Knee)
	case KindRegulatedSource:
		g = e.Amps / e.Volts
	case KindMotor:
		middle := (e.Low + e.High) / 2
		amps, slope, err := e.motorCurrent(middle)
		if err != nil {
			return 0, err
		}
		g = slope
		if g <= 0 && middle != 0 {
			g = amps / middle
		}
	}
	return math.Min(math.Max(g, 1e-6), 1e3), nil
}

// solve returns the unknowns for given source currents of the non-linear elements, refined once.
func (t *tableau) solve(s []float64) (*mat.VecDense, error) {
	rhs := mat.VecDenseCopyOf(t.fixed)
	for k, i := range t.curved {
		rhs.SetVec(t.branch[i], s[k])
	}
	x := mat.NewVecDense(rhs.Len(), nil)
	if err := t.backSubstitute(x, rhs); err != nil {
		return nil, err
	}
	var residual mat.VecDense
	residual.MulVec(t.system, x)
	residual.SubVec(rhs, &residual)
	correction := mat.NewVecDense(rhs.Len(), nil)
	if err := t.backSubstitute(correction, &residual); err != nil {
		return nil, err
	}
	x.AddVec(x, correction)
	for i := 0; i < x.Len(); i++ {
		if v := x.AtVec(i); math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("singular: the network has no finite solution; look for parts joined at one end only")
		}
	}
	return x, nil
}

// response returns how the voltage of each non-linear element changes with the source current s of
// each of them: row k, column j is dV(k)/ds(j).
func (t *tableau) response() (*mat.Dense, error) {
	m := len(t.curved)
	d := mat.NewDense(m, m, nil)
	size := t.fixed.Len()
	for j, i := range t.curved {
		rhs, x := mat.NewVecDense(size, nil), mat.NewVecDense(size, nil)
		rhs.SetVec(t.branch[i], 1)
		if err := t.backSubstitute(x, rhs); err != nil {
			return nil, err
		}
		for k, v := range t.across(x) {
			d.Set(k, j, v)
		}
	}
	return d, nil
}

// backSubstitute solves the factored system. A poor condition number alone is no fault here, as the
// rows mix volts and amperes: the residuals are checked at the end.
func (t *tableau) backSubstitute(x, rhs *mat.VecDense) error {
	err := t.lu.SolveVecTo(x, false, rhs)
	if condition, poor := err.(mat.Condition); poor && !math.IsInf(float64(condition), 1) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("singular: the network has no single solution: %w", err)
	}
	return nil
}

// across returns the voltages of the non-linear elements.
func (t *tableau) across(x *mat.VecDense) []float64 {
	v := make([]float64, len(t.curved))
	for k, i := range t.curved {
		e := t.net.elements[i]
		v[k] = t.voltage(x, t.net.index[e.From]) - t.voltage(x, t.net.index[e.To])
	}
	return v
}

func (t *tableau) voltage(x *mat.VecDense, node int) float64 {
	if t.column[node] < 0 {
		return 0
	}
	return x.AtVec(t.column[node])
}
