package engine

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/google/cel-go/common/types"
	"gopkg.in/yaml.v3"

	"plumbline/engine/vocabulary"
)

// Mend is what to do about a broken rule: one text, or several of which the
// first whose condition is true is said. The last has no condition, and is said
// also while the conditions before it are not known: it must not send anybody
// the wrong way.
type Mend []Remedy

// Remedy is one text of a Mend.
type Remedy struct {
	// When it is said; the last one has none.
	When *Expression `yaml:"when" json:"when,omitempty"`
	// What to do; begins with a verb.
	Text string `yaml:"text" json:"text" jsonschema:"required"`
	node *yaml.Node
}

// Lines writes the remedies for people, one a line.
func (m Mend) Lines() []string {
	var out []string
	for _, r := range m {
		switch {
		case r.When != nil:
			out = append(out, "when "+r.When.Text+": "+r.Text)
		case len(m) > 1:
			out = append(out, "otherwise: "+r.Text)
		default:
			out = append(out, r.Text)
		}
	}
	return out
}

// remedy is a Remedy ready to be said.
type remedy struct {
	when *vocabulary.Program
	text []segment
}

// mend reads one text, or a list of texts with conditions.
func (r *reader) mend(n *yaml.Node, path string, m *Mend) {
	if n.Kind == yaml.ScalarNode {
		one := Remedy{node: n}
		r.decode(n, path, reflect.ValueOf(&one.Text).Elem())
		*m = Mend{one}
		return
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) == 0 {
		r.problem(n, path, path+" must be a text, or a list of texts with conditions: {when: a condition, text: what to do}, {text: what to do otherwise}", "")
		return
	}
	for i, item := range n.Content {
		one := Remedy{}
		r.decode(item, fmt.Sprintf("%s[%d]", path, i), reflect.ValueOf(&one).Elem())
		one.node = childOf(item, "text")
		*m = append(*m, one)
	}
}

// mends compiles what to do about a rule.
func (c *compiler) mends(r *Rule, vars []vocabulary.Variable) []remedy {
	path := "rules." + r.ID + ".mend"
	var out []remedy
	for i := range r.Mend {
		one := &r.Mend[i]
		last := i == len(r.Mend)-1
		switch {
		case last && one.When != nil:
			c.problem(one.When.node, path, "the last remedy has no condition: it is said when no other is", "")
		case !last && one.When == nil:
			c.problem(one.node, path, "only the last remedy has no condition; this one hides those after it", "")
		}
		compiled := remedy{text: c.segments(one.node, path, one.Text, vars)}
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
func (r *compiled) unsaid(said map[int]bool) []string {
	var out []string
	for i := range r.decl.Mend {
		if len(r.decl.Mend) > 1 && !said[i] {
			out = append(out, strings.TrimSpace(r.decl.Mend.Lines()[i]))
		}
	}
	return out
}
