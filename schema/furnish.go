package schema

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// Shelved says that a part of a design is a part of the shelf.
type Shelved struct {
	// Path is that of the part of the design, Name that of the part of the shelf, and Place where the design names it.
	Path, Name string
	Place      Place
	Part       *Part
	// Kept are the facts that the design states itself although the part says otherwise.
	Kept []Kept
}

// Kept is a fact that a design states itself beside a part of the shelf that says otherwise; the design's own counts.
type Kept struct {
	Path string `json:"path"`
	// Text is what the design states, Place where; Shelf and ShelfPlace are of the part.
	Text       string `json:"text"`
	Place      Place  `json:"place"`
	Shelf      string `json:"shelf"`
	ShelfPlace Place  `json:"shelf_place"`
}

// Shelved lists the parts of a design that are parts of the shelf, in the order of the design.
func (d *Design) Shelved() []*Shelved { return d.shelved }

// ShelvedAt is the part of the shelf that a part of a design is; nil when it is none.
func (d *Design) ShelvedAt(path string) *Shelved {
	for _, s := range d.shelved {
		if s.Path == path {
			return s
		}
	}
	return nil
}

const noShelf = "no shelf is read here, so a design can name no part of it; name the folder by shelf: in plumbline.yaml or by --shelf, or state the facts"

// namesParts reports whether a mapping or anything below it names a part of the shelf.
func namesParts(n *yaml.Node) bool {
	if named, _ := entry(n, partKey); named != nil {
		return true
	}
	return slices.ContainsFunc(n.Content, namesParts)
}

// furnisher puts the facts of the parts of the shelf that a design names into its tree.
type furnisher struct {
	*decoder
	shelf func() (*Shelf, error)
	found []*Shelved
}

// furnish goes through a part's mapping and all below it.
func (f *furnisher) furnish(n *yaml.Node, plan *typePlan, path string) {
	if n.Kind != yaml.MappingNode {
		return
	}
	if _, name := entry(n, partKey); name != nil && len(kindsFor(plan.name)) > 0 {
		f.name(n, name, plan, path)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		field := plan.byKey[n.Content[i].Value]
		if field == nil || field.part == nil {
			continue
		}
		value, at := n.Content[i+1], path+"."+field.key
		if value.Kind != yaml.SequenceNode {
			f.furnish(value, field.part, at)
			continue
		}
		for k, item := range value.Content {
			f.furnish(item, field.part, at+"["+strconv.Itoa(k)+"]")
		}
	}
}

// name takes up the part that a mapping names.
func (f *furnisher) name(n, name *yaml.Node, plan *typePlan, path string) {
	at := path + "." + partKey
	kinds := kindsFor(plan.name)
	switch {
	case name.Kind != yaml.ScalarNode || isNull(name) || f.done(name):
		return // complained about when it was read
	case f.shelf == nil:
		f.add(name, at, noShelf, "")
		return
	}
	shelf, err := f.shelf()
	if err != nil {
		f.add(name, at, err.Error(), "")
		return
	}
	part := shelf.Named(name.Value)
	if part == nil {
		message, near := shelf.without(name.Value, kinds)
		f.add(name, at, message, near)
		return
	}
	if wrong := f.unsuited(n, part, kinds, plan); wrong != "" {
		f.add(name, at, wrong, "")
		return
	}
	facts := part.facts
	if keys := part.Kind.FactsIn(plan.name); part.Kind.Type != plan.name {
		facts = only(facts, keys)
	}
	s := &Shelved{Path: path, Name: name.Value, Place: f.place(name), Part: part}
	f.from(part.file, facts)
	f.kept(n, facts, plan, path, s)
	f.found = append(f.found, s)
	f.mergePart(n, facts, plan, path)
}

