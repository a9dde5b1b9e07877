package explain

import (
	"cmp"
	"slices"

	"plumbline/engine"
	"plumbline/engine/derive"
)

// Rule is how a rule came out in a design, in short.
type Rule struct {
	// Judged are the findings, the worst first; each with the working of what it rests on.
	Judged []Judged `json:"judged"`
	// NotApplicable are the subjects that the rule does not apply to.
	NotApplicable []engine.Finding `json:"not_applicable,omitempty"`
}

// Judged is a finding with the working of the values it rests on.
type Judged struct {
	engine.Finding
	Working []derive.WorkLine `json:"working,omitempty"`
}

// Rule sorts the findings of a rule; each gets a working of so many lines at most.
func (k *Workings) Rule(findings []engine.Finding, most int) Rule {
	out := Rule{Judged: []Judged{}}
	for i := range findings {
		f := findings[i]
		if f.Outcome == engine.NotApplicable {
			out.NotApplicable = append(out.NotApplicable, f)
			continue
		}
		out.Judged = append(out.Judged, Judged{f, k.Finding(&f, most)})
	}
	slices.SortStableFunc(out.Judged, func(a, b Judged) int { return cmp.Compare(a.Outcome.Rank(), b.Outcome.Rank()) })
	return out
}

// Finding is the working of the values that a finding rests on.
func (k *Workings) Finding(f *engine.Finding, most int) []derive.WorkLine {
	var values []*derive.Result
	for _, d := range f.Derived {
		if r := k.At(d.Path); r != nil {
			values = append(values, r)
		}
	}
	return k.Together(values, most)
}
