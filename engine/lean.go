package engine

import (
	"maps"
	"math"
	"slices"
	"sync"

	"plumbline/engine/derive"
	"plumbline/engine/internal/cores"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pattern"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// A finding that is open because of facts known between two ends, or of facts
// that nobody stated but that are built in few ways, is judged again at points
// of the box these make. What comes out everywhere in the stated ranges is
// decided. What rests on a usual value stays open and leans.

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
	// Fails is the share of the points at which it fails.
	Fails float64 `json:"fails"`
	// Text says what would be found where it comes nearest to turning, Remedy what to do about it.
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
	// Measured is the value there, Low and High its ends over all points tried; Bounds what bounds it there.
	Measured *Number      `json:"measured,omitempty"`
	Low      *Number      `json:"low,omitempty"`
	High     *Number      `json:"high,omitempty"`
	Bounds   []BoundFound `json:"bounds,omitempty"`
	// Usual are the facts with usual values it rests on, Patterns where they are from.
	Usual    []string `json:"usual,omitempty"`
	Patterns []string `json:"patterns"`
	// Points is how many points were tried.
	Points int `json:"points"`
	// turn finds where it turns.
	turn func() *Turn
}

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

// dim is one number of a box.
type dim struct {
	path             string
	low, usual, high float64 // in SI units, or shares for a scaled number
	dimension        quantity.Dimension
	whole            bool
	scaled           *pattern.Scaled
	from             *pattern.Pattern // nil for a range of the design
	// with is the place of the first number of its kind: the points of a curve, the wires of a circuit move together.
	with int
}

// at is the value at a coordinate: -1 its low end, 0 the usual one, 1 the high end.
func (d *dim) at(t float64) float64 {
	if t < 0 {
		return d.usual + t*(d.usual-d.low)
	}
	return d.usual + t*(d.high-d.usual)
}

// bad is the coordinate of the end that is bad for supply.
func (d *dim) bad() float64 {
	if d.from != nil && d.from.BadIsLow(d.path) {
		return -1
	}
	return 1
}

// box is a design with ranges: its own, and those of patterns.
type box struct {
	patterns []*pattern.Pattern
	design   *schema.Design
	dims     []dim
	// usual are the paths of the facts that were filled, words too.
	usual map[string]bool
}

// boxOf fills a design with patterns.
func boxOf(d *schema.Design, patterns []*pattern.Pattern) *box {
	b := &box{patterns: patterns, design: d, usual: map[string]bool{}}
	from := map[string]*pattern.Pattern{}
	for _, p := range patterns {
		var filled []string
		b.design, filled = b.design.Fill(p.Design, pattern.Same)
		for _, path := range filled {
			b.usual[path], from[path] = true, p
		}
	}
	for _, fact := range b.design.Ranges() {
		low, usual, high := fact.Ends()
		x := dim{path: fact.Path(), from: from[fact.Path()]}
		switch v := low.(type) {
		case int:
			x.whole, x.low, x.usual, x.high = true, float64(v), float64(usual.(int)), float64(high.(int))
		case interface {
			SI() float64
			Dimension() quantity.Dimension
		}:
			x.dimension = v.Dimension()
			x.low, x.usual, x.high = v.SI(), sizeOf(usual), sizeOf(high)
		}
		b.dims = append(b.dims, x)
	}
	for _, p := range patterns {
		for i := range p.Scaled {
			for _, s := range p.Scaled[i].Items(b.design) {
				if fact := b.design.FactAt(s.Fact); fact == nil || schema.IsStated(fact) || b.usual[s.Fact] || !b.has(s.By) {
					continue
				}
				b.usual[s.Fact] = true
				b.dims = append(b.dims, dim{path: s.Fact, low: s.Low, usual: s.Usual, high: s.High, dimension: s.Dimension, scaled: &s, from: p})
			}
		}
	}
	first := map[string]int{}
	for i := range b.dims {
		kind := pattern.Generic(b.dims[i].path)
		if _, known := first[kind]; !known {
			first[kind] = i
		}
		b.dims[i].with = first[kind]
	}
	return b
}

// has reports whether all of some facts are stated, or usual.
func (b *box) has(facts []string) bool {
	return !slices.ContainsFunc(facts, func(path string) bool { return !b.usual[path] && !schema.IsStated(b.design.FactAt(path)) })
}

