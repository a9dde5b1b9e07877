package circuit

import (
	"fmt"

	"plumbline/engine/physics/domain"
)

// FaultElement is the name of the short FaultCurrent puts into a network.
const FaultElement = "fault"

// FaultCurrent returns the current (A) that flows through a short of the given resistance (0 to 1e9 ohm)
// from a node to another, usually the reference, with the whole state. Loads are left out, as is
// usual for a prospective short-circuit current; sources stay. A network that already has an element named
// "fault" is refused, and so is a node with no path to a source.
func (n *Network) FaultCurrent(node, to string, ohms float64) (float64, *Solution, error) {
	var kept []Element
	for _, e := range n.elements {
		if !e.IsLoad() {
			kept = append(kept, e)
		}
	}
	kept = connected(n.reference, append(kept, Resistor(FaultElement, node, to, ohms)))
	found := false
	for _, e := range kept {
		found = found || e.Name == FaultElement
	}
	if !found {
		return 0, nil, fmt.Errorf("fault node %q has no path to a source and to %q without its loads", node, n.reference)
	}
	if _, known := n.index[node]; !known {
		return 0, nil, fmt.Errorf("network has no node %q to short", node)
	}
	if _, known := n.index[to]; !known {
		return 0, nil, fmt.Errorf("network has no node %q to short to", to)
	}
	shorted, err := NewNetwork(n.reference, kept...)
	if err != nil {
		return 0, nil, err
	}
	state, err := shorted.Solve()
	if err != nil {
		return 0, nil, err
	}
	b, err := state.Branch(FaultElement)
	if err != nil {
		return 0, nil, err
	}
	if err := domain.CheckFinite("fault current", b.Amps, "A"); err != nil {
		return 0, nil, err
	}
	return b.Amps, state, nil
}
