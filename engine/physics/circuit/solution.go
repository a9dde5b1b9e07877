package circuit

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// Branch is the state of one element. Power is what the element takes up, negative for one that delivers.
type Branch struct {
	Element Element
	Volts   float64 // From over To
	Amps    float64 // From to To through the element
	Watts   float64
}

// Solution is the state of a network.
type Solution struct {
	net      *Network
	volts    []float64
	branches []Branch

	// CurrentResidual is the largest sum of currents at a node, in A; 0 in exact arithmetic.
	CurrentResidual float64
	// PowerResidual is the sum of the power of all elements, in W; 0 in exact arithmetic.
	PowerResidual float64
	// Delivered is the power of the elements that deliver, in W.
	Delivered float64
	// Starved names the loads below their knee voltage, in order of the elements.
	Starved []string
}

// Voltage returns that of a node over the reference, in V.
func (s *Solution) Voltage(node string) (float64, error) {
	i, known := s.net.index[node]
	if !known {
		return 0, fmt.Errorf("network has no node %q", node)
	}
	return s.volts[i], nil
}

// Branch returns the state of an element.
func (s *Solution) Branch(element string) (Branch, error) {
	i, known := s.net.byName[element]
	if !known {
		return Branch{}, fmt.Errorf("network has no element %q", element)
	}
	return s.branches[i], nil
}

// Branches returns the state of all elements in the order of the network.
func (s *Solution) Branches() []Branch { return append([]Branch(nil), s.branches...) }

// Solve finds the voltages and currents of the network by nodal analysis with the element currents
// kept as unknowns, and Newton's method for loads that are not linear. Errors: floating nodes by name; a
// singular network; a motor outside the range of its curve (*domain.RangeError); no settled state
// (*domain.NotConverged, which names the load and carries its last voltage). Where resistors of 0 ohm
// lie parallel the current divides as between equal small resistances.
func (n *Network) Solve() (*Solution, error) {
	if err := n.checkTopology(); err != nil {
		return nil, err
	}
	t, err := newTableau(n, nil)
	if err != nil {
		return nil, err
	}
	return t.solution()
}

// solution works out the state of the network and checks it.
func (t *tableau) solution() (*Solution, error) {
	x, err := t.state()
	if err != nil {
		return nil, err
	}
	n := t.net
	s := &Solution{net: n, volts: make([]float64, len(n.nodes)), branches: make([]Branch, len(n.elements))}
	for i := range n.nodes {
		s.volts[i] = t.voltage(x, i)
	}
	for i := range n.elements {
		b := &s.branches[i]
		b.Element, b.Volts = n.elements[i], s.volts[n.ends[i][0]]-s.volts[n.ends[i][1]]
		if t.branch[i] >= 0 {
			b.Amps = x[t.branch[i]]
		}
	}
	if err := s.shareShorts(t.root); err != nil {
		return nil, err
	}
	s.balance()
	if err := s.check(); err != nil {
		return nil, err
	}
	return s, nil
}

// balance fills in power, residuals and the starved loads.
func (s *Solution) balance() {
	sums := make([]float64, len(s.volts))
	for i := range s.branches {
		b := &s.branches[i]
		b.Watts = b.Volts * b.Amps
		s.PowerResidual += b.Watts
		if b.Watts < 0 {
			s.Delivered -= b.Watts
		}
		sums[s.net.ends[i][0]] += b.Amps
		sums[s.net.ends[i][1]] -= b.Amps
		if b.Element.Knee > 0 && math.Abs(b.Volts) < b.Element.Knee*(1-1e-9) {
			s.Starved = append(s.Starved, b.Element.Name)
		}
	}
	for _, sum := range sums {
		s.CurrentResidual = math.Max(s.CurrentResidual, math.Abs(sum))
	}
}

// check refuses a solution that breaks Kirchhoff's law or leaves the range of a curve.
func (s *Solution) check() error {
	largest := 0.0
	for i := range s.branches {
		largest = math.Max(largest, math.Abs(s.branches[i].Amps))
	}
	if s.CurrentResidual > 1e-9*math.Max(largest, 1e-9) {
		return &domain.NotConverged{Method: "network solution", Iterations: 1, High: largest, Last: largest,
			Residual: s.CurrentResidual, Reason: "currents at a node do not add up; the resistances lie too far apart"}
	}
	for i := range s.branches {
		b := &s.branches[i]
		if !b.Element.linear() {
			amps, slope, err := b.Element.current(b.Volts)
			if err != nil {
				return err
			}
			// A voltage is settled to 1e-10 of itself; a steep curve turns that into current.
			if off := math.Abs(amps - b.Amps); off > 1e-9*math.Max(largest, 1e-9)+math.Abs(slope*b.Volts)*1e-10 {
				return &domain.NotConverged{Method: "network solution", Iterations: 1, High: largest, Last: b.Amps, Residual: off,
					Reason: fmt.Sprintf("current of %s %q is off its curve", b.Element.Kind, b.Element.Name)}
			}
		}
		if b.Element.Kind != KindMotor {
			continue
		}
		if err := domain.Check(fmt.Sprintf("voltage of motor %q", b.Element.Name), b.Volts, b.Element.Low-1e-9, b.Element.High+1e-9, "V"); err != nil {
			return err
		}
	}
	return nil
}

// shareShorts finds the currents of the resistors of 0 ohm from what the other elements bring to their
// nodes, as the limit of equal vanishing resistances: in each merged group a unit-conductance network is solved.
func (s *Solution) shareShorts(root sets) error {
	n := s.net
	row := make([]int, len(n.nodes))
	size := 0
	for i := range n.nodes {
		row[i] = -1
		if root.find(i) != i {
			row[i] = size
			size++
		}
	}
	if size == 0 {
		return nil
	}
	laplacian, brought := make([]float64, size*size), make([]float64, size)
	add := func(a, b int, v float64) {
		if a >= 0 && b >= 0 {
			laplacian[a*size+b] += v
		}
	}
	for i := range n.elements {
		e, from, to := &n.elements[i], row[n.ends[i][0]], row[n.ends[i][1]]
		if e.isShort() {
			if e.From == e.To {
				continue
			}
			add(from, from, 1)
			add(to, to, 1)
			add(from, to, -1)
			add(to, from, -1)
			continue
		}
		if from >= 0 {
			brought[from] -= s.branches[i].Amps
		}
		if to >= 0 {
			brought[to] += s.branches[i].Amps
		}
	}
	var f factors
	if !f.factorize(size, laplacian) {
		return fmt.Errorf("singular: the resistors of 0 ohm cannot be solved; give them a small resistance")
	}
	f.solve(brought)
	at := func(node int) float64 {
		if r := row[node]; r >= 0 {
			return brought[r]
		}
		return 0
	}
	for i := range n.elements {
		if n.elements[i].isShort() {
			s.branches[i].Amps = at(n.ends[i][0]) - at(n.ends[i][1])
		}
	}
	return nil
}
