package schema

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

const (
	// MaxShelfFiles is how many files a shelf may have; with MaxShelfParts it bounds what a design that names one part costs.
	MaxShelfFiles = 500
	// MaxShelfItems is how many parts one file of a shelf may hold.
	MaxShelfItems = 200
	// MaxShelfParts is how many parts a shelf may hold in all.
	MaxShelfParts = 10_000

	// partKey names a part of the shelf in a design.
	partKey = "part"
	// shelfPath is where the paths of a shelf's file begin.
	shelfPath = "shelf"
)

// Shelf is the parts of a shop. It does not change once read, so many goroutines may use it.
type Shelf struct {
	// Parts are in the order of the files and of the parts in them.
	Parts  []*Part
	byName map[string]*Part
}

// Part is one part of a shelf.
type Part struct {
	ShelfPart
	Kind *ShelfKind
	// facts is what its file states of it, as a design would.
	facts *yaml.Node
	file  string
	// label is what they say, as one text.
	label string
}

// Called is the part's name.
func (p *Part) Called() string {
	name, _ := p.Name.Get()
	return name
}

// value are the facts, a struct of the kind's type.
func (p *Part) value() reflect.Value {
	return reflect.ValueOf(&p.ShelfPart).Elem().Field(p.Kind.field.index)
}

// Named is the part of a name; nil when there is none.
func (s *Shelf) Named(name string) *Part { return s.byName[name] }

// names lists the names of the parts of some kinds, or of all.
func (s *Shelf) names(kinds []*ShelfKind) []string {
	var out []string
	for _, p := range s.Parts {
		if len(kinds) == 0 || slices.Contains(kinds, p.Kind) {
			out = append(out, p.Called())
		}
	}
	return out
}

// ShelfText is one file of a shelf.
type ShelfText struct {
	Name string
	Data []byte
}

// ReadShelf reads the files of a shelf. The error is of type document.Problems and holds everything that is wrong with all of
// them; a shelf with a wrong part is not used at all.
func ReadShelf(files []ShelfText) (*Shelf, error) {
	s := &Shelf{byName: map[string]*Part{}}
	var problems document.Problems
	if len(files) > MaxShelfFiles {
		return nil, document.Problems{{Place: Place{File: files[0].Name}, Message: fmt.Sprintf("the shelf has %d files; at most %d are read", len(files), MaxShelfFiles)}}
	}
	for _, f := range files {
		problems = append(problems, s.read(f)...)
	}
	if len(s.Parts) > MaxShelfParts {
		p := s.Parts[MaxShelfParts]
		problems = append(problems, document.Problem{Place: p.Place(), Message: fmt.Sprintf("the shelf has %d parts; at most %d are read", len(s.Parts), MaxShelfParts)})
	}
	return s, problems.Err()
}

// read reads one file and takes its parts up.
func (s *Shelf) read(f ShelfText) document.Problems {
	root, err := document.Parse(f.Name, f.Data)
	var found document.Problems
	errors.As(err, &found)
	if root == nil || len(found) > document.MaxProblems {
		return found
	}
	r := shelfReader{decoder: newDecoder(nil, f.Name, found), shelf: s}
	file := new(ShelfFile)
	r.part(root, root, shelfPlan(), reflect.ValueOf(file).Elem(), shelfPath)
	stampPart(shelfPlan(), reflect.ValueOf(file).Elem(), shelfPath)
	if !file.Shelf.Known() && !r.mentions(root, "shelf") {
		r.add(root, shelfPath+".shelf", "the edition of the file format is missing; write shelf: 1 as the first line", "shelf: 1")
	}
	_, list := entry(root, "parts")
	switch {
	case list == nil:
		r.add(root, shelfPath+".parts", "the file holds no parts; write them under parts, each on a line that begins with \"- name: \"", "")
	case list.Kind == yaml.SequenceNode && len(list.Content) == len(file.Parts.Items):
		for i, n := range list.Content {
			if n.Kind == yaml.MappingNode {
				r.one(n, &file.Parts.Items[i])
			}
		}
	}
	return r.problems
}

// shelfReader checks the parts of one file, beyond what the types say.
type shelfReader struct {
	*decoder
	shelf *Shelf
}

// partName is what a part may be called: what a design can name without quotes and a supplier's list holds.
var partName = regexp.MustCompile(`^[A-Za-z0-9](?:[A-Za-z0-9._+/ -]{0,58}[A-Za-z0-9+])?$`)

