package engine

import (
	"math"
	"slices"
	"sync"

	"plumbline/schema"
)

// Lean is the way an open finding leans.
type Lean string

// The ways an open finding leans.
const (
	WouldPass Lean = "would pass"
	WouldWarn Lean = "would warn"
	WouldFail Lean = "would fail"
	// Turns is a finding that passes with some usual values and not with others.
	Turns Lean = "turns"
)

// Leaning is what an open finding would become with any usual value of what is not stated.
type Leaning struct {
	Lean Lean `json:"lean"`
	// Best and Worst are the best and the worst outcome met, Likely the one with all usual values.
	Best   Outcome `json:"best"`
	Worst  Outcome `json:"worst"`
	Likely Outcome `json:"likely"`
	// Fails is the share of the points at which it fails, WithinStated says that it fails with all usual values at an end of a
	// range that the design states.
	Fails        float64 `json:"fails"`
	WithinStated bool    `json:"within_stated,omitempty"`
	// Text says what would be found where it decides: at best for one that would fail, with all usual values for one that
	// turns and comes out badly with them, else where it comes nearest to turning. Remedy is what to do about it.
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
	// AtUsual says what would be found with all usual values.
	AtUsual string `json:"at_usual"`
	// Measured is the value there, Low and High its ends over all points tried; Bounds what bounds it there.
	Measured *Number      `json:"measured,omitempty"`
	Low      *Number      `json:"low,omitempty"`
	High     *Number      `json:"high,omitempty"`
	Bounds   []BoundFound `json:"bounds,omitempty"`
	// Stated are the facts of the design it rests on, Usual those with usual values, Patterns where they are from.
	Stated   []string `json:"stated,omitempty"`
	Usual    []string `json:"usual,omitempty"`
	Patterns []string `json:"patterns"`
	// Points is how many points were tried.
	Points int `json:"points"`
	// turn finds where it turns.
	turn func() *Turn
}

// often is the share of usual builds that fail from which somebody has to look: one in four. It is a choice, no figure of
// the trade; the lists of the counter are what it was tried on.
const often = 0.25

// OftenFails reports whether it fails with all usual values, with many, or within what the design itself leaves open.
func (l *Leaning) OftenFails() bool { return l.Likely == Fail || l.Fails >= often || l.WithinStated }

// Turn is where the finding turns by the one unknown that decides most, with the others at their usual worst; nil when it
// does not turn, or by no one value. It is found when it is asked for.
func (l *Leaning) Turn() *Turn {
	if l.turn == nil {
		return nil
	}
	return l.turn()
}

// Turn is where a finding turns: it passes on the side of At that Better names.
type Turn struct {
	Path string `json:"path"`
	At   Number `json:"at"`
	// Better is at_least or at_most.
	Better string `json:"better"`
	// Stated is true for a range of the design itself.
	Stated bool `json:"stated,omitempty"`
}

// Wanting is what an open finding becomes if nothing is fitted but what was named.
type Wanting struct {
	Outcome Outcome `json:"outcome"`
	Text    string  `json:"text"`
	Remedy  string  `json:"remedy"`
}

// leaning is how a finding leans; nil when it stays unjudged somewhere, or concerns nothing.
func (l *leaner) leaning(t *tried) *Leaning {
	if t.unjudged || len(t.at) == 0 {
		return nil
	}
	out := &Leaning{Points: len(t.at)}
	outcomes := map[Outcome]bool{}
	for i, f := range t.at {
		outcomes[f.Outcome] = true
		if f.Outcome == Fail {
			out.Fails += 1 / float64(len(t.at))
			out.WithinStated = out.WithinStated || t.boxes[i].allUsual(t.points[i])
		}
	}
	delete(outcomes, NotApplicable)
	for _, o := range []Outcome{Pass, Warn, Fail} {
		if outcomes[o] && out.Best == "" {
			out.Best = o
		}
		if outcomes[o] {
			out.Worst = o
		}
	}
	switch {
	case len(outcomes) == 0:
		return nil
	case len(outcomes) > 1:
		out.Lean = Turns
	case outcomes[Pass]:
		out.Lean = WouldPass
	case outcomes[Warn]:
		out.Lean = WouldWarn
	default:
		out.Lean = WouldFail
	}
	usual := t.usual()
	out.Likely, out.AtUsual = t.at[usual].Outcome, t.at[usual].Text
	at := t.worst()
	switch {
	case out.Lean == WouldFail:
		at = t.mildest()
	case out.Lean == Turns && out.Likely != Pass:
		at = usual
	}
	deciding := t.at[at]
	out.Text, out.Remedy, out.Measured, out.Bounds = deciding.Text, deciding.Remedy, deciding.Measured, deciding.Bounds
	for i, f := range t.at {
		if f.Measured != nil {
			if out.Low == nil || f.Measured.Value < out.Low.Value {
				out.Low = f.Measured
			}
			if out.High == nil || f.Measured.Value > out.High.Value {
				out.High = f.Measured
			}
		}
		for _, p := range t.boxes[i].patterns {
			if !slices.Contains(out.Patterns, p.Name) {
				out.Patterns = append(out.Patterns, p.Name)
			}
		}
	}
	for path := range t.rests {
		switch {
		case slices.ContainsFunc(t.boxes, func(b *box) bool { return b.usual[path] }):
			out.Usual = append(out.Usual, path)
		case said(l.design.At(path)):
			out.Stated = append(out.Stated, path)
		}
	}
	slices.Sort(out.Usual)
	slices.Sort(out.Stated)
	if out.Lean == Turns {
		about := pointKey{t.open.Rule, t.open.Subject} // the findings are arranged before it is asked
		out.turn = sync.OnceValue(func() *Turn { return l.turn(t, about) })
	}
	return out
}

// said reports whether a design says anything of what stands at a path.
func said(at any) bool {
	switch at := at.(type) {
	case schema.Reading:
		return schema.IsStated(at)
	case schema.Optional:
		return at.Presence() != schema.NotStated
	case schema.Listing:
		return at.Known() || at.Len() > 0
	}
	return false
}

// usual is the trial with all usual values; of the ways it may be built, the one that comes out worst.
func (t *tried) usual() int {
	best := 0
	for i, f := range t.at {
		if !slices.ContainsFunc(t.points[i], func(x float64) bool { return x != 0 }) && f.Outcome.Rank() < t.at[best].Outcome.Rank() {
			best = i
		}
	}
	return best
}

// worst is the trial that comes nearest to breaking, or breaks most.
func (t *tried) worst() int {
	best, least, rank := 0, math.Inf(1), len(outcomeOrder)
	for i, f := range t.at {
		m := marginOf(f)
		if r := f.Outcome.Rank(); r < rank || r == rank && m < least {
			best, least, rank = i, m, r
		}
	}
	return best
}

// marginOf is the least margin of a finding's bounds, negative outside.
func marginOf(f *Finding) float64 {
	least := math.Inf(1)
	for _, b := range f.Bounds {
		if b.Margin != nil {
			least = min(least, *b.Margin)
		}
	}
	return least
}

// mildest is the trial that breaks least: if even that fails, all do.
func (t *tried) mildest() int {
	best, most := 0, math.Inf(-1)
	for i, f := range t.at {
		if m := marginOf(f); f.Outcome == Fail && m > most {
			best, most = i, m
		}
	}
	return best
}
