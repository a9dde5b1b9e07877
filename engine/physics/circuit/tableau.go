package circuit

import (
	"fmt"
	"math"
	"slices"
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
	size     int   // number of unknowns
	system   []entry
	factors  factors
	fixed    []float64 // right-hand side with all s = 0
	curved   []int     // non-linear elements
	parallel []float64 // g of each of them
}

// entry adds v to one place of the system's matrix.
type entry struct {
	row, column int32
	v           float64
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
	for i := range n.elements {
		e := &n.elements[i]
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
	t.size, t.system, t.fixed = size, make([]entry, 0, 5*len(n.elements)), make([]float64, size)
	for i := range n.elements {
		if t.branch[i] >= 0 {
			t.stamp(i, &n.elements[i])
		}
	}
	for k, i := range t.curved {
		t.stampCurve(i, t.parallel[k])
	}
	matrix := make([]float64, size*size)
	for _, e := range t.system {
		matrix[int(e.row)*size+int(e.column)] += e.v
	}
	if !t.factors.factorize(size, matrix) {
		return nil, fmt.Errorf("singular: the network has no single solution; look for sources without internal resistance and parts joined at one end only")
	}
	return t, nil
}

// stamp enters one element: its current into the current law of its nodes, and its own equation
// V - R I = E (scaled by R where that is large) or I - g V = s.
func (t *tableau) stamp(i int, e *Element) {
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
			t.fixed[current] = e.Volts / scale
		}
	case e.linear():
		t.add(current, current, 1)
		t.fixed[current] = e.Amps
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
	return t.column[t.net.ends[i][0]], t.column[t.net.ends[i][1]], t.branch[i]
}

func (t *tableau) add(row, column int, v float64) {
	if row >= 0 && column >= 0 {
		t.system = append(t.system, entry{int32(row), int32(column), v})
	}
}

// parallelConductance returns the g that stands for a non-linear element in the linear part: near its
// working slope, so that a node fed only through it is settled. The solution does not depend on it.
func (e *Element) parallelConductance() (float64, error) {
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

// solve returns the unknowns for given source currents of the non-linear elements, refined once. A poor
// condition alone is no fault here, as the rows mix volts and amperes: the residuals are checked at the end.
func (t *tableau) solve(s []float64) ([]float64, error) {
	rhs := slices.Clone(t.fixed)
	for k, i := range t.curved {
		rhs[t.branch[i]] = s[k]
	}
	x := slices.Clone(rhs)
	t.factors.solve(x)
	// rhs becomes what x leaves over, and then the correction.
	for _, e := range t.system {
		rhs[e.row] -= e.v * x[e.column]
	}
	t.factors.solve(rhs)
	for r := range x {
		x[r] += rhs[r]
	}
	if !finite(x) {
		return nil, fmt.Errorf("singular: the network has no finite solution; look for parts joined at one end only")
	}
	return x, nil
}

// response returns how the voltage of each of the given elements changes with the source current of each
// of them: row k, column j is dV(k)/ds(j).
func (t *tableau) response(elements []int) []float64 {
	m := len(elements)
	d, x := make([]float64, m*m), make([]float64, t.size)
	for j, i := range elements {
		clear(x)
		x[t.branch[i]] = 1
		t.factors.solve(x)
		for k, of := range elements {
			d[k*m+j] = t.across(x, of)
		}
	}
	return d
}

// across returns the voltage of an element.
func (t *tableau) across(x []float64, element int) float64 {
	from, to := t.net.ends[element][0], t.net.ends[element][1]
	return t.voltage(x, from) - t.voltage(x, to)
}

func (t *tableau) voltage(x []float64, node int) float64 {
	if t.column[node] < 0 {
		return 0
	}
	return x[t.column[node]]
}
