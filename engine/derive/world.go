package derive

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
	"plumbline/schema/quantity"
)

// Unsettled is something a model knows only between two ends.
type Unsettled int

// What models leave between bounds.
const (
	PumpFlow    Unsettled = iota // outside the printed points of the pump's curve
	PumpCurrent                  // outside them
	PumpSpeed                    // at voltages the affinity laws do not reach
	unsettledCount
)

// World says, for each thing left unsettled, where between its ends it is: 0
// at the least, 1 at the most. A session computes in one world; the zero world
// is the one values are shown in.
type World [unsettledCount]float64

// Bound is an unsettled thing that a value met, with the facts that would
// settle or narrow it and why it is not known better.
type Bound struct {
	Of      Unsettled
	Settled []string
	Why     string
}

// bounded are the bounds a value met, with its part, to be computed anew.
type bounded struct {
	bounds []Bound
	on     any
}

// worldly are the sessions of one design, by world.
type worldly struct{ sessions map[World]*Session }

// In is the session of the same design in another world. Sessions of other
// worlds are made when asked for and kept.
func (s *Session) In(w World) *Session {
	if w == s.world {
		return s
	}
	if s.others == nil {
		s.others = &worldly{sessions: map[World]*Session{s.world: s}}
	}
	out := s.others.sessions[w]
	if out == nil {
		out = NewSession(s.design, s.options)
		out.world, out.others = w, s.others
		s.others.sessions[w] = out
	}
	return out
}

// Worlds are those in which something resting on bounds is to be looked at:
// each of the bounds at either end, and all in the middle. The zero world is
// the first.
func Worlds(bounds []Bound) []World {
	out := []World{{}}
	var middle World
	var done [unsettledCount]bool
	for _, b := range bounds {
		if done[b.Of] {
			continue
		}
		done[b.Of], middle[b.Of] = true, 0.5
		for _, w := range slices.Clone(out) {
			w[b.Of] = 1
			out = append(out, w)
		}
	}
	if len(out) == 1 {
		return out
	}
	return append(out, middle)
}

// Across calls look in every world that the bounds met make, and in those that
// the bounds met there make, until no more are met. look returns the bounds it
// met.
func Across(met []Bound, look func(World) []Bound) []Bound {
	seen := map[World]bool{}
	for {
		before := len(met)
		for _, w := range Worlds(met) {
			if !seen[w] {
				seen[w] = true
				met = JoinBounds(met, look(w))
			}
		}
		if len(met) == before {
			return met
		}
	}
}

// JoinBounds adds the bounds that are not there yet.
func JoinBounds(list, more []Bound) []Bound {
	for _, b := range more {
		if !slices.ContainsFunc(list, func(x Bound) bool { return x.Of == b.Of && x.Why == b.Why }) {
			list = append(list[:len(list):len(list)], b)
		}
	}
	return list
}

// Bounds are the bounds the value met; it is then one of several it may be.
func (r *Result) Bounds() []Bound {
	if r.bounded == nil {
		return nil
	}
	return r.bounded.bounds
}

// Span is a value over all worlds: each that it can be, once, numbers and
// quantities by size. Nil stands for none.
type Span []any

// Span evaluates a value in all the worlds its bounds make.
func (s *Session) Span(r *Result) Span {
	out := Span{r.Value()}
	if r.bounded == nil {
		return out
	}
	Across(r.Bounds(), func(w World) []Bound {
		other := s.In(w).Evaluate(r.Entry, r.bounded.on, r.Point)
		if v := other.Value(); !slices.Contains(out, v) {
			out = append(out, v)
		}
		return other.Bounds()
	})
	slices.SortStableFunc(out, func(a, b any) int { return cmp.Compare(sizeOf(a), sizeOf(b)) })
	return out
}

// Ends are the least and the most of a number or quantity, in SI units.
func (s Span) Ends() (low, high float64) { return sizeOf(s[0]), sizeOf(s[len(s)-1]) }

func sizeOf(v any) float64 {
	switch v := v.(type) {
	case quantity.Value:
		return v.SI()
	case float64:
		return v
	}
	return 0
}

// text writes a span: its one value, from the least to the most, or each.
func (s Span) text(units quantity.System) string {
	var texts []string
	for _, v := range s {
		text := NotKnown
		if v != nil {
			text = ValueText(v, units)
		}
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	switch s[len(s)-1].(type) {
	case quantity.Value, float64:
		if len(texts) > 1 {
			return texts[0] + " to " + texts[len(texts)-1]
		}
	}
	return strings.Join(texts, " or ")
}

// end is where between its ends the session's world puts an unsettled thing.
func (c *Calc) end(of Unsettled) float64 { return c.session.world[of] }

// outside notes what of a pump's curve is known only between bounds at a rise.
// The curve was printed at a voltage and moved to its own.
func (c *Calc) outside(curve fluid.Curve, printedAt, rise float64, wantFlow, wantCurrent bool) {
	flow, current, speed := curve.Outside(rise)
	flow, current = flow && wantFlow, current && wantCurrent
	if !flow && !current && !speed {
		return
	}
	p := &c.Design().Pump
	settled := []string{p.Curve.Path()}
	moved := fmt.Sprintf("its curve is moved from %.3g V to %.3g V and ", printedAt, curve.Voltage())
	if curve.Voltage() == printedAt {
		moved = ""
	}
	if speed {
		c.meets(Bound{Of: PumpSpeed, Settled: settled,
			Why: fmt.Sprintf("the pump's flow is known only between bounds, as it gets %.3g V and its curve was printed at %.3g V; give a curve for about %.3g V",
				curve.Voltage(), printedAt, curve.Voltage())})
	}
	low, high := curve.PrintedRange()
	why := func(what string, low, high float64) string {
		e := domain.RangeError{Quantity: "the pump's " + what + " is known only between bounds, as " + moved + "the pressure across it",
			Value: rise, Low: low, High: high, Unit: "Pa"}
		return e.Error() + "; give a point of the curve there"
	}
	if flow {
		if _, stated := p.DeadHeadPressure.Get(); !stated && rise > high {
			settled = append(settled, p.DeadHeadPressure.Path())
		}
		c.meets(Bound{Of: PumpFlow, Settled: settled, Why: why("flow", low, high)})
	}
	if current {
		low, high := curve.CurrentRange()
		c.meets(Bound{Of: PumpCurrent, Settled: settled[:1], Why: why("current", low, high)})
	}
}

// meets notes a bound the calculation rests on.
func (c *Calc) meets(b Bound) { c.bounds = JoinBounds(c.bounds, []Bound{b}) }
