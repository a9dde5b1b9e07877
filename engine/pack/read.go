package pack

import (
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// Read reads a pack file. What is wrong with it is in the reader; without a pack it cannot be used at all.
func Read(file string, data []byte) (*Pack, *document.Reader) {
	p := &Pack{}
	r, ok := ReadAs(file, data, p)
	if !ok {
		return nil, r
	}
	return p, r
}

// ReadAs reads a file of the library into a struct by its tags, with the hints of packs; false when it cannot be used at all.
func ReadAs(file string, data []byte, into any) (*document.Reader, bool) {
	r := &document.Reader{Path: file, Called: "a pack", Hints: map[string]string{
		"because": ": a source, or the honest words practice, memory or physics",
	}}
	return r, r.Decode(data, into)
}

// DecodeNode reads an expression.
func (e *Expression) DecodeNode(r *document.Reader, n *yaml.Node, path string) {
	if r.Scalar(n, path, "an expression") {
		e.Text, e.Node = n.Value, n
	}
}

// DecodeNode reads a plain value.
func (s *Scalar) DecodeNode(r *document.Reader, n *yaml.Node, path string) {
	if r.Scalar(n, path, "a value") {
		s.Text, s.Tag, s.Node = n.Value, n.Tag, n
	}
}

// Fill names an entry and returns where its value is read to.
func (e *Entry[T]) Fill(key string, at document.Place) any {
	e.Key, e.Place = key, at
	return &e.Value
}

// Instead says how a text that stands where a reason must is written as one.
func (r *Reason) Instead(text string, inList bool) string {
	form := "{practice: " + text + "}"
	if inList {
		form = "[" + form + "]"
	}
	return ": write " + form + " for common practice, or source, physics or memory in its place"
}

// Lacking says nothing: no key of a reason is required.
func (r *Reason) Lacking(string) string { return "" }

// PlaceAt places a reason at the source it cites.
func (r *Reason) PlaceAt(reader *document.Reader, n *yaml.Node) {
	r.Place = reader.At(ChildOf(n, "source"))
}

var boundOps = []string{"at_least", "at_most", "more_than", "less_than", "between"}

// DecodeNode reads a condition, or bounds.
func (t *Test) DecodeNode(r *document.Reader, n *yaml.Node, path string) {
	t.Node = n
	if n.Kind == yaml.ScalarNode {
		t.Condition = &Expression{Text: n.Value, Node: n}
		return
	}
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		r.Problem(n, path, path+" must be a condition or bounds such as {at_least: 1.0}", "")
		return
	}
	bound := func(op string, n *yaml.Node) {
		b := Bound{Op: op}
		b.Value.DecodeNode(r, n, path+"."+op)
		t.Bounds = append(t.Bounds, b)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		switch {
		case !slices.Contains(boundOps, key.Value):
			r.Problem(key, path, fmt.Sprintf("%s has no bound %q; bounds are %s", path, key.Value, strings.Join(boundOps, ", ")), document.Nearest(key.Value, boundOps))
		case key.Value == "between":
			if value.Kind != yaml.SequenceNode || len(value.Content) != 2 {
				r.Problem(value, path, path+".between must be a list of two: [low, high]", "")
				continue
			}
			bound("at_least", value.Content[0])
			bound("at_most", value.Content[1])
		default:
			bound(key.Value, value)
		}
	}
}

// ChildOf is the node of a key of a mapping; the mapping itself when it lacks the key.
func ChildOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n != nil && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return n
}

// ItemOf is the node of an item of a list; the node itself when it has no such item.
func ItemOf(n *yaml.Node, at int) *yaml.Node {
	if n != nil && n.Kind == yaml.SequenceNode && at < len(n.Content) {
		return n.Content[at]
	}
	return n
}

// ReadFile reads a file, but no more than a pack may be.
func ReadFile(folder fs.FS, name string) ([]byte, error) {
	f, err := folder.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, document.MaxBytes+1))
}
