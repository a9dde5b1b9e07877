package diagnose

import (
	"math"
	"slices"
)

// Two troubles together: how many of the best single ones are put with every other, how many of those pairs are worked out, and
// how often each size of one is sought anew.
const (
	pairFirsts = 10
	pairsTried = 6
	pairRounds = 2
	pairSteps  = 4
)

// pair is two troubles with their sizes.
type pair struct {
	first, second *trouble
	a, b          float64 // along
	misfit        float64
}

// pairs are the two troubles together that fit best. What each does alone is added up first, over all pairs; the best of these
// are then worked out together.
func (v *vehicle) pairs(singles []*trouble, taken []*probe, sound []float64) []pair {
	var rough []pair
	firsts := singles[:min(pairFirsts, len(singles))]
	for i, first := range firsts {
		for _, second := range singles[i+1:] {
			if shares(first, second) {
				continue // both of one fact: together they are a larger one
			}
			best := pair{first: first, second: second, misfit: math.Inf(1)}
			for _, a := range first.samples {
				for _, b := range second.samples {
					if m := added(taken, sound, a.shows, b.shows); m < best.misfit {
						best.a, best.b, best.misfit = a.along, b.along, m
					}
				}
			}
			rough = append(rough, best)
		}
	}
	slices.SortStableFunc(rough, func(x, y pair) int { return cmpFloat(x.misfit, y.misfit) })
	rough = rough[:min(pairsTried, len(rough))]
	for i := range rough {
		v.together(&rough[i], taken)
	}
	slices.SortStableFunc(rough, func(x, y pair) int { return cmpFloat(x.misfit, y.misfit) })
	return rough
}

// shares reports whether two troubles change one thing.
func shares(a, b *trouble) bool {
	for _, x := range a.targets {
		for _, y := range b.targets {
			if x.path == y.path && x.fault == y.fault {
				return true
			}
		}
	}
	return false
}

// added is the misfit of what two troubles change, each alone, added up.
func added(taken []*probe, sound, a, b []float64) float64 {
	sum := 0.0
	for i, p := range taken {
		shown := a[i] + b[i] - sound[i]
		off := off(p, shown)
		sum += off * off
	}
	return sum
}

// together seeks the sizes of a pair, one after the other, and leaves the vehicle sound.
func (v *vehicle) together(p *pair, taken []*probe) {
	at := func(t *trouble) func(float64) float64 {
		return func(along float64) float64 {
			v.put(t, t.size(along))
			return misfit(taken, v.shows(taken))
		}
	}
	v.put(p.first, p.first.size(p.a))
	v.put(p.second, p.second.size(p.b))
	p.misfit = misfit(taken, v.shows(taken))
	seek := func(t *trouble, along *float64) {
		reach := 1.0 / pairSteps
		found, least := narrow(at(t), math.Max(*along-reach, 0), math.Min(*along+reach, 1), *along, p.misfit)
		*along, p.misfit = found, least
		v.put(t, t.size(*along))
	}
	for range pairRounds {
		seek(p.second, &p.b)
		seek(p.first, &p.a)
	}
	v.put(p.first, p.first.Sound)
	v.put(p.second, p.second.Sound)
}