// moved is a point with one number, and those that move with it, at another coordinate.
func (b *box) moved(from []float64, which int, to float64) []float64 {
	out := slices.Clone(from)
	for i := range b.dims {
		if b.dims[i].with == b.dims[which].with {
			out[i] = to
		}
	}
	return out
}

func sizeOf(v any) float64 {
	if q, ok := v.(interface{ SI() float64 }); ok {
		return q.SI()
	}
	return 0
}

// point is the design with each number at its coordinate.
func (b *box) point(t []float64) *schema.Design {
	d := b.design.Clone()
	for i := range b.dims {
		x := &b.dims[i]
		var value any
		switch {
		case x.scaled != nil:
			v, ok := x.scaled.Value(d, x.at(t[i]))
			if !ok {
				continue
			}
			value = v
		case x.whole:
			value = int(math.Round(x.at(t[i])))
		default:
			v, err := quantity.New(x.at(t[i]), x.dimension)
			if err != nil {
				continue
			}
			value = v
		}
		if err := d.Put(x.path, value); err != nil {
			panic(err) // a path of the design, a value of its type
		}
	}
	return d
}

// together is how far all usual values are moved at once, as a share of the way to their ends. An end is what one vehicle
// in twenty has; that all of many numbers lie there is no usual vehicle. For independent numbers the ends of a sum move
// with the root of their count: six that matter alike give 0.4.
const together = 0.5

// points are the coordinates to try: the usual values first; all towards the end that is bad for supply, all towards the
// other; each pattern alone and each kind of number that the design states as a range, at its very ends; and a few mixed.
// A range of the design is always tried at its ends.
func (b *box) points() [][]float64 {
	n := len(b.dims)
	out := [][]float64{make([]float64, n)}
	if n == 0 {
		return out
	}
	mix := func(share func(i int) float64) []float64 {
		t := make([]float64, n)
		for i := range t {
			if t[i] = b.dims[i].bad() * share(i); b.dims[i].from == nil {
				t[i] = math.Copysign(1, t[i])
			}
		}
		return t
	}
	out = append(out, mix(func(int) float64 { return together }), mix(func(int) float64 { return -together }))
	var groups []any
	group := make([]int, n)
	for i := range b.dims {
		var key any = b.dims[i].path
		if b.dims[i].from != nil {
			key = b.dims[i].from
		}
		at := slices.Index(groups, key)
		if at < 0 {
			at = len(groups)
			groups = append(groups, key)
		}
		group[i] = at
	}
	for g := range groups {
		for _, end := range []float64{1, -1} {
			t := make([]float64, n)
			for i := range t {
				if group[i] == g {
					t[i] = b.dims[i].bad() * end
				}
			}
			if b.dims[slices.Index(group, g)].from != nil {
				for i := range t {
					t[i] *= alone
				}
			}
			out = append(out, t)
		}
	}
	seed := uint32(1)
	for range 4 {
		worst := make([]float64, n)
		for i := range worst {
			seed = seed*1664525 + 1013904223
			worst[i] = together * (2*float64(seed>>31) - 1)
		}
		out = append(out, mix(func(i int) float64 { return worst[b.dims[i].with] }))
	}
	return out
}

// alone is how far the numbers of one pattern are moved at once while the others stay usual.
const alone = 0.7

// pointKey names a finding.
type pointKey struct{ rule, subject string }

// judgedAt are the findings at one point.
func (j *judging) judgedAt(d *schema.Design, rules []*rule.Rule, values derive.Options, resting bool) map[pointKey]*Finding {
	other := j.library.open(d, j.options, values)
	other.resting, other.trial, other.regions, other.named = resting, true, j.regions, j.named
	other.rules(rules)
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
	rests    facts
}

// lean judges the open findings again. Those that stated ranges decide are changed; the others lean.
func (j *judging) lean(rules []*rule.Rule, values derive.Options) {
	byID := map[string]*rule.Rule{}
	for _, r := range rules {
		byID[r.ID] = r
	}
	if ranges := boxOf(j.design, nil); len(ranges.dims) > 0 {
		l := &leaner{judging: j, values: values, rules: byID}
		l.start()
		l.try(ranges, ranges.lines())
		for _, t := range l.seen {
			t.decide(ranges)
		}
	}
	j.wanting(rules, values)
	combinations := j.combinations()
	if len(combinations) == 0 {
		return
	}
	l := &leaner{judging: j, values: values, rules: byID}
	l.start()
	for _, patterns := range combinations {
		b := boxOf(j.design, patterns)
		l.try(b, b.points())
	}
	for _, t := range l.seen {
		t.open.Leaning = l.leaning(t)
	}
}

