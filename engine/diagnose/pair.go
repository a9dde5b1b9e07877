package diagnose

import (
	"math"
	"slices"
)

// Two troubles together: how many of the best single ones are put with every other, how many of those pairs are worked out, and
// how often each size of one is sought anew.
const (
	pairFirsts = 10
	pairsTried = 8
	pairRounds = 2
)

// pair is two troubles with their sizes.
type pair struct {
	first, second *trouble
	a, b          float64 // along
	misfit        float64
}

// pairs are the two troubles together that fit best. What each does alone is added up first, over all pairs; the best of these
// are then worked out together.
func (v *vehicle) pairs(singles []*trouble, weigh *scale, sound []float64) []pair {
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
					if m := added(weigh, sound, a.shows, b.shows); m < best.misfit {
						best.a, best.b, best.misfit = a.along, b.along, m
					}
				}
			}
			rough = append(rough, best)
		}
	}
	slices.SortStableFunc(rough, func(x, y pair) int { return cmpFloat(x.misfit, y.misfit) })
	rough = distinct(rough)
	rough = rough[:min(pairsTried, len(rough))]
	for i := range rough {
		v.together(&rough[i], weigh)
	}
	slices.SortStableFunc(rough, func(x, y pair) int { return cmpFloat(x.misfit, y.misfit) })
	return rough
}

// distinct leaves out pairs of troubles of which the same is said as of those of a pair before, as readings seldom tell them apart.
func distinct(pairs []pair) []pair {
	key := func(t *trouble) string {
		if t.Decl.Together != "" {
			return t.Decl.Together
		}
		return t.ID
	}
	known := map[[2]string]bool{}
	return slices.DeleteFunc(pairs, func(p pair) bool {
		a, b := key(p.first), key(p.second)
		if known[[2]string{a, b}] || known[[2]string{b, a}] {
			return true
		}
		known[[2]string{a, b}] = true
		return false
	})
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
func added(weigh *scale, sound, a, b []float64) float64 {
	shows := make([]float64, len(sound))
	for i := range shows {
		shows[i] = a[i] + b[i] - sound[i]
	}
	return weigh.misfit(shows)
}

// together seeks the sizes of a pair, one after the other, from what fits when their changes are added up and from what fits best of
// each alone: where one changes what the other does, as less voltage what a worn pump gives, these lead to different ends. It leaves
// the vehicle sound.
func (v *vehicle) together(p *pair, weigh *scale) {
	best := *p
	best.misfit = math.Inf(1)
	for _, from := range [][2]float64{{p.a, p.b}, {p.a, p.second.best().along}, {p.first.best().along, p.b}} {
		if from != [2]float64{p.a, p.b} && best.misfit <= within(len(weigh.taken)) {
			break
		}
		one := *p
		one.a, one.b = from[0], from[1]
		v.descend(&one, weigh, from[0] != p.a)
		if one.misfit < best.misfit {
			best = one
		}
	}
	*p = best
	v.put(p.first, p.first.Sound)
	v.put(p.second, p.second.Sound)
}

// descend seeks each size in turn, that of the second first or of the first.
func (v *vehicle) descend(p *pair, weigh *scale, secondFirst bool) {
	v.put(p.first, p.first.size(p.a))
	v.put(p.second, p.second.size(p.b))
	p.misfit = weigh.misfit(v.shows(weigh.taken))
	seek := func(t *trouble, along *float64) {
		v.put(t, t.Sound)
		shows := v.shows(weigh.taken)
		v.search(t, weigh, sample{0, shows, weigh.misfit(shows)}, func(s sample) {
			if s.misfit < p.misfit {
				*along, p.misfit = s.along, s.misfit
			}
		})
		v.put(t, t.size(*along))
	}
	for range pairRounds {
		if secondFirst {
			seek(p.second, &p.b)
		}
		seek(p.first, &p.a)
		if !secondFirst {
			seek(p.second, &p.b)
		}
	}
}
