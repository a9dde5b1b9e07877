package circuit

import (
	"fmt"
	"slices"

	"plumbline/engine/physics/domain"
)

// FaultElement is the name of the short FaultCurrent puts into a network.
const FaultElement = "fault"

// FaultCurrent returns the current (A) that flows through a short of the given resistance (0 to 1e9 ohm)
// from a node to another, usually the reference, with the whole state. Loads are left out, as is
// usual for a prospective short-circuit current; sources stay. A network that already has an element named
// "fault" is refused, and so is a node with no path to a source.
func (n *Network) FaultCurrent(node, to string, ohms float64) (float64, *Solution, error) {
	return ShortCircuit(n.reference, n.elements, node, to, ohms)
}

// ShortCircuit is FaultCurrent of the network that the elements would form, which need not be made for it.
func ShortCircuit(reference string, elements []Element, node, to string, ohms float64) (float64, *Solution, error) {
	kept := make([]Element, 0, len(elements)+1)
	for i := range elements {
		if !elements[i].IsLoad() {
			kept = append(kept, elements[i])
		}
	}
	kept = connected(reference, append(kept, Resistor(FaultElement, node, to, ohms)))
	if !slices.ContainsFunc(kept, func(e Element) bool { return e.Name == FaultElement }) {
		return 0, nil, fmt.Errorf("fault node %q has no path to a source and to %q without its loads", node, reference)
	}
	for _, name := range [2]string{node, to} {
		if !slices.ContainsFunc(elements, func(e Element) bool { return e.From == name || e.To == name }) {
			return 0, nil, fmt.Errorf("network has no node %q to short", name)
		}
	}
	shorted, err := NewNetwork(reference, kept...)
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
