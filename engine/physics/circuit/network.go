package circuit

import (
	"fmt"
)

// Network is a set of elements and the node whose voltage is zero. It does not change once made.
type Network struct {
	reference string
	elements  []Element
	nodes     []string       // reference first, then as first named
	index     map[string]int // of nodes
	ends      [][2]int       // nodes From and To of each element
	byName    map[string]int // of elements
}

// NewNetwork makes a network with a reference node (0 V, usually battery negative). It refuses an element
// whose values are outside their range, two elements of one name, and a reference no element touches.
func NewNetwork(reference string, elements ...Element) (*Network, error) {
	n := &Network{
		reference: reference,
		elements:  append([]Element(nil), elements...),
		nodes:     append(make([]string, 0, len(elements)+1), reference),
		index:     make(map[string]int, len(elements)+1),
		byName:    make(map[string]int, len(elements)),
		ends:      make([][2]int, len(elements)),
	}
	n.index[reference] = 0
	touched := false
	for i := range n.elements {
		e := &n.elements[i]
		if err := e.validate(); err != nil {
			return nil, err
		}
		if _, taken := n.byName[e.Name]; taken {
			return nil, fmt.Errorf("two elements are named %q: give each its own name", e.Name)
		}
		n.byName[e.Name] = i
		for end, node := range [2]string{e.From, e.To} {
			touched = touched || node == reference
			at, known := n.index[node]
			if !known {
				at = len(n.nodes)
				n.index[node] = at
				n.nodes = append(n.nodes, node)
			}
			n.ends[i][end] = at
		}
	}
	if !touched {
		return nil, fmt.Errorf("no element touches the reference node %q: connect the battery negative to it", reference)
	}
	return n, nil
}

// With returns a network with more elements.
func (n *Network) With(elements ...Element) (*Network, error) {
	return NewNetwork(n.reference, append(n.Elements(), elements...)...)
}

// Reference returns the name of the node at 0 V.
func (n *Network) Reference() string { return n.reference }

// Nodes returns the names of the nodes: the reference, then the others as the elements first name them.
func (n *Network) Nodes() []string { return append([]string(nil), n.nodes...) }

// Elements returns a copy of the elements in the order given.
func (n *Network) Elements() []Element { return append([]Element(nil), n.elements...) }
