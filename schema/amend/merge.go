package amend

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// Change is one value that is put into a tree, or taken out of it where Value is nil.
type Change struct {
	Path  []Step
	Value *yaml.Node
}

// Where is the path as a design is laid out, items by their name where they have one: feed.runs[tank hose].bore.
func (c Change) Where() string {
	var b strings.Builder
	for i, s := range c.Path {
		if i > 0 {
			b.WriteByte('.')
		}
		b.WriteString(s.Key)
		switch {
		case s.Item == Whole:
		case s.Name != "":
			b.WriteString("[" + s.Name + "]")
		default:
			b.WriteString("[" + strconv.Itoa(s.Item) + "]")
		}
	}
	return b.String()
}

// Diff lists what leads from one tree to another, each by the smallest value that changed. Items of a list are known by their
// names; a list whose items have none, or share some, changes as a whole. What changes only in its remarks, its order or how it is
// written has not changed.
func Diff(from, to *yaml.Node) []Change {
	d := &differ{}
	d.mapping(nil, from, to)
	return d.out
}

type differ struct{ out []Change }

func (d *differ) add(path []Step, value *yaml.Node) {
	d.out = append(d.out, Change{slices.Clone(path), value})
}

func (d *differ) mapping(path []Step, from, to *yaml.Node) {
	for i := 0; i+1 < len(to.Content); i += 2 {
		key := to.Content[i].Value
		d.value(append(path[:len(path):len(path)], Step{Key: key, Item: Whole}), entry(from, key), to.Content[i+1])
	}
	for i := 0; i+1 < len(from.Content); i += 2 {
		if key := from.Content[i].Value; entry(to, key) == nil {
			d.add(append(path[:len(path):len(path)], Step{Key: key, Item: Whole}), nil)
		}
	}
}

func (d *differ) value(path []Step, from, to *yaml.Node) {
	switch {
	case from == nil && to.Kind == yaml.MappingNode && len(to.Content) > 0:
		d.mapping(path, &yaml.Node{Kind: yaml.MappingNode}, to)
	case from == nil && to.Kind == yaml.SequenceNode && len(to.Content) > 0 && names(to) != nil:
		d.items(path, &yaml.Node{Kind: yaml.SequenceNode}, to)
	case from == nil:
		d.add(path, to)
	case same(from, to):
	case from.Kind == yaml.MappingNode && to.Kind == yaml.MappingNode && len(to.Content) > 0:
		d.mapping(path, from, to)
	case from.Kind == yaml.SequenceNode && to.Kind == yaml.SequenceNode && len(to.Content) > 0 && names(from) != nil && names(to) != nil:
		d.items(path, from, to)
	default:
		d.add(path, to)
	}
}

// items compares two lists whose items have names.
func (d *differ) items(path []Step, from, to *yaml.Node) {
	was, is := names(from), names(to)
	at := func(i int, name string) []Step {
		out := slices.Clone(path)
		out[len(out)-1].Item, out[len(out)-1].Name = i, name
		return out
	}
	for i, name := range is {
		if k := slices.Index(was, name); k >= 0 {
			if !same(from.Content[k], to.Content[i]) {
				d.mapping(at(k, name), from.Content[k], to.Content[i])
			}
			continue
		}
		d.add(at(len(was)+i, name), to.Content[i])
	}
	for i, name := range was {
		if !slices.Contains(is, name) {
			d.add(at(i, name), nil)
		}
	}
}

// names are the names of the items of a list; nil where one has none or shares it, not nil for an empty list.
func names(list *yaml.Node) []string {
	out := []string{}
	for _, item := range list.Content {
		name := entry(item, "name")
		if name == nil || name.Kind != yaml.ScalarNode || slices.Contains(out, name.Value) {
			return nil
		}
		out = append(out, name.Value)
	}
	return out
}

