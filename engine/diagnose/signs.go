package diagnose

import (
	"slices"
)

// costSign is what a candidate pays for a sign that was seen and that none of its troubles gives: a sign is a word and no reading, but
// a sound vehicle gives none, so that a trouble which does comes before it.
const costSign = costTrouble + 1

// unexplained is what the signs seen cost a candidate.
func (r *running) unexplained(c *candidate) float64 {
	cost := 0.0
	for _, sign := range r.seen {
		if !slices.ContainsFunc(c.troubles, func(t *trouble) bool { return slices.Contains(t.Decl.Sees, sign) }) {
			cost += costSign
		}
	}
	return cost
}

// spokenFor are the troubles known by their signs alone that were not left among the first: what nobody can reckon may be there all
// the same. Those with most of the signs come first.
func (r *running) spokenFor() []Fitted {
	count := func(t *trouble) (n int) {
		for _, sign := range r.seen {
			if slices.Contains(t.Decl.Sees, sign) {
				n++
			}
		}
		return n
	}
	var list []*trouble
	for _, t := range r.unsized {
		left := slices.ContainsFunc(r.all[:r.first()], func(c *candidate) bool { return r.all[0].explains && slices.Contains(c.troubles, t) })
		if count(t) > 0 && !left {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b *trouble) int { return count(b) - count(a) })
	var out []Fitted
	for _, t := range list {
		out = append(out, r.fitted(t))
	}
	return out
}

// bySigns adds the troubles that are known by their signs alone, where one of theirs was seen. They move no reading.
func (r *running) bySigns() {
	for _, t := range r.unsized {
		if !slices.ContainsFunc(r.seen, func(sign string) bool { return slices.Contains(t.Decl.Sees, sign) }) {
			continue
		}
		t.samples = []sample{{0, r.sound, r.weigh.misfit(r.sound)}}
		r.add(&candidate{troubles: []*trouble{t}, along: []float64{0}, misfit: t.samples[0].misfit, cost: costTrouble, shows: r.sound})
	}
}
