package lines

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
)

// YAML is the text of a design that states what was understood, in the order of the schema. What was not stands above it
// as remarks, so that it is not lost.
func (r *Reading) YAML() []byte {
	var b bytes.Buffer
	b.WriteString("plumbline: 1\n")
	for i := range r.Lines {
		for _, l := range r.Lines[i].Left {
			fmt.Fprintf(&b, "# not understood in line %d: %s\n", r.Lines[i].Number, remark(l.Text))
		}
	}
	facts := slices.Clone(r.facts)
	slices.SortStableFunc(facts, func(a, b fact) int {
		return schema.Path("design." + a.path).Compare(schema.Path("design." + b.path))
	})
	top := &yaml.Node{Kind: yaml.MappingNode}
	for _, f := range facts {
		place(top, f)
	}
	if len(top.Content) == 0 {
		return b.Bytes()
	}
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := enc.Encode(top); err != nil {
		panic("lines: " + err.Error())
	}
	return b.Bytes()
}

// remark is a text without what would end or hide a remark.
func remark(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
			return ' ' // what no file may hold, too
		}
		return r
	}, text)
}

// place puts a fact into the tree, with the parts and items on its way.
func place(top *yaml.Node, f fact) {
	n := top
	steps := slices.Collect(schema.Path("design." + f.path).Steps())
	for i, step := range steps {
		last := i == len(steps)-1
		if last && !step.Item {
			set(n, step.Key, value(f))
			return
		}
		kind := yaml.MappingNode
		if step.Item {
			kind = yaml.SequenceNode
		}
		next := entry(n, step.Key)
		if next == nil || next.Kind != kind {
			next = &yaml.Node{Kind: kind}
			set(n, step.Key, next)
		}
		if n = next; !step.Item {
			continue
		}
		for len(n.Content) <= step.Index {
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.MappingNode})
		}
		if last {
			n.Content[step.Index] = value(f)
			return
		}
		n = n.Content[step.Index]
	}
}

func entry(n *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func set(n *yaml.Node, key string, v *yaml.Node) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			if n.Content[i+1].Kind == yaml.ScalarNode || v.Kind != yaml.ScalarNode {
				n.Content[i+1] = v
			}
			return
		}
	}
	n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, v)
}

// value is a fact's value as a file writes it.
func value(f fact) *yaml.Node {
	f.value = remark(f.value) // a name may hold what no file can
	if f.value == "{}" {
		return amend.There()
	}
	kind := schema.Describe("design." + f.path).Field
	if kind.Kind == schema.KindText || kind.Kind == schema.KindList && kind.Item == schema.KindText {
		return amend.Text(f.value)
	}
	if whole, err := strconv.Atoi(f.value); kind.Kind == schema.KindInt && err == nil {
		return amend.Plain(strconv.Itoa(whole))
	}
	n := amend.Plain(f.value)
	if _, err := document.Parse("", []byte("value: "+f.value+"\n")); err != nil {
		n.Style = yaml.DoubleQuotedStyle // some readers take 2:1 for a number to base 60
	}
	return n
}
