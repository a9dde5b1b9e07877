package engine

import (
	"math"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// A model that knows a value only between two ends makes a finding that rests
// on it one of several: it is judged again with each end. If all agree, it is
// decided, and says so at the end that comes nearest to turning it. If not, it
// is open, and asks for what would settle the value.

// trial is a subject judged in one world.
type trial struct {
	in      *judging
	finding *Finding
}

// inWorld is the design made ready to be judged in another world.
func (j *judging) inWorld(w derive.World) *judging {
	if w == (derive.World{}) {
		return j
	}
	if other := j.worlds[w]; other != nil {
		other.place = j.place
		return other
	}
	other := &judging{trial: true, figures: j.figures, place: j.place, unplaced: j.unplaced, marks: j.marks, library: j.library, options: j.options, design: j.design, named: j.named, regions: j.regions, texts: j.texts, places: j.places, bound: j.bound,
		scope: vocabulary.NewScope(j.scope.Session().In(w))}
	other.names.design, other.names.at = j.library.vocabulary.Root(other.scope)
	other.names.today = j.names.today
	if j.worlds == nil {
		j.worlds = map[derive.World]*judging{}
	}
	j.worlds[w] = other
	return other
}

// bounds are those that what was read met.
func bounds(reads vocabulary.Reads) []derive.Bound {
	var out []derive.Bound
	for _, d := range reads.Derived {
		if met := d.Bounds(); len(met) > 0 {
			out = derive.JoinBounds(out, met)
		}
	}
	return out
}

// across judges a subject again in the worlds its bounds make. at is its place
// in the rule's list.
func (j *judging) across(r *rule.Rule, f *Finding, at int, met []derive.Bound) {
	var trials []trial
	met = derive.Across(met, func(w derive.World) []derive.Bound {
		if w == (derive.World{}) {
			trials = append(trials, trial{j, f})
			return nil
		}
		other := j.inWorld(w)
		again, also := other.again(r, f, at)
		trials = append(trials, trial{other, again})
		return also
	})
	defer func() {
		for _, t := range trials { // what their sentences say too
			t.in.mark(r, f.Subject, t.in.scope.Reads())
		}
	}()
	for _, t := range trials[1:] {
		if !agree(f, t.finding) {
			j.undecided(r, f, met, trials)
			return
		}
	}
	if f.Outcome == Open || f.Outcome == NotApplicable {
		return
	}
	deciding, ends := trials[0], false
	if i := nearest(trials); i >= 0 {
		deciding, ends = trials[i], true
	}
	f.Bounds = deciding.finding.Bounds
	if f.Measured != nil {
		n := *deciding.finding.Measured
		n.Text = endWords(n, numbersOf(trials), ends)
		f.Measured = &n
	}
	if j.terse {
		return
	}
	if f.Outcome == Pass && len(r.Met) > 0 {
		f.Text = fillAcross(r.Met, deciding, trials, ends)
	}
	if f.Outcome == Fail || f.Outcome == Warn {
		f.Text = fillAcross(r.Say, deciding, trials, ends)
		f.Which = deciding.in.remedy(r)
		f.Remedy = fillAcross(r.Mend[f.Which].Text, deciding, trials, ends)
	}
}

// again judges a subject of a rule in this world.
func (j *judging) again(r *rule.Rule, f *Finding, at int) (*Finding, []derive.Bound) {
	again := &Finding{Rule: f.Rule, Subject: f.Subject}
	j.of(r)
	if r.Each != nil {
		items, ok := vocabulary.ItemsOf(r.Each.Eval(&j.names))
		if !ok || len(items) <= at {
			again.Outcome = Open
			return again, nil
		}
		j.names.own = append(j.names.own, ownName{r.EachVar, items[at]})
	}
	j.scope.Start()
	for _, l := range r.Lets {
		j.names.own = append(j.names.own, ownName{l.Name, l.Prog.Eval(&j.names)})
	}
	j.outcome(r, again)
	j.mark(r, f.Subject, j.scope.Reads())
	return again, bounds(j.scope.Reads())
}

// agree reports whether two findings say the same, each bound met or broken alike.
func agree(a, b *Finding) bool {
	return a.Outcome == b.Outcome && slices.EqualFunc(a.Bounds, b.Bounds, func(x, y BoundFound) bool {
		return x.Of == y.Of && x.Op == y.Op && x.Met == y.Met
	})
}

// undecided makes a finding open, with what each value can be and what to find out.
func (j *judging) undecided(r *rule.Rule, f *Finding, met []derive.Bound, trials []trial) {
	if f.Outcome == Open {
		// Another fact is missing in this world already.
		return
	}
	f.Outcome, f.Measured, f.Bounds, f.Remedy, f.Text = Open, nil, nil, "", f.Title
	for _, t := range trials {
		for _, path := range t.finding.Missing {
			if !slices.Contains(f.Missing, path) {
				f.Missing = append(f.Missing, path)
			}
		}
	}
	told := map[derive.Unsettled]bool{}
	for _, b := range met {
		for _, path := range b.Settled {
			if !slices.Contains(f.Missing, path) {
				f.Missing = append(f.Missing, path)
			}
		}
		if !told[b.Of] {
			told[b.Of] = true
			f.Unreachable = append(f.Unreachable, derive.InUnits(b.Why, j.options.Units))
		}
	}
	slices.Sort(f.Missing)
}

// nearest is the trial that comes nearest to turning, -1 where none has bounds with a margin.
func nearest(trials []trial) int {
	best, least := -1, math.Inf(1)
	for i, t := range trials {
		margin := math.Inf(1)
		for _, b := range t.finding.Bounds {
			if b.Margin != nil {
				margin = min(margin, math.Abs(*b.Margin))
			}
		}
		if margin < least {
			best, least = i, margin
		}
	}
	return best
}

// numbersOf are the measured values of all trials.
func numbersOf(trials []trial) []Number {
	var out []Number
	for _, t := range trials {
		if t.finding.Measured != nil {
			out = append(out, *t.finding.Measured)
		}
	}
	return out
}

// endWords write a number that is one of several: at least or at most it where
// it is an end of them, from one end to the other where it lies between.
func endWords(n Number, all []Number, ends bool) string {
	low, high := n, n
	for _, x := range all {
		if x.Value < low.Value {
			low = x
		}
		if x.Value > high.Value {
			high = x
		}
	}
	switch {
	case low.Text == high.Text:
		return n.Text
	case ends && n.Value == low.Value:
		return "at least " + n.Text
	case ends && n.Value == high.Value:
		return "at most " + n.Text
	}
	return low.Text + " to " + high.Text
}

// fillAcross writes a sentence with the numbers of the deciding world, or from
// one end to the other.
func fillAcross(parts []rule.Segment, deciding trial, trials []trial, ends bool) string {
	var b strings.Builder
	for _, s := range parts {
		b.WriteString(s.Text)
		if s.Prog == nil {
			continue
		}
		j := deciding.in
		v := s.Prog.Eval(&j.names)
		if types.IsUnknownOrError(v) || !isNumber(v) {
			b.WriteString(j.words(v))
			continue
		}
		mine := Number{Text: j.words(v), Value: j.number(v).Value}
		all := []Number{mine}
		for _, t := range trials {
			if x := s.Prog.Eval(&t.in.names); isNumber(x) {
				all = append(all, Number{Text: j.words(x), Value: j.number(x).Value})
			}
		}
		b.WriteString(endWords(mine, all, ends))
	}
	return b.String()
}

func isNumber(v ref.Val) bool {
	switch v.(type) {
	case vocabulary.Quantity, types.Double, types.Int:
		return true
	}
	return false
}
