package engine

import (
	"maps"
	"math"
	"slices"

	"plumbline/engine/derive"
	"plumbline/engine/internal/cores"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pattern"
)

// A finding that is open because of facts known between two ends, or of facts
// that nobody stated but that are built in few ways, is judged again at points
// of the box these make. What comes out everywhere in the stated ranges is
// decided. What rests on a usual value stays open and leans.

// pointKey names a finding.
type pointKey struct{ rule, subject string }

// judgedAt are the findings at one point.
func (j *judging) judgedAt(s *derive.Session, rules []*rule.Rule, resting bool) map[pointKey]*Finding {
	other := j.library.openIn(s, j.options)
	other.terse = j.terse
	other.resting, other.trial, other.regions, other.named = resting, true, j.regions, j.named
	other.placed()
	other.rules(rules)
	j.marks.join(other.marks)
	out := make(map[pointKey]*Finding, len(other.found))
	for _, f := range other.found {
		out[pointKey{f.Rule, f.Subject}] = f
	}
	return out
}

// leaner collects what open findings became at all points of all boxes.
type leaner struct {
	*judging
	values derive.Options
	rules  map[string]*rule.Rule
	seen   map[pointKey]*tried
}

// tried is what one open finding became.
type tried struct {
	open     *Finding
	at       []*Finding // decided, with its box and point
	boxes    []*box
	points   [][]float64
	unjudged bool // it stayed open at a point
	rests    map[string]bool
}

// lean judges the open findings again. Those that stated ranges decide are changed; the others lean.
func (j *judging) lean(rules []*rule.Rule, values derive.Options) {
	byID := map[string]*rule.Rule{}
	for _, r := range rules {
		byID[r.ID] = r
	}
	l := j.leaner(byID, values)
	if len(l.seen) == 0 {
		return
	}
	depth := Whole
	if j.bench != nil {
		depth = j.bench.depth
	}
	if ranges := j.box(nil, false); len(ranges.dims) > 0 && depth == Whole {
		l.try(ranges, ranges.once((*box).lines))
		for _, t := range l.seen {
			t.decide(ranges, byID[t.open.Rule])
		}
	}
	j.leaner(byID, values).wanting()
	l = j.leaner(byID, values)
	fitting := j.fitting()
	combinations := combined(fitting.groups)
	for way, patterns := range combinations {
		if depth == Glance && way > 0 {
			break
		}
		b := j.box(patterns, way == 0)
		l.try(b, depth.points(way, b.once((*box).points)))
	}
	if len(combinations) > 0 {
		if l.worth.boxes > 0 {
			l.ways(fitting.groups, fitting.only)
		}
		next := StageRank(l.stage()) + 1
		for _, t := range l.seen {
			if x := l.leaning(t); x != nil && (StageRank(t.open.Due) <= next || x.Best != Pass && len(x.Stated) > 0) {
				t.open.Leaning = x
			}
		}
	}
}

// joints is the view whose findings do not lean: how two pieces meet depends on which ones they are.
const joints = "design.line_joints"

// wanting marks the open findings that fail or warn if nothing is fitted but what was named.
func (l *leaner) wanting() {
	wanted := l.some(func(t *tried) bool { return l.bench == nil || l.bench.depth == Whole || !t.open.Numeric })
	if len(wanted) == 0 {
		return
	}
	found := l.judgedAt(derive.NewSession(l.design.Closed(), l.values), wanted, false)
	for k, t := range l.seen {
		if f := found[k]; f != nil && (f.Outcome == Fail || f.Outcome == Warn) {
			t.open.Wanting = &Wanting{Outcome: f.Outcome, Text: f.Text, Remedy: f.Remedy}
		}
	}
}

// leaner collects the findings that are open, those due later too: what comes out badly then with anything usual is better
// known before it is bought, and only that of them is told.
func (j *judging) leaner(rules map[string]*rule.Rule, values derive.Options) *leaner {
	l := &leaner{judging: j, values: values, rules: rules, seen: map[pointKey]*tried{}}
	for _, f := range l.found {
		if r := l.rules[f.Rule]; f.Outcome == Open && !f.Sense && r != nil && (r.Each == nil || r.List() != joints) && !r.Decl.Stated {
			l.seen[pointKey{f.Rule, f.Subject}] = &tried{open: f}
		}
	}
	return l
}

// some are the rules of findings that are wanted, in the library's order.
func (l *leaner) some(want func(*tried) bool) []*rule.Rule {
	wanted := map[string]bool{}
	for k, t := range l.seen {
		if want(t) {
			wanted[k.rule] = true
		}
	}
	out := make([]*rule.Rule, 0, len(wanted))
	for id := range wanted {
		out = append(out, l.rules[id])
	}
	slices.SortFunc(out, func(a, b *rule.Rule) int { return a.Order - b.Order })
	return out
}

// try judges the open findings at the points of a box: at its first all of them, at the others those that came out there.
func (l *leaner) try(b *box, points [][]float64) {
	found := make([]map[pointKey]*Finding, len(points))
	found[0] = l.judgedAt(b.session(0, points, l.values), l.some(func(*tried) bool { return true }), len(points) > 1)
	decided := func(x *tried) bool {
		f := found[0][pointKey{x.open.Rule, x.open.Subject}]
		return f != nil && f.Outcome != Open
	}
	if rules := l.some(decided); len(rules) > 0 {
		cores.Do(len(points)-1, func(_, i int) { found[i+1] = l.judgedAt(b.session(i+1, points, l.values), rules, len(b.patterns) == 0) })
	}
	if !l.unasked && len(b.patterns) > 0 && len(points) > 1 && StageRank(l.stage()) == 0 && (l.bench == nil || l.bench.depth == Whole) {
		l.weigh(b, found)
	}
	for k, x := range l.seen {
		if !decided(x) {
			x.unjudged = true
			if f := found[0][k]; f != nil && x.open.Still == nil {
				x.open.Still = append(f.Missing, f.Unreachable...)
			}
			continue
		}
		x.rest(found[0][k].rests)
		for i, t := range points {
			f := found[i][k]
			if f == nil || f.Outcome == Open {
				x.unjudged = true
				continue
			}
			if len(b.patterns) == 0 {
				x.rest(f.rests) // elsewhere in the ranges another part may decide
			}
			x.at, x.boxes, x.points = append(x.at, f), append(x.boxes, b), append(x.points, t)
		}
	}
}

