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
	// stays is what of the goals stays wrong with each single change, by its name; alone is all that is wrong with those looked at closer.
	stays, alone map[string]wrongs
	// capped is set once not all were tried that may do.
	capped bool
	// budget is how many sets may still be tried.
	budget int
	// nearest are sets of two changes that do not do, with what is wrong, the nearest first.
	nearest []miss
}

// set is some changes with the rules that what was wrong with fewer of them stands for, and how promising they are.
type set struct {
	changes []change
	rules   []string
	// halves is set where none of them alone does what is asked; far is how far they are from it.
	halves bool
	far    float64
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
	x = &several{fitter: f, goals: goals, stays: stays, alone: map[string]wrongs{}, budget: f.fo.MostPairs}
	var all []set
	done := map[[2]int]bool{}
	for _, s := range first {
		for _, t := range second {
			if s.at > t.at {
				s, t := t, s
				all = x.both(all, s, t, done)
				continue
			}
			all = x.both(all, s, t, done)
		}
	}
	x.order(all)
	return x.find(all), x
}

// order puts sets in the order they are tried.
func (x *several) order(all []set) {
	guided := len(all) > x.budget
	slices.SortFunc(all, func(a, b set) int {
		switch {
		case guided && a.halves != b.halves:
			return map[bool]int{true: 1, false: -1}[a.halves]
		case guided && a.halves:
			return cmp.Or(cmp.Compare(a.far, b.far), cheaper(a.changes, b.changes))
		}
		return cheaper(a.changes, b.changes)
	})
	x.capped = x.capped || guided
}

// both adds the pairs of changes in two places that are left to try.
func (x *several) both(all []set, s, t *seat, done map[[2]int]bool) []set {
	at := [2]int{s.at, t.at}
	if s == t || done[at] || overlap(s, t) {
		return all
	}
	done[at] = true
	one := x.hopeful(s, t)
	if len(one) == 0 {
		return all
	}
	other := x.hopeful(t, s)
	if len(other) == 0 {
		return all
	}
	if one = x.left(one, t); len(one) == 0 {
		return all
	}
	other = x.left(other, s)
	for _, a := range one {
		for _, b := range other {
			w, v := x.alone[name([]change{a})], x.alone[name([]change{b})]
			p := set{changes: []change{a, b}, halves: x.short(w) > 0 && x.short(v) > 0, far: x.short(w) + x.short(v)}
			for k := range w {
				p.rules = append(p.rules, k.rule)
			}
			for k := range v {
				p.rules = append(p.rules, k.rule)
			}
			all = append(all, p)
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

// left are those of some changes with which something is wrong, all of it by rules that read the other place.
func (x *several) left(list []change, other *seat) (out []change) {
	found := make([]wrongs, len(list))
	cores.Do(len(list), func(_, i int) { found[i] = x.against(x.glance(list[i:i+1]), x.goals) })
	for i, c := range list {
		x.alone[name(list[i:i+1])] = found[i]
		if len(found[i]) > 0 && !x.certain(found[i], other) {
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
	for from := 0; from < len(all) && len(sure) <= x.fo.Choices && x.budget > 0; from += atOnce {
		some := all[from:min(from+atOnce, len(all))]
		x.budget -= len(some)
		bad := make([]wrongs, len(some))
		cores.Do(len(some), func(_, i int) { bad[i] = x.fails(some[i]) })
		for i, p := range some {
			switch {
			case len(bad[i]) > 0:
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

// fails is what is wrong with a set of changes: first by the rules that fewer of them break, then by all that may read them, at last closely.
func (x *several) fails(p set) wrongs {
	x.tried.Add(1)
	bad := wrongs{}
	rules := p.rules
	for _, k := range x.goals {
		rules = append(slices.Clip(rules), k.rule)
	}
	for k, w := range badIn(x.v.Judge(x.with(p.changes), x.v.Named(rules...), engine.Glance)) {
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

// third finds choices of three changes: the pairs that come nearest, each with a third change by whose place all is read that is still
// wrong. That none is found so does not prove that there is none.
func (x *several) third(second []*seat) [][]change {
	x.trim()
	x.budget = x.fo.MostPairs
	var all []set
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
	slices.SortStableFunc(all, func(a, b set) int { return cheaper(a.changes, b.changes) })
	all = slices.CompactFunc(all, func(a, b set) bool { return name(a.changes) == name(b.changes) })
	nearest := x.nearest
	out := x.find(all)
	x.nearest = nearest
	return out
}
