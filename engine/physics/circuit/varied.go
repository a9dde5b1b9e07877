package circuit

import (
	"fmt"
	"slices"
)

// Varied is a network with one load whose current is varied while all else stays: the network is set up
// and factored once. Superposition gives the load's voltage: that of the load drawing nothing, and the
// responses to its own current and to the source currents of the non-linear elements (Thevenin's theorem,
// where there are none). It is not safe for concurrent use.
type Varied struct {
	tableau  *tableau
	load     int       // index of the element
	ports    []int     // the non-linear elements, then the load
	response []float64 // dV(k)/ds(j) of the ports, row by row; s of the load is its current
	open     []float64 // their voltages with all s at 0
	problem  *loadProblem
}

// Vary prepares the network for other currents of one load, which must be a constant-current load without
// knee voltage. Errors as Solve, but for those that only a solution shows.
func (n *Network) Vary(load string) (*Varied, error) {
	i, known := n.byName[load]
	if !known {
		return nil, fmt.Errorf("network has no element %q to vary", load)
	}
	if e := &n.elements[i]; e.Kind != KindConstantCurrent || e.Knee != 0 {
		return nil, fmt.Errorf("%s %q cannot be varied: make it a constant-current load with a knee of 0 V", e.Kind, e.Name)
	}
	if err := n.checkTopology(); err != nil {
		return nil, err
	}
	t, err := newTableau(n, nil)
	if err != nil {
		return nil, err
	}
	if n.elements[i].Amps != 0 {
		t = t.with(i, 0)
	}
	v := &Varied{tableau: t, load: i, ports: append(slices.Clone(t.curved), i)}
	x, err := t.solve(make([]float64, len(t.curved)))
	if err != nil {
		return nil, err
	}
	for _, port := range v.ports {
		v.open = append(v.open, t.across(x, port))
	}
	// The non-linear elements' own part of the response, for Newton's method.
	m := len(t.curved)
	v.response = t.response(v.ports)
	d := make([]float64, 0, m*m)
	for k := range m {
		d = append(d, v.response[k*(m+1):k*(m+1)+m]...)
	}
	v.problem = t.loads(d)
	return v, nil
}

// Voltage returns the voltage over the load when it draws a current, 0 to 1e5 A. Errors: a current outside
// of that, and those of the non-linear elements as in Solve.
func (v *Varied) Voltage(amps float64) (float64, error) {
	m := len(v.tableau.curved)
	if err := v.check(amps); err != nil {
		return 0, err
	}
	row := v.response[m*(m+1):]
	volts := v.open[m] + row[m]*amps
	if m == 0 {
		return volts, nil
	}
	for k := range m {
		v.problem.open[k] = v.open[k] + v.response[k*(m+1)+m]*amps
	}
	at, err := v.problem.solve()
	if err != nil {
		return 0, err
	}
	s, err := v.problem.sources(at)
	if err != nil {
		return 0, err
	}
	for k := range m {
		volts += row[k] * s[k]
	}
	return volts, nil
}

// Solve finds the state of the network with the load drawing a current, 0 to 1e5 A, as Network.Solve does.
func (v *Varied) Solve(amps float64) (*Solution, error) {
	if err := v.check(amps); err != nil {
		return nil, err
	}
	return v.tableau.with(v.load, amps).solution()
}

func (v *Varied) check(amps float64) error {
	e := v.tableau.net.elements[v.load]
	e.Amps = amps
	return e.validate()
}

// with is the tableau of the same network with another current of a constant-current load without knee.
func (t *tableau) with(load int, amps float64) *tableau {
	net, other := *t.net, *t
	net.elements = slices.Clone(net.elements)
	net.elements[load].Amps = amps
	other.net, other.fixed = &net, slices.Clone(t.fixed)
	other.fixed[t.branch[load]] = amps
	return &other
}
