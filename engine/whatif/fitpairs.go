package whatif

import (
	"cmp"
	"math"
	"slices"

	"plumbline/engine"
	"plumbline/engine/internal/cores"
	"plumbline/schema"
)

// several is a search for sets of two or three changes, for some goals.
type several struct {
	*fitter
	goals []key
	// stays is what of the goals stays wrong with each single change, by its name.
	stays map[string]wrongs
	// capped is set once not all were tried that may do.
	capped bool
	// budget is how many sets may still be tried.
	budget int
	// nearest are sets of two changes that do not do, with what is wrong, the nearest first.
	nearest []miss
	// often are the rules that sets broke so far.
	often map[string]bool
}

// set is some changes with the rules that fewer of them break, and how far they are from what is asked.
type set struct {
	changes []change
	rules   []string
	far     float64
}

// miss is a set of changes that does not do.
type miss struct {
	set
	wrong wrongs
}

// pairs finds the choices of two changes, the cheapest first, no more than are told and one. Of all pairs those are left out of which it is
// certain that they do not do: a rule that reads only one of the two places says of the pair what it says of that change alone. Where more
// are left than may be tried, those come first of which one change alone does what is asked and the other must mend what that one spoils,
// then those that come nearest; then it is not proved that no cheaper pair does.
func (f *fitter) pairs(goals []key, first, second []*seat, stays map[string]wrongs) (good [][]change, x *several) {
	x = &several{fitter: f, goals: goals, stays: stays, budget: f.fo.MostPairs, often: map[string]bool{}}
	var all []couple
	n := 0
	done := map[[2]int]bool{}
	for _, s := range first {
		for _, t := range second {
			c := couple{s: s, t: t}
			if s.at > t.at {
				c.s, c.t = t, s
			}
			at := [2]int{c.s.at, c.t.at}
			if s == t || done[at] || overlap(s, t) {
				continue
			}
			done[at] = true
			if c.one = x.hopeful(c.s, c.t); len(c.one) == 0 {
				continue
			}
			if c.other = x.hopeful(c.t, c.s); len(c.other) == 0 {
				continue
			}
			all = append(all, c)
		}
	}
	x.askAll(all)
	for i := range all {
		n += x.part(&all[i])
	}
	x.capped = n > x.budget
	var ones, halves []set
	for i := range all {
		c := &all[i]
		ones = x.join(ones, c.does, append(slices.Clip(c.doesToo), c.restToo...), byPrice)
		ones = x.join(ones, c.rest, c.doesToo, byPrice)
		halves = x.join(halves, c.rest, c.restToo, x.byFar)
	}
	if !x.capped {
		ones = append(ones, halves...)
		halves = nil
	}
	slices.SortFunc(ones, func(a, b set) int { return cheaper(a.changes, b.changes) })
	slices.SortFunc(halves, func(a, b set) int { return cmp.Or(cmp.Compare(a.far, b.far), cheaper(a.changes, b.changes)) })
	return x.find(append(ones, halves...)), x
}

// couple are the changes of two places of which a pair may do: all, and apart those that alone do what is asked.
type couple struct {
	s, t                         *seat
	one, other                   []change
	does, doesToo, rest, restToo []change
}

// set is a pair of changes.
func (x *several) set(a, b change) set {
	return set{changes: []change{a, b}, far: x.short(x.stays[name([]change{a})]) + x.short(x.stays[name([]change{b})])}
}

// askAll finds what of the goals stays wrong with each of the changes, where that was not asked yet.
func (x *several) askAll(all []couple) {
	var list [][]change
	known := map[string]bool{}
	for i := range all {
		for _, c := range slices.Concat(all[i].one, all[i].other) {
			if n := name([]change{c}); x.stays[n] == nil && !known[n] {
				known[n] = true
				list = append(list, []change{c})
			}
		}
	}
	for i, w := range x.stay(list, x.goals) {
		x.stays[name(list[i])] = w
	}
}

// part sets those changes of a couple apart that alone do what is asked, and leaves out those of them of which it is certain that they do
// not do in the couple; how many pairs are left it tells.
func (x *several) part(c *couple) int {
	apart := func(list []change, other *seat) (does, rest []change) {
		for _, one := range list {
			if len(x.stays[name([]change{one})]) == 0 {
				does = append(does, one)
			} else {
				rest = append(rest, one)
			}
		}
		return x.left(does, other), rest
	}
	c.does, c.rest = apart(c.one, c.t)
	if len(c.does) == 0 && len(c.rest) == 0 {
		return 0
	}
	c.doesToo, c.restToo = apart(c.other, c.s)
	return (len(c.does) + len(c.rest)) * (len(c.doesToo) + len(c.restToo))
}

func byPrice(a, b change) int { return cheaper([]change{a}, []change{b}) }

func (x *several) byFar(a, b change) int {
	far := func(c change) float64 { return x.short(x.stays[name([]change{c})]) }
	return cmp.Or(cmp.Compare(far(a), far(b)), byPrice(a, b))
}

