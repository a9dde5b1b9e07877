package engine

import (
	"slices"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// rules applies rules to their subjects.
func (j *judging) rules(rules []*rule.Rule) {
	for _, r := range rules {
		r.Ready()
	}
	for i, list := range j.foresee(rules) {
		j.rule(rules[i], list)
	}
}

// rule applies one rule to its subjects, the items of its list if it has one.
func (j *judging) rule(r *rule.Rule, list ref.Val) {
	j.of(r)
	if r.Each == nil {
		if !j.bench.untouched(r.ID, r.Decl.About) && j.afford(r, r.Decl.About) {
			j.inPlaces(r, func() { j.subject(r, r.Decl.About, nil, 0) })
		}
		return
	}
	items, ok := vocabulary.ItemsOf(list)
	if !ok {
		j.inPlaces(r, func() { j.unlisted(r, r.List(), list) })
		return
	}
	view, judged := derive.ViewAt(r.List()), 0
	for i, item := range items {
		missing, _ := vocabulary.Missing(item)
		if len(missing) > 0 && view != nil && view.Spare == missing[0] {
			continue // a rule about the part itself asks for it
		}
		judged++
		if len(missing) == 0 && j.bench.untouched(r.ID, vocabulary.PathOf(item)) {
			continue
		}
		if len(missing) > 0 && j.openList(missing[0]) {
			continue // those that were named are judged; whether there are more is asked once, by rules that need to know
		}
		if len(missing) > 0 {
			j.inPlaces(r, func() { j.unlisted(r, missing[0], item) }) // a list of the view that nobody stated
			continue
		}
		if !j.afford(r, r.List()) {
			return
		}
		j.names.own = append(j.names.own[:0], ownName{r.EachVar, item})
		j.inPlaces(r, func() { j.subject(r, vocabulary.PathOf(item), item, i) })
	}
	if judged == 0 {
		f := j.begin(r, r.List())
		f.Outcome, f.Absent = NotApplicable, r.List()
		f.Text = "There is nothing of this kind in the design."
	}
}

// afford takes the steps of one subject of a local pack's rule; where there are none left, the rule stays open.
func (j *judging) afford(r *rule.Rule, subject string) bool {
	if j.names.meter == nil || j.names.meter.Spend(subjectSteps) {
		return true
	}
	j.unsettled(j.begin(r, subject), vocabulary.Spent())
	return false
}

// openList reports whether a path is that of an open list, which stands for what is not named of it.
func (j *judging) openList(path string) bool {
	_, open := j.design.OpenListAt(path)
	return open
}

// unlisted judges a rule whose list is not known: what applies asks beside the items may rule it out already.
func (j *judging) unlisted(r *rule.Rule, subject string, list ref.Val) {
	j.scope.Start()
	f := j.begin(r, subject)
	if r.Applies != nil {
		j.names.own = append(j.names.own[:0], ownName{r.EachVar, list})
		for _, l := range r.Lets {
			j.names.own = append(j.names.own, ownName{l.Name, l.Prog.Eval(&j.names)})
		}
		out := r.Applies.Eval(&j.names)
		reads := j.scope.Reads()
		j.mark(r, f.Subject, reads)
		j.rest(f, reads)
		if out == types.False {
			f.Outcome, f.Text = NotApplicable, f.Title
			return
		}
	}
	j.unsettled(f, list)
}

// begin makes a finding and notes it among those found.
func (j *judging) begin(r *rule.Rule, subject string) *Finding {
	f := j.next()
	j.judged = r
	f.Rule, f.Title, f.Part, f.Danger, f.Due = r.ID, r.Decl.Title, r.Pack.Part, r.Decl.Danger, r.Decl.Due
	f.Subject, f.Because, f.Place, f.Sense = subject, j.reasons(r), j.placeOf(subject), r.Decl.Sense
	f.Numeric, f.Stated = r.Measure != nil, r.Decl.Stated
	j.regional(r, f)
	f.place = j.place
	j.found, j.orders = append(j.found, f), append(j.orders, r.Order)
	return f
}

// reasons are the grounds of a rule for this design.
func (j *judging) reasons(r *rule.Rule) []rule.Ground {
	out := j.standing(r.Grounds)
	if more := j.place.touches(r, j.library); len(more) > 0 {
		out = slices.Concat(out, more)
	}
	return out
}

// subject judges one subject of a rule; at is its place in the rule's list.
func (j *judging) subject(r *rule.Rule, path string, item ref.Val, at int) {
	j.scope.Start()
	f := j.begin(r, path)
	f.SubjectName = vocabulary.NameOf(item)
	for _, l := range r.Lets {
		j.names.own = append(j.names.own, ownName{l.Name, l.Prog.Eval(&j.names)})
	}
	j.outcome(r, f)
	j.oneUnit(f)
	reads := j.scope.Reads()
	j.read.note(reads)
	j.rest(f, reads)
	f.Assumed = slices.Clone(reads.Assumed)
	met := bounds(reads)
	if !j.terse && (f.Outcome != NotApplicable || len(met) > 0) {
		j.readings(f, reads)
	}
	switch {
	case j.terse:
	case f.Outcome == Fail, f.Outcome == Warn:
		f.Text = j.fill(r.Say)
		f.Which = j.remedy(r)
		f.Remedy = j.fill(r.Mend[f.Which].Text)
	case f.Outcome == Pass:
		f.Text = j.fill(r.Met)
	}
	if f.Text == "" {
		f.Text = f.Title
	}
	if len(met) > 0 {
		j.across(r, f, at, met)
	}
	if f.Outcome == Fail || f.Outcome == Warn || f.Outcome == Pass {
		f.Text = withHearsay(f.Text, r.KnownFrom)
	}
	j.mark(r, path, j.scope.Reads()) // what its sentences say of the design too
}

// rest notes what a finding rests on, where that is asked for.
func (j *judging) rest(f *Finding, reads vocabulary.Reads) {
	if j.resting {
		f.rests = newFacts()
		f.rests.note(reads)
	}
}
