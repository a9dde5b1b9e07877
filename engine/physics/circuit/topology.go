package circuit

import (
	"fmt"
	"slices"
	"strings"
)

// sets is a disjoint-set forest over node numbers whose representative is the lowest number.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join unites the sets of a and b and says whether they were apart.
func (s sets) join(a, b int) bool {
	a, b = s.find(a), s.find(b)
	if a == b {
		return false
	}
	if b < a {
		a, b = b, a
	}
	s[b] = a
	return true
}

// isShort says whether the element makes one node of two.
func (e *Element) isShort() bool { return e.Kind == KindResistor && e.Ohms < negligible }

// merged returns the nodes united by resistors of no resistance.
func (n *Network) merged() sets {
	s := newSets(len(n.nodes))
	for i := range n.elements {
		if n.elements[i].isShort() {
			s.join(n.ends[i][0], n.ends[i][1])
		}
	}
	return s
}

// checkTopology refuses nodes whose voltage nothing settles and loops of ideal sources.
func (n *Network) checkTopology() error {
	any, tied := newSets(len(n.nodes)), newSets(len(n.nodes))
	for i := range n.elements {
		from, to := n.ends[i][0], n.ends[i][1]
		any.join(from, to)
		if n.elements[i].conducts() {
			tied.join(from, to)
		}
	}
	var floating, driven []string
	for i, name := range n.nodes {
		switch {
		case any.find(i) != 0:
			floating = append(floating, fmt.Sprintf("%q", name))
		case tied.find(i) != 0:
			driven = append(driven, fmt.Sprintf("%q", name))
		}
	}
	if len(floating) > 0 {
		return fmt.Errorf("floating: %s has no connection to %q; add the missing wire or leave the part out",
			strings.Join(floating, ", "), n.reference)
	}
	if len(driven) > 0 {
		return fmt.Errorf("singular: the voltage of %s is settled by nothing, as only current sources lead from there to %q; add a resistive path or give the load a knee voltage",
			strings.Join(driven, ", "), n.reference)
	}
	ideal := n.merged()
	for i := range n.elements {
		e := &n.elements[i]
		if e.Kind != KindVoltageSource || e.Ohms >= negligible {
			continue
		}
		if !ideal.join(n.ends[i][0], n.ends[i][1]) {
			return fmt.Errorf("singular: voltage source %q has no internal resistance and is shorted, or parallel to another such source; give it its internal resistance", e.Name)
		}
	}
	return nil
}

// connected returns the elements tied to the reference by some path of elements, in order. It reuses the
// slice.
func connected(reference string, elements []Element) []Element {
	reached := map[string]bool{reference: true}
	for grew := true; grew; {
		grew = false
		for i := range elements {
			e := &elements[i]
			if reached[e.From] != reached[e.To] {
				reached[e.From], reached[e.To] = true, true
				grew = true
			}
		}
	}
	return slices.DeleteFunc(elements, func(e Element) bool { return !reached[e.From] || !reached[e.To] })
}
