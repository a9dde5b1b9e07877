package diagnose

import (
	"fmt"
	"math"
	"slices"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// sameWay is how much better a way the vehicle may be built has to explain the readings than one before it.
const sameWay = 1

// ways ranks the troubles in every way the vehicle may be built, and gives the one that explains the readings best with the
// others. Ways that no reading tells apart are one.
func ways(lib *engine.Library, d *schema.Design, o engine.Options, seen []string) (best *running, others []*running) {
	var all []*running
	for _, u := range lib.UsualWays(d, o) {
		r := newRunning(lib, u, o)
		r.seen = seen
		if slices.ContainsFunc(all, func(x *running) bool { return x.same(r) }) {
			continue
		}
		if len(r.taken)+len(seen) > 0 {
			r.rank()
		}
		all = append(all, r)
		if best == nil || len(r.taken) > len(best.taken) || len(r.taken) == len(best.taken) && len(r.all) > 0 && r.all[0].score() < best.all[0].score()-sameWay {
			best = r
		}
	}
	return best, slices.DeleteFunc(all, func(r *running) bool { return r == best || len(r.taken) < len(best.taken) })
}

// same reports whether two ways have the same troubles, the same numbers known between two ends, and the same expected of every
// reading taken.
func (r *running) same(x *running) bool {
	if len(r.taken) != len(x.taken) || len(r.troubles) != len(x.troubles) || len(r.usual.Numbers) != len(x.usual.Numbers) || len(r.taken) == 0 && len(r.probes) != len(x.probes) {
		return false
	}
	for i, p := range r.taken {
		if p.Fact != x.taken[i].Fact || math.Abs(r.sound[i]-x.sound[i]) > p.sigma(p.measured)/10 {
			return false
		}
	}
	return true
}

// held are the readings taken, beside what a sound vehicle would show.
func (r *running) held() []Held {
	out := []Held{}
	apart := r.weigh.apart(r.sound)
	solved := r.weigh.solved(apart)
	for i, p := range r.taken {
		margin := 2 * r.weigh.total(i)
		h := Held{Fact: p.Fact, Title: p.Decl.Title, Measured: r.measured(p), Sound: r.reading(p, r.sound[i]),
			Margin: r.number(margin, spread(p.Dimension)), Off: apart[i] / margin}
		if math.Abs(h.Off) > slipped {
			h.Meant = r.meant(p, r.sound[i], margin)
		}
		if own := 2 * r.weigh.sigma[i]; margin > widened*own {
			n := r.number(own, spread(p.Dimension))
			h.Own = &n
			unit := make([]float64, len(r.taken))
			unit[i] = 1
			inverse := r.weigh.solved(unit)[i]
			off, alone := solved[i]/inverse, 2/math.Sqrt(inverse) // of the reading left out
			if len(r.taken) > 1 {
				h.Beside = &Beside{Sound: r.reading(p, p.measured-off), Margin: r.number(alone, spread(p.Dimension)), Off: off / alone}
			}
		}
		out = append(out, h)
	}
	return out
}

// slipped is how many margins a reading lies off before it is asked whether another unit was meant.
const slipped = 3

// meant is what a reading was perhaps meant to be that a sound vehicle would show; "" for nothing.
func (r *running) meant(p *probe, sound, margin float64) string {
	fact := r.design.FactAt(p.Fact)
	if fact == nil || math.Abs(sound) <= margin {
		return "" // of next to nothing anything small enough is
	}
	for _, s := range quantity.Slips(fact.Text(), p.Dimension) {
		if math.Abs(s.Value.SI()-sound) <= margin {
			return s.Text
		}
	}
	return ""
}

// widened is from how many times its own margin on a reading's is said to be widened by usual values.
const widened = 1.1

// leastMoved is the share of its variance that a usual value must make of a reading to be named.
const leastMoved = 0.02

// taking says what was taken as usual of what the readings rest on, the facts first that would sharpen the answer most: how much more
// the first candidates would differ, and the readings from those of a sound vehicle.
func (r *running) taking(others []*running) *Taken {
	out := &Taken{Built: r.design}
	first := r.all[:min(max(r.first(), 2), len(r.all))]
	if sound := slices.IndexFunc(r.all, func(c *candidate) bool { return len(c.troubles) == 0 }); sound >= len(first) {
		first = append(slices.Clone(first), r.all[sound])
	}
	measured := make([]float64, len(r.taken))
	for i, p := range r.taken {
		measured[i] = p.measured
	}
	for k, n := range r.usual.Numbers {
		if !slices.ContainsFunc(r.weigh.indices(), func(i int) bool {
			m := r.weigh.moves[i][k]
			return m*m > leastMoved*r.weigh.total(i)*r.weigh.total(i)
		}) {
			continue
		}
		if n.From != nil && !slices.Contains(out.Ways, n.From.Title) {
			out.Ways = append(out.Ways, n.From.Title)
		}
		fact := UsualFact{Path: n.Paths[0], Low: r.asNumber(n.Low, n.Dimension), Usual: r.asNumber(n.Usual, n.Dimension), High: r.asNumber(n.High, n.Dimension), Stated: n.From == nil}
		fact.Sharpens = r.weigh.told(measured, r.sound, k) // how much more the readings would speak against a sound vehicle
		for i, a := range first {
			for _, b := range first[:i] {
				fact.Sharpens += r.weigh.told(a.shows, b.shows, k)
			}
		}
		out.Facts = append(out.Facts, fact)
	}
	slices.SortStableFunc(out.Facts, func(a, b UsualFact) int { return cmpFloat(b.Sharpens, a.Sharpens) })
	for _, x := range others {
		if w := x.otherwise(r); w != nil {
			out.Others = append(out.Others, *w)
		}
	}
	if len(out.Facts) == 0 && len(out.Others) == 0 {
		return nil
	}
	return out
}

// indices are those of the readings.
func (s *scale) indices() []int {
	out := make([]int, len(s.taken))
	for i := range out {
		out[i] = i
	}
	return out
}

// asNumber is a number that may be a count.
func (r *running) asNumber(value float64, d quantity.Dimension) engine.Number {
	if !d.Valid() {
		return engine.Number{Value: value, Text: fmt.Sprintf("%g", rounded(value))}
	}
	return r.number(value, d)
}

// otherwise is what comes first in a way in which the vehicle may be built too; nil where that is one of the first of the best way,
// or fits worse than they do.
func (r *running) otherwise(best *running) *OtherWay {
	a := r.all[0]
	if a.score() > best.all[0].score()+near || slices.ContainsFunc(best.all[:best.first()], func(b *candidate) bool {
		return slices.EqualFunc(a.troubles, b.troubles, func(x, y *trouble) bool { return x.ID == y.ID })
	}) {
		return nil
	}
	out := &OtherWay{}
	for i, p := range r.usual.Patterns {
		if i < len(best.usual.Patterns) && best.usual.Patterns[i] != p {
			out.Way = p.Title
		}
	}
	for _, t := range a.troubles {
		out.Troubles, out.Titles = append(out.Troubles, t.ID), append(out.Titles, t.Decl.Title)
	}
	return out
}
