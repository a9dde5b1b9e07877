package whatif

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// mover is one number of a design that moves, with those that move with it.
type mover struct {
	// name is that of a headline, "" for a number by itself.
	name string
	// lead is the fact that is moved, with are the others: in proportion, or by the same amount.
	lead  moved
	with  []moved
	alike bool
	// because is why they move together.
	because string
	units   quantity.System
	// sizes are those that are made, rising, for what is bought by size; none for what may be anything.
	sizes []float64
}

// moved is one fact that moves, in SI units, with the ends it may have.
type moved struct {
	schema.Visit
	base, low, high float64
}

func (m *mover) paths() []string {
	out := []string{m.lead.Path}
	for _, w := range m.with {
		out = append(out, w.Path)
	}
	return out
}

// at are the changes that put the lead at a value.
func (m *mover) at(x float64) []engine.Change {
	out := []engine.Change{m.lead.change(x)}
	for _, w := range m.with {
		to := w.base
		switch {
		case m.alike:
			to += x - m.lead.base
		case m.lead.base != 0:
			to *= x / m.lead.base
		}
		out = append(out, w.change(to))
	}
	return out
}

func (f *moved) change(x float64) engine.Change {
	x = min(max(x, f.low), f.high)
	if f.Kind == schema.KindInt {
		return engine.Change{Path: f.Path, Value: int(math.Round(x))}
	}
	return engine.Change{Path: f.Path, Value: quantity.MustNew(x, f.Dimension)}
}

// inside is the last value a meter shows, or a size that is made, between the lead's own and x; its own where there is none.
func (m *mover) inside(x float64) float64 {
	up := x > m.lead.base
	out := m.lead.base
	switch {
	case len(m.sizes) > 0:
		for _, s := range m.sizes {
			if up && s > m.lead.base && s <= x*(1+1e-9) || !up && s < m.lead.base && s >= x*(1-1e-9) && out == m.lead.base {
				out = s
			}
		}
		return out
	case m.lead.Kind == schema.KindInt && up:
		return math.Floor(x + 1e-9)
	case m.lead.Kind == schema.KindInt:
		return math.Ceil(x - 1e-9)
	}
	below, above := quantity.MustNew(x, m.lead.Dimension).Ticks(m.units)
	if up {
		return max(out, below.SI())
	}
	return min(out, above.SI())
}

// next is the value after x, away from the lead's own: the next a meter shows, or the next size; x where there is none.
func (m *mover) next(x float64, up bool) float64 {
	if len(m.sizes) > 0 {
		if !up {
			for _, s := range slices.Backward(m.sizes) {
				if s < x*(1-1e-9) {
					return s
				}
			}
			return x
		}
		for _, s := range m.sizes {
			if s > x*(1+1e-9) {
				return s
			}
		}
		return x
	}
	if m.lead.Kind == schema.KindInt {
		if up {
			return x + 1
		}
		return x - 1
	}
	return quantity.MustNew(x, m.lead.Dimension).Tick(m.units, up).SI()
}

// number is a value of the lead as it is printed.
func (m *mover) number(x float64) engine.Number {
	switch c := m.lead.change(x).Value.(type) {
	case quantity.Value:
		return engine.Number{Text: c.Format(m.units), Value: c.SI(), Dimension: m.lead.Dimension.String()}
	case int:
		return engine.Number{Text: strconv.Itoa(c), Value: float64(c)}
	}
	return engine.Number{}
}

// numbersOf are the numbers of a design that can move: each, the points of a curve as one, the wires of one way as one, and the
// headlines. Sizes of connections are no numbers: who needs another one takes another part.
func (n *Numbers) numbersOf(d *schema.Design, series []Series, units quantity.System) (headlines, all []*mover) {
	visits := map[string][]moved{}
	var order []moved
	schema.Walk(d, func(v schema.Visit) {
		x, ok := movedBy(d.Declared(), v)
		if !ok || slices.Contains(ofTheFile, schema.Path(v.Path).Section()) {
			return
		}
		visits[v.Type+"."+v.Key] = append(visits[v.Type+"."+v.Key], x)
		order = append(order, x)
	})
	sized := map[string]*group{}
	for _, g := range sizable(d, series, "") {
		for _, path := range g.facts {
			sized[path] = g
		}
	}
	done := map[string]bool{}
	for _, x := range order {
		if done[x.Path] {
			continue
		}
		m := &mover{lead: x, units: units}
		n.join(m, visits)
		if g := sized[x.Path]; g != nil && bought(x.Visit) {
			m.size(g, visits[x.Type+"."+x.Key])
		}
		for _, w := range m.with {
			if w.Type+"."+w.Key == x.Type+"."+x.Key {
				done[w.Path] = true
			}
		}
		all = append(all, m)
	}
	for _, h := range n.Headlines {
		var m *mover
		for _, fact := range h.Facts {
			for _, x := range visits[fact] {
				if m == nil {
					m = &mover{name: h.Name, lead: x, alike: true, units: units}
				} else {
					m.with = append(m.with, x)
				}
			}
		}
		if m != nil && len(h.Facts) == 1 {
			m.alike = false
			n.join(m, visits)
		}
		if m != nil {
			headlines = append(headlines, m)
		}
	}
	return headlines, all
}

// ofTheFile are the sections that are no facts of the vehicle.
var ofTheFile = []string{"plumbline", "concessions"}

// movedBy is a number that can move.
func movedBy(declared *schema.Declared, v schema.Visit) (moved, bool) {
	low, high, ok := declared.RangeOf(v.Type, v.Key)
	x := moved{Visit: v, low: low, high: high}
	if q, is := v.Quantity(); is && v.Dimension != quantity.DimDashSize {
		x.base = q.SI()
		return x, ok
	}
	if whole, is := v.Reading.Any().(int); is && v.Kind == schema.KindInt {
		x.base = float64(whole)
		return x, ok
	}
	return x, false
}

// join adds what moves with a number.
func (n *Numbers) join(m *mover, visits map[string][]moved) {
	for _, t := range n.Together {
		if t.Fact != m.lead.Type+"."+m.lead.Key {
			continue
		}
		for _, fact := range t.Move {
			for _, x := range visits[fact] {
				if x.Path != m.lead.Path && (fact != t.Fact || listOf(x.Path) == listOf(m.lead.Path)) {
					m.with = append(m.with, x)
				}
			}
		}
		if len(m.with) > 0 && len(t.Because) > 0 {
			m.because = t.Because[0].Practice + t.Because[0].Physics + t.Because[0].Memory
		}
	}
}

// listOf is the list that an item stands in; the part for what stands in none.
func listOf(path string) string {
	if i := strings.LastIndexByte(path, '['); i >= 0 {
		return path[:i]
	}
	return string(schema.Path(path).Parent())
}

// bought reports whether one takes the next size that is made, and nothing between: wires, straps, cables.
func bought(v schema.Visit) bool { return v.Dimension == quantity.DimWireSize }

// size makes a number one of a series, with those that take one size together.
func (m *mover) size(g *group, of []moved) {
	for _, text := range g.series.Sizes {
		m.sizes = append(m.sizes, sizeOf(m.lead.Path, text))
	}
	for _, x := range of {
		if x.Path != m.lead.Path && slices.Contains(g.facts, x.Path) {
			m.with = append(m.with, x)
		}
	}
	m.because = ""
}
