package rule

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// Caution is one ready to be judged.
type Caution struct {
	ID      string
	Decl    *pack.Caution
	When    *vocabulary.Program
	Grounds []Ground
	From    *Compiler
}

// Cautions compiles those of a pack.
func (c *Compiler) Cautions() []Caution {
	var out []Caution
	seen := map[string]bool{}
	for i := range c.Pack.Cautions {
		d := &c.Pack.Cautions[i]
		path := "cautions." + d.ID
		fault := func(text string, args ...any) { c.ProblemAt(d.Place, path, fmt.Sprintf(text, args...), "") }
		if seen[d.ID] || !idPattern.MatchString(d.ID) {
			fault("a caution's id is its own: lower-case words joined by hyphens, once in the pack")
		}
		seen[d.ID] = true
		if len(d.Parts)+len(d.Dangers) == 0 {
			fault("name the parts or the dangers it goes with")
		}
		for _, part := range d.Parts {
			if strings.Contains(part, "[") || !c.Vocabulary.HasPath("design."+part) {
				fault("a design has no part %q", part)
			}
		}
		for _, danger := range d.Dangers {
			if danger.Rank() < 0 {
				fault("there is no danger %q", danger)
			}
		}
		x := Caution{ID: c.Pack.Pack + "." + d.ID, Decl: d, From: c, Grounds: c.reasons(d.Because, path)}
		if d.When != nil {
			x.When = c.decides(d.When, path+".when", fault)
		} else if d.Unsure != "" {
			fault("without a condition nothing is unsure")
		}
		out = append(out, x)
	}
	return out
}

// Unsettled is what is said while the condition cannot be judged.
func (x *Caution) Unsettled() string {
	if x.Decl.Unsure != "" {
		return x.Decl.Unsure
	}
	return x.Decl.Say
}

// GoesWith reports whether a danger or a part of a design calls for it.
func (x *Caution) GoesWith(d pack.Danger, path string) bool {
	return slices.Contains(x.Decl.Dangers, d) || slices.ContainsFunc(x.Decl.Parts, func(part string) bool { return within(path, part) })
}

// within reports whether a path leads to a part of a design or below it.
func within(path, part string) bool {
	rest, found := strings.CutPrefix(path, "design."+part)
	return found && (rest == "" || rest[0] == '.' || rest[0] == '[')
}