// joints is the view whose findings do not lean: how two pieces meet depends on which ones they are.
const joints = "design.line_joints"

// wanting marks the open findings that fail or warn if nothing is fitted but what was named.
func (j *judging) wanting(rules []*rule.Rule, values derive.Options) {
	l := &leaner{judging: j, values: values, rules: map[string]*rule.Rule{}}
	for _, r := range rules {
		l.rules[r.ID] = r
	}
	l.start()
	found := j.judgedAt(j.design.Closed(), l.some(func(*tried) bool { return true }), values, false)
	for k, t := range l.seen {
		if f := found[k]; f != nil && (f.Outcome == Fail || f.Outcome == Warn) {
			t.open.Wanting = &Wanting{Outcome: f.Outcome, Text: f.Text, Remedy: f.Remedy}
		}
	}
}

// Wanting is what an open finding becomes if nothing is fitted but what was named.
type Wanting struct {
	Outcome Outcome `json:"outcome"`
	Text    string  `json:"text"`
	Remedy  string  `json:"remedy"`
}

// start notes the findings that are open and due by the next step of the job.
func (l *leaner) start() {
	l.seen = map[pointKey]*tried{}
	next := StageRank(l.stage()) + 1
	for _, f := range l.found {
		if r := l.rules[f.Rule]; f.Outcome == Open && !f.Sense && StageRank(f.Due) <= next && r != nil && (r.Each == nil || r.List() != joints) && !r.Decl.Stated {
			l.seen[pointKey{f.Rule, f.Subject}] = &tried{open: f}
		}
	}
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
	found[0] = l.judgedAt(b.point(points[0]), l.some(func(*tried) bool { return true }), l.values, true)
	decided := func(x *tried) bool {
		f := found[0][pointKey{x.open.Rule, x.open.Subject}]
		return f != nil && f.Outcome != Open
	}
	if rules := l.some(decided); len(rules) > 0 {
		cores.Do(len(points)-1, func(_, i int) { found[i+1] = l.judgedAt(b.point(points[i+1]), rules, l.values, false) })
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
			x.at, x.boxes, x.points = append(x.at, f), append(x.boxes, b), append(x.points, t)
		}
	}
}

// rest notes what it rests on.
func (t *tried) rest(on facts) {
	if t.rests == nil {
		t.rests = facts{}
	}
	maps.Copy(t.rests, on)
}