// without says that the shelf has no part of a name, and which one may be meant.
func (s *Shelf) without(name string, kinds []*ShelfKind) (message, near string) {
	message = "the shelf has no part " + document.Cut(name)
	near = document.Nearest(name, s.names(kinds))
	if near == "" {
		near = document.Nearest(name, s.names(nil))
	}
	if near != "" {
		message += "; did you mean " + near + "?"
	} else if some := s.names(kinds); len(some) > 0 {
		message += "; of this kind it has " + orList(some)
	}
	return message, near
}

// unsuited says why a part cannot stand where a design names it.
func (f *furnisher) unsuited(n *yaml.Node, part *Part, kinds []*ShelfKind, plan *typePlan) string {
	if !slices.Contains(kinds, part.Kind) {
		return fmt.Sprintf("%s is a %s (%s), and what stands here is a %s", document.Cut(part.Called()), part.Kind.Called(), part.Place(), orList(strings.Split(strings.ReplaceAll(kindNames(kinds), "_", " "), ", ")))
	}
	if part.Kind.AsKey == "" {
		return ""
	}
	if _, stated := entry(n, part.Kind.AsKey); stated != nil && stated.Value != part.Kind.As {
		return fmt.Sprintf("%s is a %s (%s), and this piece says %s: %s", document.Cut(part.Called()), part.Kind.Called(), part.Place(), part.Kind.AsKey, document.Cut(stated.Value))
	}
	return ""
}

// kept notes the facts that both state, differently.
func (f *furnisher) kept(own, facts *yaml.Node, plan *typePlan, path string, s *Shelved) {
	for i := 0; i+1 < len(facts.Content); i += 2 {
		key, its := facts.Content[i], facts.Content[i+1]
		field := plan.byKey[key.Value]
		_, mine := entry(own, key.Value)
		if mine == nil && plan.saidOtherwise(key.Value, own) {
			_, mine = entry(own, plan.other(key.Value))
		}
		switch {
		case field == nil || mine == nil:
		case mine.Kind == yaml.MappingNode && its.Kind == yaml.MappingNode && field.part != nil:
			f.kept(mine, its, field.part, path+"."+key.Value, s)
		case !same(mine, its, plan.name, key.Value):
			s.Kept = append(s.Kept, Kept{path + "." + key.Value, told(mine), f.place(mine), told(its), f.place(its)})
		}
	}
}

// other is the key by which what key says may be said otherwise.
func (p *typePlan) other(key string) string {
	for _, f := range p.fields {
		switch {
		case f.key == key && f.excludes != "":
			return f.excludes
		case f.excludes == key:
			return f.key
		}
	}
	return ""
}

// same reports whether two values of a fact are one, however they are written.
func same(a, b *yaml.Node, part, key string) bool {
	if a.Kind != b.Kind || a.Kind != yaml.ScalarNode {
		return false
	}
	if a.Value == b.Value {
		return true
	}
	x, errX := ParseIn(part, key, a.Value)
	y, errY := ParseIn(part, key, b.Value)
	return errX == nil && errY == nil && textOf(x) == textOf(y)
}

// told is a value in few words.
func told(n *yaml.Node) string {
	switch n.Kind {
	case yaml.SequenceNode:
		return "a list of " + strconv.Itoa(len(n.Content))
	case yaml.MappingNode:
		return "facts of its own"
	}
	return document.Cut(n.Value)
}

// only is a mapping with some of its keys.
func only(n *yaml.Node, keys []string) *yaml.Node {
	out := *n
	out.Content = nil
	for i := 0; i+1 < len(n.Content); i += 2 {
		if slices.Contains(keys, n.Content[i].Value) {
			out.Content = append(out.Content, n.Content[i], n.Content[i+1])
		}
	}
	return &out
}

// partNamed reads the name of a part of the shelf: what it is, is looked up when the design is furnished.
func (d *decoder) partNamed(n *yaml.Node, path string) {
	var name string
	if wrong := readFact(n, &factPlan{kind: KindText, example: "frame-155"}, &name); wrong.message != "" && !d.done(n) {
		d.add(n, path, wrong.message, wrong.suggest)
	}
}
