package engine

import (
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// remedy is a Remedy ready to be said.
type remedy struct {
	when *vocabulary.Program
	text []segment
}

// mends compiles what to do about a rule.
func (c *compiler) mends(r *pack.Rule, vars []vocabulary.Variable) []remedy {
	path := "rules." + r.ID + ".mend"
	var out []remedy
	for i := range r.Mend {
		one := &r.Mend[i]
		last := i == len(r.Mend)-1
		switch {
		case last && one.When != nil:
			c.Problem(one.When.Node, path, "the last remedy has no condition: it is said when no other is", "")
		case !last && one.When == nil:
			c.Problem(one.Node, path, "only the last remedy has no condition; this one hides those after it", "")
		}
		compiled := remedy{text: c.segments(one.Node, path, one.Text, vars)}
		if one.When != nil {
			compiled.when = c.condition(one.When, path+".when", vars)
		}
		out = append(out, compiled)
	}
	return out
}

// remedy picks what to do, by its place in the list.
func (j *judging) remedy(r *compiled) int {
	last := len(r.mend) - 1
	for i := range last {
		if r.mend[i].when.Eval(&j.names) == types.True {
			return i
		}
	}
	return last
}

// unsaid lists the remedies that no case of a rule brought about.
func unsaid(r *compiled, said map[int]bool) []string {
	var out []string
	for i := range r.decl.Mend {
		if len(r.decl.Mend) > 1 && !said[i] {
			out = append(out, strings.TrimSpace(r.decl.Mend.Lines()[i]))
		}
	}
	return out
}
