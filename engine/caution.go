package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// CautionFound is a caution that goes with findings of a report.
type CautionFound struct {
	// ID is the caution's full name: start/cautions.fuel.
	ID      string   `json:"id"`
	Text    string   `json:"text"`
	Because []Ground `json:"because"`
	// Rules are those of the findings it goes with, each once, in their order.
	Rules []string `json:"rules"`
}

// caution is one ready to be judged.
type caution struct {
	id      string
	decl    *pack.Caution
	when    *vocabulary.Program
	grounds []Ground
	from    *compiler
}

// cautions compiles those of a pack.
func (c *compiler) cautions() []caution {
	var out []caution
	seen := map[string]bool{}
	for i := range c.pack.Cautions {
		d := &c.pack.Cautions[i]
		path := "cautions." + d.ID
		fault := func(text string, args ...any) { c.problemAt(d.Place, path, fmt.Sprintf(text, args...), "") }
		if seen[d.ID] || !idPattern.MatchString(d.ID) {
			fault("a caution's id is its own: lower-case words joined by hyphens, once in the pack")
		}
		seen[d.ID] = true
		if len(d.Parts)+len(d.Dangers) == 0 {
			fault("name the parts or the dangers it goes with")
		}
		for _, part := range d.Parts {
			if strings.Contains(part, "[") || !c.vocabulary.HasPath("design."+part) {
				fault("a design has no part %q", part)
			}
		}
		for _, danger := range d.Dangers {
			if danger.Rank() < 0 {
				fault("there is no danger %q", danger)
			}
		}
		x := caution{id: c.pack.Pack + "." + d.ID, decl: d, from: c, grounds: c.reasons(d.Because, path)}
		if d.When != nil {
			if x.when = c.condition(d.When, path+".when", c.vars); x.when != nil && !slices.Contains(x.when.Names, "design") {
				fault("the condition never depends on the design: leave it out")
			}
		} else if d.Unsure != "" {
			fault("without a condition nothing is unsure")
		}
		out = append(out, x)
	}
	return out
}

// text is what is said of a design, empty when the condition does not hold.
func (j *judging) caution(x *caution) string {
	if x.when == nil {
		return x.decl.Say
	}
	j.names.fixed, j.names.own = x.from.names, j.names.own[:0]
	switch x.when.Eval(&j.names) {
	case types.True:
		return x.decl.Say
	case types.False:
		return ""
	}
	return x.unsettled()
}

// unsettled is what is said while the condition cannot be judged.
func (x *caution) unsettled() string {
	if x.decl.Unsure != "" {
		return x.decl.Unsure
	}
	return x.decl.Say
}

// goesWith reports whether a danger or a part of a design calls for it.
func (x *caution) goesWith(d pack.Danger, path string) bool {
	return slices.Contains(x.decl.Dangers, d) || slices.ContainsFunc(x.decl.Parts, func(part string) bool { return within(path, part) })
}

// within reports whether a path leads to a part of a design or below it.
func within(path, part string) bool {
	rest, found := strings.CutPrefix(path, "design."+part)
	return found && (rest == "" || rest[0] == '.' || rest[0] == '[')
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
			if f.Sends() && j.inRegion(x.from.pack) && x.goesWith(f.Danger, f.Subject) && !slices.Contains(rules, f.Rule) {
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
		out = append(out, CautionFound{ID: x.id, Text: text, Because: x.grounds, Rules: rules})
	}
	return out
}

// CautionsOf are the cautions that go with a rule in some design, those with a condition as they
// are said while it is not known.
func (l *Library) CautionsOf(name string) []CautionFound {
	i := slices.IndexFunc(l.rules, func(r *compiled) bool { return r.id == name })
	if i < 0 {
		return nil
	}
	r := l.rules[i].ready()
	paths := []string{r.decl.About}
	if r.each != nil {
		paths[0] = listPath(r)
		if v := derive.ViewAt(paths[0]); v != nil {
			paths = v.From
		}
	}
	var out []CautionFound
	for k := range l.cautions {
		x := &l.cautions[k]
		text := x.unsettled()
		goes := slices.ContainsFunc(paths, func(path string) bool { return x.goesWith(r.decl.Danger, path) })
		if goes && !slices.ContainsFunc(out, func(o CautionFound) bool { return o.Text == text }) {
			out = append(out, CautionFound{ID: x.id, Text: text, Because: x.grounds, Rules: []string{name}})
		}
	}
	return out
}

// Section is the part of a design a path begins with: tank of design.tank.vent.
func Section(path string) string {
	name, _, _ := strings.Cut(strings.TrimPrefix(path, "design."), ".")
	name, _, _ = strings.Cut(name, "[")
	return name
}
