package amend

import (
	"bytes"
	"errors"
	"fmt"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// Whole is the Item of a step that leads into no list, or to a list as a whole.
const Whole = -1

// Step leads from a mapping to the value of a key and, when that is a list, to one of its items.
type Step struct {
	Key string
	// Item counts from 0; Whole for none. An item beyond the end, or one of another name, is added at the end.
	Item int
	// Name of the item, when it has one: it is looked for by that, and made with it.
	Name string
}

// Set returns a file's text with a value put at the end of a path; what is missing on the way is made. The error is
// of type document.Problems when the text cannot be read.
func Set(file string, text []byte, path []Step, value *yaml.Node) ([]byte, error) {
	root, err := document.Parse(file, text)
	if err != nil {
		return nil, err
	}
	if len(path) == 0 {
		return nil, errors.New("a path is expected")
	}
	e := opened(text)
	if err := e.find(root, path, value); err != nil {
		return nil, err
	}
	done := e.splice(root)
	e.grow()
	return e.finish(file, root, done)
}

// opened is a text to be changed.
func opened(text []byte) *edit {
	e := &edit{lines: lines(text), lineEnd: "\n"}
	if bytes.Contains(text, []byte("\r\n")) {
		e.lineEnd = "\r\n"
	}
	return e
}

// text is the text of the lines.
func (e *edit) text() []byte {
	var b bytes.Buffer
	for _, l := range e.lines {
		b.WriteString(string(l) + e.lineEnd)
	}
	return b.Bytes()
}

// finish returns the text, where the lines were changed and read as the tree; else the tree written anew.
func (e *edit) finish(file string, root *yaml.Node, done bool) ([]byte, error) {
	if done {
		if spliced := e.text(); holds(file, spliced, root) {
			return spliced, nil
		}
	}
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(step)
	if err := enc.Encode(root); err != nil {
		return nil, fmt.Errorf("%s cannot be written: %w", file, err)
	}
	if !holds(file, b.Bytes(), root) {
		return nil, fmt.Errorf("%s cannot be changed without losing something; write the value in by hand", file)
	}
	return b.Bytes(), nil
}

// edit is one change: into is the mapping or list that grows, by a key with its value or by an item.
type edit struct {
	lines   []line
	lineEnd string
	into    *yaml.Node
	key     string
	value   *yaml.Node
	// around are the mappings and lists on the way, into included when it is a list.
	around []*yaml.Node
}

// find follows a path as far as the file goes and makes the rest.
func (e *edit) find(n *yaml.Node, path []Step, value *yaml.Node) error {
	for i, s := range path {
		e.around = append(e.around, n)
		next := entry(n, s.Key)
		if next == nil {
			if n.Kind != yaml.MappingNode {
				return fmt.Errorf("line %d is no mapping of keys to values", n.Line)
			}
			e.into, e.key, e.value = n, s.Key, build(s, path[i+1:], value)
			return nil
		}
		if s.Item != Whole {
			if next.Kind != yaml.SequenceNode {
				return fmt.Errorf("line %d is no list", next.Line)
			}
			at := s.in(next)
			if at == nil {
				e.around = append(e.around, next)
				e.into, e.value = next, s.item(path[i+1:], value)
				return nil
			}
			e.around = append(e.around, next)
			next = at
		}
		n = next
	}
	return fmt.Errorf("line %d states this already", n.Line)
}

// in finds the item a step means.
func (s Step) in(list *yaml.Node) *yaml.Node {
	named := func(n *yaml.Node) bool {
		name := entry(n, "name")
		return name != nil && name.Value == s.Name
	}
	if s.Item < len(list.Content) && (s.Name == "" || named(list.Content[s.Item])) {
		return list.Content[s.Item]
	}
	for _, n := range list.Content {
		if s.Name != "" && named(n) {
			return n
		}
	}
	return nil
}

// build makes the value of a step's key.
func build(s Step, rest []Step, value *yaml.Node) *yaml.Node {
	if s.Item != Whole {
		return &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: []*yaml.Node{s.item(rest, value)}}
	}
	return nested(rest, value)
}

// item makes the item of a step.
func (s Step) item(rest []Step, value *yaml.Node) *yaml.Node {
	made := nested(rest, value)
	if s.Name == "" || made.Kind != yaml.MappingNode {
		return made
	}
	made.Content = append([]*yaml.Node{Plain("name"), Text(s.Name)}, made.Content...)
	made.Style = 0
	return made
}

func nested(path []Step, value *yaml.Node) *yaml.Node {
	if len(path) == 0 {
		return value
	}
	return &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Content: []*yaml.Node{Plain(path[0].Key), build(path[0], path[1:], value)}}
}

// grow makes the change in the tree.
func (e *edit) grow() {
	if len(e.into.Content) == 0 {
		e.into.Style = 0
	}
	if e.key != "" {
		e.into.Content = append(e.into.Content, Plain(e.key))
	}
	e.into.Content = append(e.into.Content, e.value)
}

func entry(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// holds reports whether a text reads as a tree.
func holds(file string, text []byte, tree *yaml.Node) bool {
	root, err := document.Parse(file, text)
	return err == nil && same(root, tree)
}

func same(a, b *yaml.Node) bool {
	if a.Kind != b.Kind || a.Value != b.Value || a.ShortTag() != b.ShortTag() || len(a.Content) != len(b.Content) {
		return false
	}
	for i := range a.Content {
		if !same(a.Content[i], b.Content[i]) {
			return false
		}
	}
	return true
}
