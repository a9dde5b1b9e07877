package engine

import (
	"fmt"
	"slices"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema/document"
)

// CautionFound is a caution that goes with findings of a report.
type CautionFound struct {
	// ID is the caution's full name: start/cautions.fuel.
	ID      string        `json:"id"`
	Text    string        `json:"text"`
	Because []rule.Ground `json:"because"`
	// Rules are those of the findings it goes with, each once, in their order.
	Rules []string `json:"rules"`
}

// text is what is said of a design, empty when the condition does not hold.
func (j *judging) caution(x *rule.Caution) string {
	if x.When == nil {
		return x.Decl.Say
	}
	j.from(x.From.Names, x.From.Pack)
	v := x.When.Eval(&j.names)
	if e := faulty(v); e != nil {
		j.note(&document.Problem{Place: x.Decl.Place, Path: "cautions." + x.Decl.ID, Message: fmt.Sprintf("the condition of %s cannot be worked out: %s; this is a fault of the pack, not of the design", x.ID, e)})
	}
	switch v {
	case types.True:
		return x.Decl.Say
	case types.False:
		return ""
	}
	return x.Unsettled()
}

// Sends reports whether the finding sends someone to the vehicle: an open one that can wait does not.
func (f *Finding) Sends() bool {
	return f.Outcome == Fail || f.Outcome == Warn || f.Outcome == Open && f.Blocks
}

// take lists the cautions that go with findings.
func (j *judging) take(findings []Finding) []CautionFound {
	var out []CautionFound
	for i := range j.library.cautions {
		x := &j.library.cautions[i]
		var rules []string
		for k := range findings {
			f := &findings[k]
			if f.Sends() && j.inRegion(x.From.Pack) && x.GoesWith(f.Danger, f.Subject) && !slices.Contains(rules, f.Rule) {
				rules = append(rules, f.Rule)
			}
		}
		if len(rules) == 0 {
			continue
		}
		text := j.caution(x)
		if text == "" || slices.ContainsFunc(out, func(o CautionFound) bool { return o.Text == text }) {
			continue
		}
		out = append(out, CautionFound{ID: x.ID, Text: text, Because: x.Grounds, Rules: rules})
	}
	return out
}

// CautionsOf are the cautions that go with a rule in some design, those with a condition as they
// are said while it is not known.
func (l *Library) CautionsOf(name string) []CautionFound {
	i := slices.IndexFunc(l.rules, func(r *rule.Rule) bool { return r.ID == name })
	if i < 0 {
		return nil
	}
	r := l.rules[i].Ready()
	paths := []string{r.Decl.About}
	if r.Each != nil {
		paths[0] = r.List()
		if v := derive.ViewAt(paths[0]); v != nil {
			paths = v.From
		}
	}
	var out []CautionFound
	for k := range l.cautions {
		x := &l.cautions[k]
		text := x.Unsettled()
		goes := slices.ContainsFunc(paths, func(path string) bool { return x.GoesWith(r.Decl.Danger, path) })
		if goes && !slices.ContainsFunc(out, func(o CautionFound) bool { return o.Text == text }) {
			out = append(out, CautionFound{ID: x.ID, Text: text, Because: x.Grounds, Rules: []string{name}})
		}
	}
	return out
}
