package rule

import (
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// Remedy is a Remedy ready to be said.
type Remedy struct {
	When *vocabulary.Program
	Text []Segment
}

// mends compiles what to do about a rule.
func (c *Compiler) mends(r *pack.Rule, vars []vocabulary.Variable) []Remedy {
	path := "rules." + r.ID + ".mend"
	var out []Remedy
	for i := range r.Mend {
		one := &r.Mend[i]
		last := i == len(r.Mend)-1
		switch {
		case last && one.When != nil:
			c.Problem(one.When.Node, path, "the last remedy has no condition: it is said when no other is", "")
		case !last && one.When == nil:
			c.Problem(one.Node, path, "only the last remedy has no condition; this one hides those after it", "")
		}
		compiled := Remedy{Text: c.segments(one.Node, path, one.Text, vars)}
		if one.When != nil {
			compiled.When = c.condition(one.When, path+".when", vars)
		}
		out = append(out, compiled)
	}
	return out
}
