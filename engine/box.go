package engine

import (
	"math"
	"slices"

	"plumbline/engine/derive"
	"plumbline/engine/pattern"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// dim is one number of a box.
type dim struct {
	path             string
	low, usual, high float64 // in SI units, or shares for a scaled number
	dimension        quantity.Dimension
	whole            bool
	scaled           *pattern.Scaled
	from             *pattern.Pattern // nil for a range of the design
	badIsLow         bool
	// with is the place of the first number of its kind: the points of a curve, the wires of a circuit move together.
	with int
}

// at is the value at a coordinate: -1 its low end, 0 the usual one, 1 the high end.
func (d *dim) at(t float64) float64 {
	if t < 0 {
		return d.usual + t*(d.usual-d.low)
	}
	return d.usual + t*(d.high-d.usual)
}

// mostCounted is how many values a whole number may have for each to be tried.
const mostCounted = 64

// counted reports whether each value of a whole number is tried.
func (d *dim) counted() bool { return d.whole && d.high-d.low < mostCounted }

// to is the coordinate of a value.
func (d *dim) to(v float64) float64 {
	switch {
	case v < d.usual:
		return (v - d.usual) / (d.usual - d.low)
	case v > d.usual:
		return (v - d.usual) / (d.high - d.usual)
	}
	return 0
}

// bad is the coordinate of the end that is bad for supply.
func (d *dim) bad() float64 {
	if d.badIsLow {
		return -1
	}
	return 1
}

// box is a design with ranges: its own, and those of patterns.
type box struct {
	patterns []*pattern.Pattern
	design   *schema.Design
	dims     []dim
	// usual are the paths of the facts that were filled, words too.
	usual map[string]bool
	// coordinates are those tried, and made the designs there, where they are kept to be judged again.
	coordinates [][]float64
	made        []*derive.Session
	// keeps is how many are kept.
	keeps int
}

// boxOf fills a design with patterns.
func boxOf(d *schema.Design, patterns []*pattern.Pattern) *box {
	b := &box{patterns: patterns, design: d, usual: map[string]bool{}}
	from := map[string]*pattern.Pattern{}
	if len(patterns) > 0 {
		others := make([]*schema.Design, len(patterns))
		for i, p := range patterns {
			others[i] = p.Design
		}
		var filled [][]string
		b.design, filled = d.Fill(others, pattern.Same)
		for i, paths := range filled {
			for _, path := range paths {
				b.usual[path], from[path] = true, patterns[i]
			}
		}
	}
	for _, fact := range b.design.Ranges() {
		low, usual, high := fact.Ends()
		x := dim{path: fact.Path(), from: from[fact.Path()]}
		switch v := low.(type) {
		case int:
			x.whole, x.low, x.usual, x.high = true, float64(v), float64(usual.(int)), float64(high.(int))
		case interface {
			SI() float64
			Dimension() quantity.Dimension
		}:
			x.dimension = v.Dimension()
			x.low, x.usual, x.high = v.SI(), sizeOf(usual), sizeOf(high)
		}
		b.dims = append(b.dims, x)
	}
	for _, p := range patterns {
		for i := range p.Scaled {
			for _, s := range p.Scaled[i].Items(b.design) {
				if fact := b.design.FactAt(s.Fact); fact == nil || schema.IsStated(fact) || b.usual[s.Fact] || !b.has(s.By) {
					continue
				}
				b.usual[s.Fact] = true
				b.dims = append(b.dims, dim{path: s.Fact, low: s.Low, usual: s.Usual, high: s.High, dimension: s.Dimension, scaled: &s, from: p})
			}
		}
	}
	first := map[string]int{}
	for i := range b.dims {
		kind := pattern.Generic(b.dims[i].path)
		if _, known := first[kind]; !known {
			first[kind] = i
		}
		b.dims[i].with = first[kind]
		b.dims[i].badIsLow = b.dims[i].from != nil && b.dims[i].from.BadIsLow(b.dims[i].path)
	}
	return b
}

// has reports whether all of some facts are stated, or usual.
func (b *box) has(facts []string) bool {
	return !slices.ContainsFunc(facts, func(path string) bool { return !b.usual[path] && !schema.IsStated(b.design.FactAt(path)) })
}

// moved is a point with one number, and those that move with it, at another coordinate.
func (b *box) moved(from []float64, which int, to float64) []float64 {
	out := slices.Clone(from)
	for i := range b.dims {
		if b.dims[i].with == b.dims[which].with {
			out[i] = to
		}
	}
	return out
}

func sizeOf(v any) float64 {
	if q, ok := v.(interface{ SI() float64 }); ok {
		return q.SI()
	}
	return 0
}

// point is the design with each number at its coordinate.
func (b *box) point(t []float64) *schema.Design {
	d := b.design.Clone()
	for i := range b.dims {
		x := &b.dims[i]
		switch {
		case x.scaled != nil:
			x.scale(d, t[i])
		case x.whole:
			put(d, x.path, int(math.Round(x.at(t[i]))))
		default:
			if v, err := quantity.New(x.at(t[i]), x.dimension); err == nil {
				put(d, x.path, v)
			}
		}
	}
	return d
}

// scale puts the number at a coordinate that is a share of others.
func (x *dim) scale(d *schema.Design, t float64) {
	if x.scaled == nil {
		return
	}
	if v, ok := x.scaled.Value(d, x.at(t)); ok {
		put(d, x.path, v)
	}
}

// put states a fact at a path of the design, of a value of its type.
func put(d *schema.Design, path string, value any) {
	if err := d.Put(path, value); err != nil {
		panic(err)
	}
}

// together is how far all usual values are moved at once, as a share of the way to their ends. An end is what one vehicle
// in twenty has; that all of many numbers lie there is no usual vehicle. For independent numbers the ends of a sum move
// with the root of their count: six that matter alike give 0.4.
const together = 0.5

// points are the coordinates to try: the usual values first; all towards the end that is bad for supply, all towards the
// other; each pattern alone and each kind of number that the design states as a range, at its very ends; and a few mixed.
// A range of the design is always tried at its ends.
func (b *box) points() [][]float64 {
	n := len(b.dims)
	out := [][]float64{make([]float64, n)}
	if n == 0 {
		return out
	}
	mix := func(share func(i int) float64) []float64 {
		t := make([]float64, n)
		for i := range t {
			if t[i] = b.dims[i].bad() * share(i); b.dims[i].from == nil {
				t[i] = math.Copysign(1, t[i])
			}
		}
		return t
	}
	out = append(out, mix(func(int) float64 { return together }), mix(func(int) float64 { return -together }))
	groups, group := b.groups()
	for g := range groups {
		for _, end := range []float64{1, -1} {
			t := make([]float64, n)
			for i := range t {
				if group[i] == g {
					t[i] = b.dims[i].bad() * end
				}
			}
			if b.dims[slices.Index(group, g)].from != nil {
				for i := range t {
					t[i] *= alone
				}
			}
			out = append(out, t)
		}
	}
	seed := uint32(1)
	for range 4 {
		worst := make([]float64, n)
		for i := range worst {
			seed = seed*1664525 + 1013904223
			worst[i] = together * (2*float64(seed>>31) - 1)
		}
		out = append(out, mix(func(i int) float64 { return worst[b.dims[i].with] }))
	}
	return out
}

// groups are the patterns of the numbers, and those numbers by themselves that a design states as a range; group says to
// which each belongs.
func (b *box) groups() (groups []any, group []int) {
	group = make([]int, len(b.dims))
	for i := range b.dims {
		var key any = b.dims[i].path
		if b.dims[i].from != nil {
			key = b.dims[i].from
		}
		at := slices.Index(groups, key)
		if at < 0 {
			at = len(groups)
			groups = append(groups, key)
		}
		group[i] = at
	}
	return groups, group
}

// allUsual reports whether every usual number stands at its usual value at a point, and some range of the design does not.
func (b *box) allUsual(t []float64) bool {
	own := false
	for i, x := range t {
		if x != 0 && b.dims[i].from != nil {
			return false
		}
		own = own || x != 0
	}
	return own
}

// alone is how far the numbers of one pattern are moved at once while the others stay usual: they are those of one thing
// and few, so farther than all together; by the root of their count two that matter alike give 0.7.
const alone = 0.7

// perLine are the points of a line through a box.
const perLine = 7

// lines are points on lines through the box of the ranges a design states, perLine on each: each range by itself, with the
// others in their middle, and several diagonals.
func (b *box) lines() [][]float64 {
	n := len(b.dims)
	var out [][]float64
	line := func(end []float64) {
		for i := range perLine {
			at := 2*float64(i)/float64(perLine-1) - 1
			t := make([]float64, n)
			for k := range t {
				t[k] = at * end[k]
			}
			out = append(out, t)
		}
	}
	for i := range n {
		end := make([]float64, n)
		end[i] = 1
		line(end)
		x := &b.dims[i]
		if !x.counted() || max(x.usual-x.low, x.high-x.usual) <= perLine/2 {
			continue
		}
		for v := x.low; v < x.high+perLine; v++ { // whole lines of seven
			t := make([]float64, n)
			t[i] = x.to(min(v, x.high))
			out = append(out, t)
		}
		out = out[:len(out)/perLine*perLine]
	}
	seed := uint32(1)
	for d := range 6 {
		end := make([]float64, n)
		for i := range end {
			end[i] = 1
			if seed = seed*1664525 + 1013904223; d > 0 && seed>>31 == 1 {
				end[i] = -1
			}
		}
		line(end)
	}
	return out
}