// Apply makes changes in a text, one after the other.
func Apply(file string, text []byte, changes []Change) ([]byte, error) {
	var err error
	for _, c := range changes {
		switch last := len(c.Path) - 1; {
		case c.Value == nil:
			text, err = dropWhole(file, text, c.Path)
		case c.Path[last].Item != Whole && c.Path[last].Name != "":
			// A whole item brings its name along.
			path := slices.Clone(c.Path)
			path[last].Name = ""
			if path[last].Item, err = after(file, text, path); err == nil {
				text, err = Put(file, text, path, c.Value)
			}
		default:
			text, err = Put(file, text, c.Path, c.Value)
		}
		if err != nil {
			return nil, err
		}
	}
	return text, nil
}

// dropWhole is Drop, but a list whose last item goes is not stated any more: an empty one says that there is none.
func dropWhole(file string, text []byte, path []Step) ([]byte, error) {
	text, err := Drop(file, text, path)
	if err != nil || path[len(path)-1].Item == Whole {
		return text, err
	}
	if n, err := after(file, text, path); err != nil || n > 0 {
		return text, err
	}
	whole := slices.Clone(path)
	whole[len(whole)-1].Item = Whole
	return Drop(file, text, whole)
}

// after is the place behind the last item of the list at a path.
func after(file string, text []byte, path []Step) (int, error) {
	root, err := document.Parse(file, text)
	if err != nil {
		return 0, err
	}
	whole := slices.Clone(path)
	whole[len(whole)-1].Item = Whole
	if list := At(root, whole); list != nil {
		return len(list.Content), nil
	}
	return 0, nil
}

// Clash is a value that two texts state otherwise than the one they both came from; nil where one does not state it.
type Clash struct {
	Where              string
	Base, Mine, Theirs *yaml.Node
}

// Merge puts what leads from base to mine into theirs, which came from base too. Where both changed one value, or one took away what
// the other changed something of, it is a clash, and the text is nil.
func Merge(file string, base, mine, theirs []byte) ([]byte, []Clash, error) {
	var roots [3]*yaml.Node
	for i, text := range [][]byte{base, mine, theirs} {
		var err error
		if roots[i], err = document.Parse(file, text); err != nil {
			return nil, nil, err
		}
		if roots[i] == nil {
			return nil, nil, errors.New("a mapping of keys to values is expected")
		}
	}
	ours, others := Diff(roots[0], roots[1]), Diff(roots[0], roots[2])
	var clashes []Clash
	var left []Change
	for _, c := range ours {
		at := slices.IndexFunc(others, func(o Change) bool { return c.meets(o) })
		switch {
		case at < 0:
			left = append(left, c)
		case !c.alike(others[at]):
			path := shorter(c.Path, others[at].Path)
			clashes = append(clashes, Clash{Change{Path: path}.Where(), At(roots[0], path), At(roots[1], path), At(roots[2], path)})
		}
	}
	if len(clashes) > 0 {
		return nil, clashes, nil
	}
	text, err := Apply(file, theirs, left)
	return text, nil, err
}

func shorter(a, b []Step) []Step {
	if len(b) < len(a) {
		return b
	}
	return a
}

// meets reports whether two changes touch one value: the same, or one inside the other.
func (c Change) meets(o Change) bool {
	for i := range min(len(c.Path), len(o.Path)) {
		a, b := c.Path[i], o.Path[i]
		if a.Key != b.Key {
			return false
		}
		if a.Item != Whole && b.Item != Whole && (a.Name != b.Name || a.Name == "" && a.Item != b.Item) {
			return false
		}
	}
	return true
}

// alike reports whether two changes come to the same.
func (c Change) alike(o Change) bool {
	switch {
	case len(c.Path) != len(o.Path) || (c.Value == nil) != (o.Value == nil):
		return false
	case c.Value == nil:
		return true
	}
	return same(c.Value, o.Value)
}

// Written is a value in one line, as a file writes it in braces.
func Written(n *yaml.Node) string { return flow(n) }

// Remark returns a text with remarks at its end, a line each.
func Remark(text []byte, remarks ...string) []byte {
	e := opened(text)
	for _, r := range remarks {
		clean := strings.Map(func(r rune) rune {
			if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
				return ' ' // what would end the remark, and what no file may hold
			}
			return r
		}, r)
		e.lines = append(e.lines, line("# "+clean))
	}
	return e.text()
}