// one checks a part and puts it on the shelf.
func (r *shelfReader) one(n *yaml.Node, part *ShelfPart) {
	p := &Part{ShelfPart: *part, file: r.file}
	r.labelled(n, p)
	r.kind(n, p)
	if p.Kind == nil {
		return
	}
	name, known := p.Name.Get()
	if first := r.shelf.byName[name]; known && first != nil {
		_, at := entry(n, "name")
		r.add(at, p.Path()+".name", fmt.Sprintf("the shelf has a part %s already, at %s; give each a name of its own", document.Cut(name), first.Name.Place()), "")
		return
	}
	r.shelf.byName[name] = p
	r.shelf.Parts = append(r.shelf.Parts, p)
}

// labelled checks what is said of the part itself.
func (r *shelfReader) labelled(n *yaml.Node, p *Part) {
	for _, need := range []struct{ key, message string }{
		{"name", "the part has no name; designs name it by that, such as name: frame-155"},
		{"read_from", "where its facts were read is missing; write read_from: part, box, sheet, list or bench"},
		{"read_on", "the day its facts were read is missing; write it like read_on: 2026-11-20"},
	} {
		if !r.mentions(n, need.key) {
			r.add(n, p.Path()+"."+need.key, need.message, "")
		}
	}
	if name, known := p.Name.Get(); known && !partName.MatchString(name) {
		_, at := entry(n, "name")
		r.add(at, p.Path()+".name", "a part's name is of letters, digits, dots, dashes and the like, no more than 60, such as frame-155", "")
	}
	if _, at := entry(n, "price"); at != nil && p.Price.Known() && !plainNumber.MatchString(at.Value) {
		r.add(at, p.Path()+".price", "a price is a plain number, in the shop's own money, such as 84.50", "")
	}
	for _, fact := range []Reading{p.Price, p.Stock} {
		if fact.Ranged() {
			_, at := entry(n, Path(fact.Path()).Key())
			r.add(at, fact.Path(), "one number is expected here, no range", "")
		}
	}
}

var plainNumber = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?$`)

// kind finds what a part is and checks that only what is printed on such a part is said of it.
func (r *shelfReader) kind(n *yaml.Node, p *Part) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		k := ShelfKindNamed(key.Value)
		switch {
		case k == nil:
			continue
		case p.Kind != nil:
			r.add(key, p.Path()+"."+key.Value, fmt.Sprintf("a part is of one kind, and this one is a %s already; write another part", p.Kind.Called()), "")
			continue
		}
		p.Kind = k
		switch {
		case value.Kind != yaml.MappingNode: // complained about
		case len(value.Content) == 0:
			r.add(key, p.Path()+"."+key.Value, "nothing is said of it; write what is printed on it, such as "+k.field.part.sample(), "")
		default:
			r.onlyPrinted(value, k.field.part, k.Facts, k, p.Path()+"."+key.Value)
			p.facts = r.withKind(key, value, k)
			p.label = k.Name + flat(p.facts)
		}
	}
	if p.Kind == nil {
		r.add(n, p.Path(), "it is not said what this part is; write its facts under the key of its kind: "+kindNames(shelfKinds()), "")
	}
}

// onlyPrinted complains about facts that do not belong to a part but to how it is fitted.
func (r *shelfReader) onlyPrinted(n *yaml.Node, plan *typePlan, keys []string, k *ShelfKind, path string) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		f := plan.byKey[key.Value]
		switch {
		case f == nil: // complained about
		case key.Value == k.AsKey && plan == k.field.part:
			r.add(key, path+"."+key.Value, fmt.Sprintf("that it is a %s is said by the key above; leave the line out", k.Called()), "")
		case !slices.Contains(keys, key.Value):
			r.add(key, path+"."+key.Value, fmt.Sprintf("%s belongs to how a %s is fitted, not to the part; state it in the design. Of the part: %s", key.Value, k.Called(), strings.Join(keys, ", ")), "")
		case f.kind == KindPart && value.Kind == yaml.MappingNode:
			r.onlyPrinted(value, f.part, Belonging(f.part.name), k, path+"."+key.Value)
		}
	}
}

// withKind are the facts with what every part of the kind is: a hose is a piece of the kind hose.
func (r *shelfReader) withKind(key, facts *yaml.Node, k *ShelfKind) *yaml.Node {
	if k.AsKey == "" {
		return facts
	}
	at := func(value string) *yaml.Node {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: value, Line: key.Line, Column: key.Column}
	}
	out := *facts
	out.Content = append([]*yaml.Node{at(k.AsKey), at(k.As)}, facts.Content...)
	return &out
}

// flat is a node and all below it as one text.
func flat(n *yaml.Node) string {
	if n.Kind == yaml.ScalarNode {
		return strconv.Quote(n.Value)
	}
	var b strings.Builder
	for _, child := range n.Content {
		b.WriteString(flat(child) + ",")
	}
	return "(" + b.String() + ")"
}

func kindNames(kinds []*ShelfKind) string {
	var out []string
	for _, k := range kinds {
		out = append(out, k.Name)
	}
	return strings.Join(out, ", ")
}
