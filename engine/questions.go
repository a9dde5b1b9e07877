package engine

import (
	"cmp"
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// questions ranks the missing facts: those behind a grave danger
// first, then by how many rules each keeps open.
func questions(d *schema.Design, findings []Finding) []Question {
	byPath := map[string]*Question{}
	for i := range findings {
		f := &findings[i]
		if f.Outcome != Open || f.Sense {
			continue
		}
		for _, path := range f.Missing {
			q := byPath[path]
			if q == nil {
				q = &Question{Path: path, Danger: f.Danger}
				byPath[path] = q
			}
			if f.Danger.Rank() < q.Danger.Rank() {
				q.Danger = f.Danger
			}
			if !slices.Contains(q.Rules, f.Rule) {
				q.Rules = append(q.Rules, f.Rule)
			}
			if len(f.Missing) == 1 {
				q.Alone++
			}
		}
	}
	out := make([]Question, 0, len(byPath))
	for _, q := range byPath {
		slices.Sort(q.Rules)
		fact := schema.Describe(q.Path)
		q.Ask, q.Example, q.Words = fact.Doc, fact.Example, fact.Words
		out = append(out, *q)
	}
	later := func(q Question) int {
		if q.Danger.Grave() {
			return 0
		}
		return 1
	}
	slices.SortFunc(out, func(a, b Question) int {
		return cmp.Or(
			later(a)-later(b),
			len(b.Rules)-len(a.Rules),
			b.Alone-a.Alone,
			a.Danger.Rank()-b.Danger.Rank(),
			strings.Compare(a.Path, b.Path),
		)
	})
	return out
}

// assumptionsUsed lists the assumptions findings rest on.
func (l *Library) assumptionsUsed(s *derive.Session, findings []Finding, units quantity.System) []AssumptionUsed {
	count := map[string]int{}
	for i := range findings {
		for _, p := range findings[i].Assumed {
			count[p]++
		}
	}
	out := make([]AssumptionUsed, 0, len(count))
	j := &judging{options: Options{Units: units}}
	for path, n := range count {
		value, _, _ := s.Assumption(path)
		out = append(out, AssumptionUsed{Path: path, Value: j.number(vocabulary.Native(value)).Text, Because: l.AssumedBecause(path), Findings: n})
	}
	slices.SortFunc(out, func(a, b AssumptionUsed) int { return strings.Compare(a.Path, b.Path) })
	return out
}