// join adds the pairs of some changes and others that may be among the first so many as may be tried, in an order in which a pair comes
// behind all that have an earlier one of each: where there are as many of these, it is none of the first.
func (x *several) join(all []set, one, other []change, order func(a, b change) int) []set {
	one, other = slices.Clone(one), slices.Clone(other)
	slices.SortFunc(one, order)
	slices.SortFunc(other, order)
	for i, a := range one {
		for k, b := range other {
			if (i+1)*(k+1) > x.budget {
				break
			}
			all = append(all, x.set(a, b))
		}
	}
	return all
}

// short is how far some changes are from what is asked.
func (x *several) short(w wrongs) float64 {
	sum := 0.0
	for _, k := range x.goals {
		if f := w[k]; f != nil {
			sum += farBy(f)
		}
	}
	return sum
}

// hopeful are the changes of one place after which nothing that is asked stays wrong by a rule that does not read the other place.
func (x *several) hopeful(one, other *seat) (out []change) {
	singles := x.singles(one)
	reads := func(k key) bool { return x.v.Has(other.rules, k.rule) }
	blind := slices.ContainsFunc(x.goals, func(k key) bool { return !reads(k) })
	var ask [][]change
	for _, c := range singles {
		if blind && x.stays[name(c)] == nil {
			ask = append(ask, c)
		}
	}
	for i, w := range x.stay(ask, x.goals) {
		x.stays[name(ask[i])] = w
	}
	for _, c := range singles {
		if !blind || !x.certain(x.stays[name(c)], other) {
			out = append(out, c[0])
		}
	}
	return out
}

// certain reports whether anything stays wrong by a rule that does not read the other place.
func (x *several) certain(w wrongs, other *seat) bool {
	for k := range w {
		if !x.v.Has(other.rules, k.rule) {
			return true
		}
	}
	return false
}

// left are those of some changes with which something is wrong, all of it by rules that read the other place; where nothing is asked
// those with which nothing is wrong, too.
func (x *several) left(list []change, other *seat) (out []change) {
	found := make([]wrongs, len(list))
	cores.Do(len(list), func(_, i int) { found[i] = x.against(x.glance(list[i:i+1]), x.goals) })
	for i, c := range list {
		if (len(found[i]) > 0 || len(x.goals) == 0) && !x.certain(found[i], other) {
			out = append(out, c)
		}
	}
	return out
}

// overlap reports whether one place lies in the other: whoever changes the throttle body has other injectors.
func overlap(s, t *seat) bool {
	return schema.Path(s.path).Holds(schema.Path(t.path)) || schema.Path(t.path).Holds(schema.Path(s.path))
}

// find tries sets in their order until there are more that do than are told, and gives those, the cheapest first: those with which all can
// be judged that could be before, and the others where there are none.
func (x *several) find(all []set) [][]change {
	var sure, unsure [][]change
	for len(all) > 0 && len(sure) <= x.fo.Choices && x.budget > 0 {
		var some []set
		for len(some) < atOnce && len(all) > 0 {
			if len(unsure) <= x.fo.Choices || !x.surelyOpens(all[0].changes) {
				some = append(some, all[0])
			}
			all = all[1:]
		}
		x.budget -= len(some)
		bad := make([]wrongs, len(some))
		cores.Do(len(some), func(_, i int) { bad[i] = x.fails(some[i]) })
		for i, p := range some {
			switch {
			case len(bad[i]) > 0:
				for k := range bad[i] {
					x.often[k.rule] = true
				}
				x.near(p, bad[i])
			case len(x.opens(x.eval(p.changes))) > 0:
				unsure = append(unsure, p.changes)
			default:
				sure = append(sure, p.changes)
			}
		}
	}
	if len(sure) == 0 {
		sure = unsure
	}
	slices.SortFunc(sure, cheaper)
	return sure
}

// surelyOpens reports whether a rule that could be judged before waits for what one of the changes does not say, and reads none of the
// other places: so it waits with all of them, too.
func (x *several) surelyOpens(changes []change) bool {
	if len(x.o.Patterns) > 0 {
		return false // at a glance more is open
	}
	for i, c := range changes {
		if w, known := x.stays[name(changes[i:i+1])]; !known || len(w) > 0 {
			continue // not looked at alone
		}
		for _, rule := range x.opens(x.glance(changes[i : i+1])) {
			if !slices.ContainsFunc(changes, func(o change) bool { return o.seat != c.seat && x.v.Has(o.rules, rule) }) {
				return true
			}
		}
	}
	return false
}

// fails is what is wrong with a set of changes: first by the rules that fewer of them or sets before broke, then by all that may read them,
// at last closely.
func (x *several) fails(p set) wrongs {
	x.tried.Add(1)
	bad := wrongs{}
	rules := p.rules
	for rule := range x.often {
		rules = append(slices.Clip(rules), rule)
	}
	for _, k := range x.goals {
		rules = append(slices.Clip(rules), k.rule)
	}
	for i := range p.changes {
		if w, known := x.stays[name(p.changes[i:i+1])]; known && len(w) == 0 {
			for k := range x.against(x.glance(p.changes[i:i+1]), x.goals) {
				rules = append(slices.Clip(rules), k.rule)
			}
		}
	}
	for k, w := range badIn(x.fitter.find(p.changes, x.v.Named(rules...), engine.Glance)) {
		if x.wrong[k] == nil || slices.Contains(x.goals, k) {
			bad[k] = w
		}
	}
	if len(bad) > 0 {
		return bad
	}
	if bad = x.against(x.glance(p.changes), x.goals); len(bad) > 0 {
		return bad
	}
	return x.against(x.eval(p.changes), x.goals)
}

