package engine

import (
	"slices"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
)

// Doubt is a computed value that a finding rests on and a measurement
// contradicts. It changes no outcome.
type Doubt struct {
	// Value is the path of the computed value, Called what it is in words, Rule the rule that holds it
	// against what was measured, Text what that rule found.
	Value  string `json:"value"`
	Called string `json:"called,omitempty"`
	Rule   string `json:"rule"`
	Text   string `json:"text"`
}

// doubt marks the findings that rest on values a measurement contradicts: those
// that a rule with a `doubts` names, where it came out as a fail or warning.
func (j *judging) doubt(rules []*rule.Rule) {
	var doubts []Doubt
	var paths []string
	for _, f := range j.found {
		if f.Outcome != Fail && f.Outcome != Warn {
			continue
		}
		at := slices.IndexFunc(rules, func(r *rule.Rule) bool { return r.ID == f.Rule })
		if at < 0 {
			continue
		}
		for _, path := range rules[at].Decl.Doubts {
			doubts = append(doubts, Doubt{Value: path, Called: derive.Called(path), Rule: f.Rule, Text: f.Text})
			paths = append(paths, path)
		}
	}
	if len(doubts) == 0 {
		return
	}
	resting := j.scope.Session().Resting(paths)
	for _, f := range j.found {
		if f.Outcome == Open || f.Outcome == NotApplicable {
			continue
		}
		var on []string
		for _, d := range f.Derived {
			on = append(on, resting.Of(d.Path)...)
		}
		for _, d := range doubts {
			told := slices.ContainsFunc(f.Doubts, func(x Doubt) bool { return x.Rule == d.Rule })
			if !told && d.Rule != f.Rule && slices.Contains(on, d.Value) {
				f.Doubts = append(f.Doubts, d)
			}
		}
	}
}
