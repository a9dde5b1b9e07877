package engine

import (
	"plumbline/engine/pattern"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Usual is a design in which what nobody stated is as it usually is, in one of the ways it may be built.
type Usual struct {
	// Patterns are where the usual values are from; none for a design that nothing usual is added to.
	Patterns []*pattern.Pattern
	// Design has every number at its usual value, and the ranges it states at their middle.
	Design *schema.Design
	// Numbers are those known between two ends, Filled all facts that were filled, words too.
	Numbers []UsualNumber
	Filled  map[string]bool
	box     *box
}

// UsualNumber is a number known between two ends: one vehicle in twenty lies below the low one, one above the high one.
type UsualNumber struct {
	// Paths are the facts that move together: the points of a curve, the wires of a circuit.
	Paths []string
	// Low, Usual and High are those of the first of them, in SI units; of one that is a share of others, what the share makes.
	Low, Usual, High float64
	Dimension        quantity.Dimension
	// From is the pattern that says it; nil for a range that the design itself states.
	From *pattern.Pattern
	at   int
}

// UsualWays are the ways a design may be built, each with what is usual of it: what no pattern fills stays unknown. There is
// always one.
func (l *Library) UsualWays(d *schema.Design, o Options) []*Usual {
	j := l.open(d, o, l.values(o))
	combinations := combined(j.fittingOf(o.Patterns).groups)
	if len(combinations) == 0 {
		combinations = [][]*pattern.Pattern{nil}
	}
	out := make([]*Usual, 0, len(combinations))
	for _, patterns := range combinations {
		out = append(out, usualOf(boxOf(d, patterns)))
	}
	return out
}

func usualOf(b *box) *Usual {
	u := &Usual{Patterns: b.patterns, Filled: b.usual, box: b, Design: b.point(make([]float64, len(b.dims)))}
	for i := range b.dims {
		x := &b.dims[i]
		if x.with != i {
			continue
		}
		n := UsualNumber{Low: x.low, Usual: x.usual, High: x.high, Dimension: x.dimension, From: x.from, at: i}
		for k := range b.dims {
			if b.dims[k].with == i {
				n.Paths = append(n.Paths, b.dims[k].path)
			}
		}
		if x.scaled != nil {
			n.Low, n.Usual, n.High = scaledTo(x, u.Design, -1), scaledTo(x, u.Design, 0), scaledTo(x, u.Design, 1)
		}
		u.Numbers = append(u.Numbers, n)
	}
	return u
}

// scaledTo is what a number that is a share of others is at a coordinate.
func scaledTo(x *dim, d *schema.Design, t float64) float64 {
	if v, ok := x.scaled.Value(d, x.at(t)); ok {
		return sizeOf(v)
	}
	return 0
}

// Moved is the design with one of its numbers at its low end (-1), its high one (1) or between.
func (u *Usual) Moved(number int, to float64) *schema.Design {
	return u.box.point(u.box.moved(make([]float64, len(u.box.dims)), u.Numbers[number].at, to))
}