// decide settles a finding that comes out one way all over the stated ranges.
func (t *tried) decide(b *box) {
	if t.unjudged || len(t.at) == 0 || !t.sure(b) {
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

// likely is the worst outcome with all usual values, over the ways it may be built.
func (t *tried) likely() Outcome {
	out := NotApplicable
	for i, f := range t.at {
		if !slices.ContainsFunc(t.points[i], func(x float64) bool { return x != 0 }) && f.Outcome.Rank() < out.Rank() {
			out = f.Outcome
		}
	}
	return out
}

// sure reports whether what comes out one way at all points of the lines can be told to do so between them: where a number
// decides, it stays farther from its bounds than it moves from one point of a line to the next; where none does, it
// rests on no more than one range.
func (t *tried) sure(b *box) bool {
	on := 0
	for i := range b.dims {
		if t.rests[b.dims[i].path] {
			on++
		}
	}
	if on <= 1 && t.at[0].Measured == nil {
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

// perLine are the points of a line through a box.
const perLine = 7

// lines are points on lines through the box of the ranges a design states, perLine on each: each range by itself, with the
// others in their middle, and several diagonals.
func (b *box) lines() [][]float64 {
	n := len(b.dims)
	var out [][]float64
	line := func(end []float64) {
		for i := range perLine {
			at := 2*float64(i)/float64(perLine-1) - 1
			t := make([]float64, n)
			for k := range t {
				t[k] = at * end[k]
			}
			out = append(out, t)
		}
	}
	for i := range n {
		end := make([]float64, n)
		end[i] = 1
		line(end)
	}
	seed := uint32(1)
	for d := range 6 {
		end := make([]float64, n)
		for i := range end {
			end[i] = 1
			if seed = seed*1664525 + 1013904223; d > 0 && seed>>31 == 1 {
				end[i] = -1
			}
		}
		line(end)
	}
	return out
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

// leaning is how a finding leans; nil when it stays unjudged somewhere, or concerns nothing.
func (l *leaner) leaning(t *tried) *Leaning {
	if t.unjudged || len(t.at) == 0 {
		return nil
	}
	out := &Leaning{Points: len(t.at)}
	outcomes := map[Outcome]bool{}
	for _, f := range t.at {
		outcomes[f.Outcome] = true
		if f.Outcome == Fail {
			out.Fails += 1 / float64(len(t.at))
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
	out.Likely = t.likely()
	at := t.worst()
	if out.Lean == WouldFail {
		at = t.mildest()
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
		if t.boxes[0].usual[path] {
			out.Usual = append(out.Usual, path)
		}
	}
	slices.Sort(out.Usual)
	if out.Lean == Turns {
		about := pointKey{t.open.Rule, t.open.Subject} // the findings are arranged before it is asked
		out.turn = sync.OnceValue(func() *Turn { return l.turn(t, about) })
	}
	return out
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

func (l *leaner) factText(fact schema.Reading) string {
	if q, ok := fact.Any().(interface {
		Format(quantity.System) string
	}); ok {
		return q.Format(l.options.Units)
	}
	return spoken(fact.Text())
}

// combinations are the patterns to fill with: of each group those that contradict nothing, one of each at a time.
func (j *judging) combinations() [][]*pattern.Pattern {
	var groups [][]*pattern.Pattern
	for i, p := range j.options.Patterns {
		if i == 0 || p.Group != j.options.Patterns[i-1].Group {
			groups = append(groups, nil)
		}
		if p.Contradicts(j.design) == "" {
			groups[len(groups)-1] = append(groups[len(groups)-1], p)
		}
	}
	var out [][]*pattern.Pattern
	for _, g := range groups {
		if len(g) == 0 {
			continue
		}
		if len(out) == 0 {
			out = [][]*pattern.Pattern{nil}
		}
		var next [][]*pattern.Pattern
		for _, p := range g {
			for _, c := range out {
				next = append(next, append(slices.Clone(c), p))
			}
		}
		out = next
	}
	return out
}

// turn finds the one unknown that decides most and the value at which the finding turns, with the others at their worst.
func (l *leaner) turn(t *tried, about pointKey) *Turn {
	at := t.worst()
	b, from := t.boxes[at], t.points[at]
	r := l.rules[about.rule]
	judged := func(point []float64) *Finding {
		return l.judgedAt(b.point(point), []*rule.Rule{r}, l.values, false)[about]
	}
	bad := func(f *Finding) bool { return f == nil || f.Outcome == Fail || f.Outcome == Warn || f.Outcome == Open }
	if !bad(t.at[at]) {
		return nil
	}
	deciding, good, most := -1, 0.0, math.Inf(-1)
	for i := range b.dims {
		if !t.rests[b.dims[i].path] || b.dims[i].with != i {
			continue
		}
		end := 1.0
		if from[i] > 0 || from[i] == 0 && b.dims[i].bad() > 0 {
			end = -1
		}
		f := judged(b.moved(from, i, end))
		if bad(f) {
			continue
		}
		m := marginOf(f)
		if b.dims[i].from == nil {
			m = math.Inf(1) // the reader's own range first
		}
		if deciding < 0 || m > most {
			deciding, good, most = i, end, m
		}
	}
	if deciding < 0 {
		return nil
	}
	lo, hi := from[deciding], good // bad at lo, good at hi
	for range 12 {
		mid := (lo + hi) / 2
		if bad(judged(b.moved(from, deciding, mid))) {
			lo = mid
		} else {
			hi = mid
		}
	}
	x := b.dims[deciding]
	fact := b.point(b.moved(from, deciding, hi)).FactAt(x.path)
	turn := &Turn{Path: x.path, At: Number{Text: l.factText(fact), Value: sizeOf(fact.Any()), Dimension: x.dimension.String()}, Better: "at_least", Stated: x.from == nil}
	if good < from[deciding] {
		turn.Better = "at_most"
	}
	return turn
}
