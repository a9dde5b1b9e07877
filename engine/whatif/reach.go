package whatif

import (
	"cmp"
	"math"
	"slices"

	"plumbline/engine"
)

// searcher moves the numbers of one bench.
type searcher struct {
	bench *engine.Bench
	wrong int
	usual bool
	// early and late are the rules left out for most numbers, and for those that are entered and measured once all is built.
	early, late map[string]bool
}

func newSearcher(b *engine.Bench) *searcher {
	s := &searcher{bench: b, early: map[string]bool{}, late: map[string]bool{}}
	for _, f := range b.Findings(engine.Glance) {
		s.early[f.Rule], s.late[f.Rule] = !counts(&f, false), !counts(&f, true)
		if counts(&f, false) {
			if out := f.Standing(); out == engine.Fail || out == engine.Warn {
				s.wrong++
			}
			s.usual = s.usual || f.Leaning != nil
		}
	}
	return s
}

// counts reports whether what a finding becomes is of interest when parts and conditions move: not what only asks whether a figure is
// right; and what is entered and measured once all is built follows the parts, unless the number moved is one of those.
func counts(f *engine.Finding, late bool) bool {
	return !f.Sense && (late || engine.StageRank(f.Due) <= engine.StageRank("built"))
}

// room finds how far a number may move; nil where no finding rests on it.
func (s *searcher) room(m *mover) *Room {
	paths := m.paths()
	any, late := false, true
	for _, f := range s.bench.Findings(engine.Glance) {
		if !f.Sense && s.bench.Rests(f.Rule, paths) {
			any = true
			late = late && !counts(&f, false)
		}
	}
	if !any {
		return nil
	}
	t := &track{searcher: s, mover: m, leaves: s.early, seen: map[float64]*look{}}
	if late {
		t.leaves = s.late
	}
	kind := Kind("")
	if late {
		kind = Entered
	}
	return &Room{Name: m.name, Facts: paths, Kind: kind, Stated: m.number(m.lead.base), Together: m.because, Down: t.reach(m.lead.low), Up: t.reach(m.lead.high)}
}

// track is one number on its way.
type track struct {
	*searcher
	*mover
	// leaves are the rules left out for it.
	leaves map[string]bool
	seen   map[float64]*look
	bends  map[string]bool
}

// look is what was found at one value: what turned, and how far the numbers of all findings lie inside their bounds.
type look struct {
	turned  []engine.Turned
	margins margins
}

// worse are the findings that are worse at a value than now, the worst first.
func (t *track) worse(x float64) []engine.Turned {
	return slices.DeleteFunc(slices.Clone(t.turned(x)), func(f engine.Turned) bool { return !f.Worse() })
}

// turned are the findings that are otherwise at a value than now.
func (t *track) turned(x float64) []engine.Turned { return t.look(x).turned }

func (t *track) look(x float64) *look {
	out := t.seen[x]
	if out == nil {
		t.bench.Leave(t.leaves)
		turned, found := t.bench.TurnedAndFound(engine.Glance, t.at(x)...)
		out = &look{turned, marginsOf(found)}
		t.seen[x] = out
	}
	return out
}

// told are the findings that are worse at a value, with what they say.
func (t *track) told(x float64) []engine.Turned {
	t.bench.Only(rulesOf(t.worse(x)))
	return slices.DeleteFunc(t.bench.Turned(engine.Glance, t.at(x)...), func(f engine.Turned) bool { return !f.Worse() })
}

func rulesOf(found []engine.Turned) map[string]bool {
	out := map[string]bool{}
	for _, f := range found {
		out[f.Finding().Rule] = true
	}
	return out
}

// probes is how often the way to an end is cut to a third, of a headline to its half: at the end, a third of it, a ninth, and so on
// findings are looked at before the first turn is closed in on.
const probes, headlineProbes = 5, 9

// stops are the values looked at first on the way to an end, the nearest first; beside the first and the last the neighbours on a meter, by which it
// is known whether margins fall or rise there.
func (t *track) stops(end float64) []float64 {
	var out []float64
	add := func(x float64) {
		if x = t.inside(x); math.Abs(x-t.lead.base) > 0 && (len(out) == 0 || math.Abs(x-t.lead.base) > math.Abs(out[len(out)-1]-t.lead.base)) {
			out = append(out, x)
		}
	}
	n, part := probes, 3.0
	if t.name != "" {
		n, part = headlineProbes, 2
	}
	last := t.inside(end)
	up := end > t.lead.base
	if x := t.next(t.lead.base, up); math.Abs(x-t.lead.base) < math.Abs(last-t.lead.base) {
		add(x)
	}
	for k := n; k > 0; k-- {
		add(t.lead.base + (end-t.lead.base)/math.Pow(part, float64(k)))
	}
	if x := t.next(last, !up); (x > t.lead.base) == up {
		add(x)
	}
	add(end)
	return out
}

