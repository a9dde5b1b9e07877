package engine

import (
	"maps"
	"slices"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
)

// withoutHouse judges again what a local pack's assumption settled although a grave danger is at stake, or a law: such
// a rule can be neither loosened nor conceded, so the house's habit does not meet it either. The fact has to be stated.
// A fail stands: it is the worst there is.
func (j *judging) withoutHouse(rules []*rule.Rule, values derive.Options) {
	if len(values.Assumptions) == 0 || len(j.library.houseAssumed) == 0 {
		return
	}
	rests := func(f *Finding) bool {
		return f.Outcome != Fail && j.unwaivable(f) != "" && slices.ContainsFunc(f.Assumed, func(path string) bool {
			return slices.Contains(j.library.houseAssumed, string(schema.Path(path).Generic()))
		})
	}
	again := map[string]bool{}
	for _, f := range j.found {
		if rests(f) {
			again[f.Rule] = true
		}
	}
	if len(again) == 0 {
		return
	}
	values.Assumptions = maps.Clone(values.Assumptions)
	for _, fact := range j.library.houseAssumed {
		delete(values.Assumptions, fact)
	}
	strict := j.library.open(j.design, j.options, values)
	strict.rules(slices.DeleteFunc(slices.Clone(rules), func(r *rule.Rule) bool { return !again[r.ID] }))
	j.marks.join(strict.marks)
	type subject struct{ rule, path string }
	open := map[subject]*Finding{}
	for _, f := range strict.found {
		open[subject{f.Rule, f.Subject}] = f
	}
	for _, f := range j.found {
		if other := open[subject{f.Rule, f.Subject}]; other != nil && rests(f) {
			*f = *other
		}
	}
}