// rest notes what it rests on.
func (t *tried) rest(on *facts) {
	if t.rests == nil {
		t.rests = map[string]bool{}
	}
	if on != nil {
		maps.Copy(t.rests, on.paths)
	}
}

// decide settles a finding that comes out one way all over the stated ranges.
func (t *tried) decide(b *box, r *rule.Rule) {
	if t.unjudged || len(t.at) == 0 || !t.sure(b, r) {
		return
	}
	for _, f := range t.at[1:] {
		if f.Outcome != t.at[0].Outcome {
			return
		}
	}
	worst := t.worst()
	conceded, blocks := t.open.Conceded, t.open.Blocks
	*t.open = *t.at[worst]
	t.open.Conceded, t.open.Blocks = conceded, blocks
	t.open.Ranged = true
}

// sure reports whether what comes out one way at all points of the lines can be told to do so between them: every value was
// tried; or its conditions turn once at most on the way, and where a number decides, that stays farther from its bounds
// than it moves from one point of a line to the next.
func (t *tried) sure(b *box, r *rule.Rule) bool {
	var on []int
	for i := range b.dims {
		if t.rests[b.dims[i].path] {
			on = append(on, i)
		}
	}
	if len(on) == 0 || len(on) == 1 && b.dims[on[0]].counted() {
		return true
	}
	if slices.ContainsFunc(on, func(i int) bool { return !r.Straight(b.dims[i].path) || derive.ByClass(b.dims[i].path) }) {
		return false
	}
	if len(on) == 1 && t.at[0].Measured == nil {
		return true
	}
	for _, f := range t.at {
		if f.Measured == nil || len(f.Bounds) == 0 || len(f.Bounds) != len(t.at[0].Bounds) {
			return false
		}
	}
	for k := range t.at[0].Bounds {
		from := func(i int) float64 { return t.at[i].Measured.Value - t.at[i].Bounds[k].Bound.Value }
		if t.at[0].Outcome == Fail && t.at[0].Bounds[k].Met {
			continue // the broken bound decides
		}
		nearest, step := math.Inf(1), 0.0
		for i := range t.at {
			nearest = min(nearest, math.Abs(from(i)))
			if i%perLine > 0 {
				step = max(step, math.Abs(from(i)-from(i-1)))
			}
		}
		if nearest <= step {
			return false
		}
	}
	return true
}

// mostCombined are how many combinations of patterns are all tried.
const mostCombined = 8

// fitting are the patterns of each group that contradict nothing. Where none does, only are the facts of which a pattern of
// the group waits to hear, which tells a figure that a part is bought by: it is too rare to be thought of before.
type fitting struct {
	groups [][]*pattern.Pattern
	only   []string
}

// fitting finds the patterns to fill with.
func (j *judging) fitting() *fitting {
	if j.bench != nil && j.bench.fitting != nil {
		return j.bench.fitting
	}
	return j.fittingOf(slices.DeleteFunc(slices.Clone(j.options.Patterns), func(p *pattern.Pattern) bool { return p.Readings }))
}

// fittingOf finds those of some patterns to fill with.
func (j *judging) fittingOf(rest []*pattern.Pattern) *fitting {
	out := &fitting{}
	depth := Whole
	if j.bench != nil {
		depth = j.bench.depth
	}
	for len(rest) > 0 {
		n := 1
		for n < len(rest) && rest[n].Group == rest[0].Group {
			n++
		}
		var fits []*pattern.Pattern
		var waits []string
		for _, p := range rest[:n] {
			if depth == Glance && len(fits) > 0 {
				break // at a glance it is built in the first way
			}
			at := p.Contradicts(j.design)
			switch {
			case at == "":
				fits = append(fits, p)
			case depth == Whole && !j.unasked && slices.Contains(p.Only, pattern.Generic(at)) && !slices.Contains(waits, at) && tellsFigure(p):
				waits = append(waits, at)
			}
		}
		if rest = rest[n:]; len(fits) > 0 {
			out.groups = append(out.groups, fits)
		} else {
			out.only = append(out.only, waits...)
		}
	}
	return out
}

// combined are the patterns to fill with: one of each group at a time. Where that would be too many, each pattern is tried
// once, with the first ones of the other groups.
func combined(groups [][]*pattern.Pattern) [][]*pattern.Pattern {
	if len(groups) == 0 {
		return nil
	}
	all := 1
	first := make([]*pattern.Pattern, len(groups))
	for i, g := range groups {
		first[i] = g[0]
		all *= len(g)
	}
	out := [][]*pattern.Pattern{first}
	for i, g := range groups {
		with := out
		if all > mostCombined {
			with = out[:1]
		}
		for _, c := range slices.Clone(with) {
			for _, p := range g[1:] {
				next := slices.Clone(c)
				next[i] = p
				out = append(out, next)
			}
		}
	}
	return out
}