// mostNearest is how many pairs that come near are taken further.
const mostNearest = 24

// near keeps a pair that does not do, where it is among the nearest.
func (x *several) near(p set, bad wrongs) {
	p.far = 0
	for _, w := range bad {
		p.far += farBy(w)
	}
	x.nearest = append(x.nearest, miss{p, bad})
	if len(x.nearest) < 2*mostNearest {
		return
	}
	x.trim()
}

func (x *several) trim() {
	slices.SortStableFunc(x.nearest, func(a, b miss) int {
		return cmp.Or(len(a.wrong)-len(b.wrong), cmp.Compare(math.Min(a.far, 1e9), math.Min(b.far, 1e9)))
	})
	x.nearest = x.nearest[:min(len(x.nearest), mostNearest)]
}

// third finds choices of three changes: of all there are, the cheapest first; where those are more than may be tried, of the pairs that come
// nearest, each with a third change by whose place all is read that is still wrong. Then it is not proved that there is no cheaper one.
func (x *several) third(first, second []*seat) [][]change {
	x.budget = x.fo.MostPairs
	all, whole := x.triples(first, second)
	if !whole {
		x.capped = true
		x.budget = x.fo.MostPairs / 2
		x.stars(second)
		x.trim()
		x.budget = x.fo.MostPairs
		all = x.expand(second)
	}
	slices.SortStableFunc(all, func(a, b set) int { return cheaper(a.changes, b.changes) })
	all = slices.CompactFunc(all, func(a, b set) bool { return name(a.changes) == name(b.changes) })
	nearest := x.nearest
	out := x.find(all)
	x.nearest = nearest
	return out
}

// triples are all sets of three changes, one of them in one of the first places; none where they are more than may be tried.
func (x *several) triples(first, second []*seat) (all []set, whole bool) {
	var places [][]*seat
	known, n := map[[3]int]bool{}, 0
	for _, s := range first {
		for i, t := range second {
			for _, u := range second[:i] {
				list := []*seat{s, t, u}
				slices.SortFunc(list, func(a, b *seat) int { return a.at - b.at })
				at := [3]int{list[0].at, list[1].at, list[2].at}
				if known[at] || overlap(s, t) || overlap(s, u) || overlap(t, u) {
					continue
				}
				known[at] = true
				places, n = append(places, list), n+len(s.options)*len(t.options)*len(u.options)
				if n > x.budget {
					return nil, false
				}
			}
		}
	}
	for _, list := range places {
		for _, a := range x.singles(list[0]) {
			for _, b := range x.singles(list[1]) {
				for _, c := range x.singles(list[2]) {
					all = append(all, set{changes: slices.Concat(a, b, c)})
				}
			}
		}
	}
	return all, true
}

// stars tries pairs of a change that alone does what is asked and another that may mend some of what it spoils, though not all: the rest may be
// mended by a third one.
func (x *several) stars(second []*seat) {
	var all []set
	for _, s := range second {
		for i := range s.options {
			a := change{s, &s.options[i]}
			if w, known := x.stays[name([]change{a})]; !known || len(w) > 0 {
				continue
			}
			spoils := x.against(x.glance([]change{a}), x.goals)
			for _, t := range second {
				if t == s || overlap(s, t) || !x.mends(spoils, t) || !x.certain(spoils, t) {
					continue // those of which it is not certain that they do not do were tried
				}
				for k := range t.options {
					p := set{changes: []change{a, {t, &t.options[k]}}}
					slices.SortFunc(p.changes, func(a, b change) int { return a.seat.at - b.seat.at })
					all = append(all, p)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b set) int { return cheaper(a.changes, b.changes) })
	x.find(all)
}

// mends reports whether a place is read by a rule that is broken.
func (x *several) mends(w wrongs, s *seat) bool {
	for k := range w {
		if x.v.Has(s.rules, k.rule) {
			return true
		}
	}
	return false
}

// expand puts a third change to each of the pairs that come nearest.
func (x *several) expand(second []*seat) (all []set) {
	for _, p := range x.nearest {
		for _, s := range second {
			if slices.ContainsFunc(p.changes, func(c change) bool { return c.seat == s || overlap(c.seat, s) }) || x.certain(p.wrong, s) {
				continue
			}
			for i := range s.options {
				t := set{changes: append(slices.Clone(p.changes), change{s, &s.options[i]}), rules: p.rules}
				slices.SortFunc(t.changes, func(a, b change) int { return a.seat.at - b.seat.at })
				for k := range p.wrong {
					t.rules = append(slices.Clip(t.rules), k.rule)
				}
				all = append(all, t)
			}
		}
	}
	return all
}
