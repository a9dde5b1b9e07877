package pack

import (
	"fmt"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
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
	Text string     `yaml:"text" json:"text" jsonschema:"required"`
	Node *yaml.Node `yaml:"-" json:"-"`
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

// DecodeNode reads one text, or a list of texts with conditions.
func (m *Mend) DecodeNode(r *document.Reader, n *yaml.Node, path string) {
	if n.Kind == yaml.ScalarNode {
		one := Remedy{Node: n}
		r.DecodeInto(n, path, &one.Text)
		*m = Mend{one}
		return
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) == 0 {
		r.Problem(n, path, path+" must be a text, or a list of texts with conditions: {when: a condition, text: what to do}, {text: what to do otherwise}", "")
		return
	}
	for i, item := range n.Content {
		one := Remedy{}
		r.DecodeInto(item, fmt.Sprintf("%s[%d]", path, i), &one)
		one.Node = ChildOf(item, "text")
		*m = append(*m, one)
	}
}