// reach finds how far the number may move towards an end.
func (t *track) reach(end float64) Reach {
	stops := t.stops(end)
	worse := slices.IndexFunc(stops, func(x float64) bool { return len(t.worse(x)) > 0 })
	last := worse
	if last < 0 {
		last = len(stops) - 1
	}
	if x, found := t.dips(stops, last+1); found && (worse < 0 || math.Abs(x-t.lead.base) < math.Abs(stops[worse]-t.lead.base)) {
		worse = slices.IndexFunc(stops, func(s float64) bool { return math.Abs(s-t.lead.base) >= math.Abs(x-t.lead.base) })
		stops = slices.Insert(stops, worse, x)
	}
	good := t.lead.base
	for i, x := range stops {
		if i != worse {
			good = x
			continue
		}
		good, bad := t.first(good, x)
		next := t.number(bad)
		out := Reach{To: t.number(good), Next: &next}
		for _, f := range first(t.told(bad)) {
			out.Turns = append(out.Turns, t.turns(f, bad, stops[i:]))
		}
		return out
	}
	return Reach{To: t.number(good)}
}

// first closes in on the first turn between a value where nothing is worse and one where something is: on that of what turned
// there, by the rules of that alone; and where something else is worse just before it, on that.
func (t *track) first(good, bad float64) (float64, float64) {
	for {
		rules := rulesOf(t.worse(bad))
		was, now := t.closeIn(good, bad, func(x float64) bool {
			t.bench.Only(rules)
			return slices.ContainsFunc(t.bench.TurnedOnly(engine.Glance, t.at(x)...), engine.Turned.Worse)
		})
		if len(t.worse(was)) == 0 || was == good {
			return was, now
		}
		bad = was
	}
}

// closeIn finds two values, neighbours on a meter, of which the first is not so and the second is.
func (t *track) closeIn(not, so float64, is func(float64) bool) (float64, float64) {
	up := so > not
	for {
		next := t.next(not, up)
		if next == not || up && next >= so*(1-1e-12) || !up && next <= so+1e-12*math.Abs(so) {
			return not, so
		}
		x := t.inside((not + so) / 2)
		if up && x <= not || !up && x >= not {
			x = next
		}
		if is(x) {
			so = x
		} else {
			not = x
		}
	}
}

// turns tells a finding that turns, and where further on it is as it was.
func (t *track) turns(f engine.Turned, bad float64, further []float64) Turns {
	found := f.Finding()
	out := Turns{Rule: found.Rule, Subject: found.Subject, From: f.Before.Standing(), To: f.After.Standing(), Danger: found.Danger, Text: found.Text, Remedy: found.Remedy}
	if found.Leaning != nil && found.Outcome == engine.Open {
		out.Text = cmp.Or(found.Leaning.Text, found.Text)
	}
	asWas := func(x float64) bool { // what no longer applies, because something else is wrong, is not as it was
		t.bench.Only(map[string]bool{found.Rule: true})
		return !slices.ContainsFunc(t.bench.TurnedOnly(engine.Glance, t.at(x)...), func(o engine.Turned) bool { return o.Finding().Key() == found.Key() })
	}
	for _, x := range further {
		if asWas(x) {
			_, again := t.closeIn(bad, x, asWas)
			n := t.number(again)
			out.Again = &n
			break
		}
	}
	return out
}

// mostTurns is how many findings are told that turn at one value.
const mostTurns = 4

// first are the findings that turn worst: what is worst is told, and how many there are.
func first(list []engine.Turned) []engine.Turned {
	slices.SortStableFunc(list, func(a, b engine.Turned) int {
		return cmp.Or(cmp.Compare(a.After.Standing().Rank(), b.After.Standing().Rank()), cmp.Compare(a.Finding().Danger.Rank(), b.Finding().Danger.Rank()))
	})
	return list[:min(len(list), mostTurns)]
}
