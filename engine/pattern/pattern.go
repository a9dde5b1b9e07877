// Package pattern holds usual ways to build something: partial designs whose
// numbers are ranges with grounds. What a pattern says is never a fact: it
// fills what nobody stated, so that it can be seen where an open question leans.
package pattern

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Pattern is one usual way to build something.
type Pattern struct {
	// Name is its name, Title what it is in words. Of the patterns of one Group only one holds for a vehicle.
	Name, Title, Group string
	// Design states how the way runs, with ranges for the numbers.
	Design *schema.Design
	// Scaled are the numbers that depend on others.
	Scaled []Scaled
	// Only are the facts that a design has to state for the pattern to hold: it is too rare to be thought of otherwise.
	Only []string
	// Unless are the facts that a design must not state for the pattern to hold: another way to say what it says.
	Unless []string
	// Otherwise are the words a design may state otherwise and still be built so.
	Otherwise []string
	// Within are the numbers a design must not state beyond the pattern's range: the class it is for.
	Within []string
	// Readings marks what a sound vehicle is like once it is finished, for readings to be held against: nothing is judged by it.
	Readings bool
	// Because are the grounds of the numbers by the path of the fact, without list indices.
	Because map[string][]pack.Reason
	// low are the facts whose low end is the bad one for supply.
	low []string
	// found are the checks, found once.
	once  sync.Once
	found []check
}

// check is what a design may state otherwise than a pattern; within is set for a number it must not state beyond the pattern's range.
type check struct {
	path     string
	reading  schema.Reading
	optional schema.Optional
	listing  schema.Listing
	within   bool
}

// file is a pattern as it is written.
type file struct {
	// Name, the file's own.
	Pattern string `yaml:"pattern" jsonschema:"required"`
	// Title in plain words.
	Title string `yaml:"title" jsonschema:"required"`
	// Patterns of one group exclude each other.
	Group string `yaml:"group" jsonschema:"required"`
	// Facts, laid out as in a design.
	Design *yaml.Node `yaml:"design" jsonschema:"required"`
	// Facts that a design has to state itself for the pattern to hold.
	Only []string `yaml:"only"`
	// Facts that a design must not state for the pattern to hold.
	Unless []string `yaml:"unless"`
	// Words a design may state otherwise and still be built so.
	Otherwise []string `yaml:"otherwise"`
	// Numbers a design must not state beyond the pattern's range.
	Within []string `yaml:"within"`
	// What a sound finished vehicle is like: diagnose uses it, nothing is judged by it.
	Readings bool `yaml:"readings"`
	// Numbers that are a share of others.
	Scaled []scaled `yaml:"scaled"`
	// Which end is bad for supply: the high one where nothing is said.
	Bad bad `yaml:"bad"`
	// Grounds of the numbers by fact.
	Because pack.Named[[]pack.Reason] `yaml:"because" jsonschema:"required"`
}

type bad struct {
	Low []string `yaml:"low"`
}

// Read reads all patterns of the given file systems, in the order of their names within each; of two with one name the
// later counts. The error is of type document.Problems.
func Read(folders ...fs.FS) ([]*Pattern, error) {
	var out []*Pattern
	var problems document.Problems
	for _, folder := range folders {
		err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
				return err
			}
			data, err := pack.ReadFile(folder, name)
			if err != nil {
				return err
			}
			p, found := read(name, data)
			problems = append(problems, found...)
			if len(found) > 0 {
				return nil
			}
			if at := slices.IndexFunc(out, func(x *Pattern) bool { return x.Name == p.Name }); at >= 0 {
				out[at] = p
				return nil
			}
			out = append(out, p)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	slices.SortFunc(out, func(a, b *Pattern) int {
		return cmp.Or(strings.Compare(a.Group, b.Group), strings.Compare(a.Name, b.Name))
	})
	if len(problems) > 0 {
		return nil, problems.Tidy()
	}
	return out, nil
}

func read(name string, data []byte) (*Pattern, document.Problems) {
	var f file
	r, ok := pack.ReadAs(name, data, &f)
	if !ok || len(r.Problems) > 0 {
		return nil, r.Problems
	}
	if want := strings.TrimSuffix(path.Base(name), ".yaml"); f.Pattern != want {
		r.Problem(nil, "pattern", fmt.Sprintf("the pattern is called %s and its file %s; give both one name", document.Cut(f.Pattern), name), "")
	}
	p := &Pattern{Name: f.Pattern, Title: f.Title, Group: f.Group, Because: map[string][]pack.Reason{}}
	var err error
	if p.Design, err = schema.LoadNode(name, f.Design); err != nil {
		if problems, ok := err.(document.Problems); ok {
			return nil, append(r.Problems, problems...)
		}
		return nil, append(r.Problems, document.Problem{Place: r.At(f.Design), Message: err.Error()})
	}
	for i, s := range f.Scaled {
		one, message := s.read(p.Design)
		if message != "" {
			r.Problem(nil, fmt.Sprintf("scaled[%d]", i), message, "")
			continue
		}
		p.Scaled = append(p.Scaled, one)
	}
	for _, b := range f.Because {
		p.Because[b.Key] = b.Value
	}
	p.low, p.Within, p.Otherwise, p.Only, p.Unless, p.Readings = f.Bad.Low, f.Within, f.Otherwise, f.Only, f.Unless, f.Readings
	p.check(r)
	return p, r.Problems
}

// check says which number lacks its ground, and which ground or bad end belongs to none.
func (p *Pattern) check(r *document.Reader) {
	ranged := map[string]bool{}
	schema.Walk(p.Design, func(v schema.Visit) {
		if v.Reading.Ranged() {
			ranged[Generic(v.Path)] = true
		}
	})
	for _, s := range p.Scaled {
		ranged[Generic(s.Fact)] = true
	}
	for fact := range ranged {
		if len(p.Because[fact]) == 0 {
			r.Problem(nil, "because", fmt.Sprintf("the range of %s has no ground; write %s: [{practice: ...}] under because", fact, fact), "")
		}
	}
	for fact := range p.Because {
		if schema.Describe("design."+fact).Doc == "" {
			r.Problem(nil, "because", "there is no fact "+fact, "")
		}
	}
	for _, fact := range p.low {
		if !ranged[fact] {
			r.Problem(nil, "bad.low", fact+" is no range of this pattern", "")
		}
	}
}

// BadIsLow reports whether the low end of a fact is the one that is bad for supply.
func (p *Pattern) BadIsLow(path string) bool { return slices.Contains(p.low, Generic(path)) }

// Generic is the path of a fact as a pattern's because names it: without the root and list indices.
func Generic(path string) string {
	path = strings.ReplaceAll(string(schema.Path(path).Generic()), "[]", "")
	return strings.TrimPrefix(path, "design.")
}

// Contradicts is the path of a fact by which a design says otherwise than the pattern; "" when it may be built so.
// Numbers contradict only where the pattern is for a class of them: how a way runs does.
func (p *Pattern) Contradicts(d *schema.Design) string {
	out := ""
	for _, only := range p.Only {
		if !said(d.At("design." + only)) {
			return "design." + only
		}
	}
	for _, unless := range p.Unless {
		if said(d.At("design." + unless)) {
			return "design." + unless
		}
	}
	for _, c := range p.checks() {
		switch {
		case c.within:
			if beyond(d.FactAt(c.path), c.reading) {
				out = c.path
			}
		case c.optional != nil:
			own := presence(d, c.path)
			if own != schema.NotStated && own != c.optional.Presence() {
				out = c.path
			}
		case c.listing != nil:
			if own, ok := d.At(c.path).(schema.Listing); ok && own.Known() && own.Len() == 0 {
				out = c.path
			}
		default:
			own := d.FactAt(c.path)
			if own != nil && own.Known() && own.Any() != c.reading.Any() {
				out = c.path
			}
		}
		if out != "" {
			return out
		}
	}
	return ""
}

// checks are what a design may state otherwise than the pattern, in the order of the schema; they are found once.
func (p *Pattern) checks() []check {
	p.once.Do(func() {
		schema.WalkAll(p.Design, func(v schema.Visit) {
			if strings.Contains(v.Path, "[") || slices.Contains(p.Otherwise, Generic(v.Path)) {
				return
			}
			within := v.Reading != nil && slices.Contains(p.Within, Generic(v.Path))
			switch {
			case within, v.Optional != nil && v.Optional.Presence() != schema.NotStated,
				v.Reading != nil && v.Reading.Known() && v.Kind != schema.KindQuantity && v.Kind != schema.KindText,
				v.Listing != nil && v.Listing.Known():
				p.found = append(p.found, check{v.Path, v.Reading, v.Optional, v.Listing, within})
			}
		})
	})
	return p.found
}

// Decisive are the facts, as paths without indices, by which it is decided whether and how a design is filled with the pattern. The numbers
// it fills are not among them: whether one is stated matters to what reads it alone.
func (p *Pattern) Decisive() []string {
	out := slices.Concat(p.Only, p.Unless, p.Within)
	for i := range p.Scaled {
		out = append(out, p.Scaled[i].By...)
	}
	schema.WalkAll(p.Design, func(v schema.Visit) {
		if v.Reading == nil || v.Kind != schema.KindQuantity {
			out = append(out, v.Path)
		}
	})
	for i := range out {
		out[i] = Generic(out[i])
	}
	return out
}

// Ways are the words of a pattern that a design must not state otherwise, and the parts that are there or not, by their path.
func (p *Pattern) Ways() map[string]string {
	out := map[string]string{}
	schema.WalkAll(p.Design, func(v schema.Visit) {
		switch {
		case strings.Contains(v.Path, "[") || slices.Contains(p.Otherwise, Generic(v.Path)):
		case v.Optional != nil && v.Optional.Presence() != schema.NotStated:
			out[v.Path] = fmt.Sprint(v.Optional.Presence())
		case v.Reading != nil && v.Reading.Known() && v.Kind != schema.KindQuantity && v.Kind != schema.KindText:
			out[v.Path] = v.Reading.Text()
		}
	})
	return out
}

// Same reports whether an item of a design's list and one of a pattern's are the same thing: pieces of a line by their
// kind, circuits by their purpose, others by their name.
func Same(_ string, own, other any) bool {
	switch own := own.(type) {
	case *schema.Run:
		if !own.Kind.Known() { // pipe, as people say it, without more
			kind, _ := other.(*schema.Run).Kind.Get()
			return kind == "tube" && (own.Bore.Known() || own.Material.Known())
		}
		return alike(own.Kind, other.(*schema.Run).Kind)
	case *schema.Circuit:
		return alike(own.Purpose, other.(*schema.Circuit).Purpose)
	case *schema.Wire, *schema.Joint:
		return true // those of one circuit, in their order
	}
	a, known := name(own)
	b, also := name(other)
	return known && also && a == b
}

func alike[T comparable](a, b schema.Fact[T]) bool {
	x, known := a.Get()
	y, also := b.Get()
	return known && also && x == y
}

// said reports whether a design says anything of what stands at a path.
func said(at any) bool {
	switch at := at.(type) {
	case schema.Reading:
		return at.Known() || at.Ranged()
	case schema.Optional:
		return at.Presence() != schema.NotStated
	case schema.Listing:
		return at.Known()
	}
	return false
}

// beyond reports whether a stated number lies outside a range.
func beyond(own, usual schema.Reading) bool {
	if own == nil || !own.Known() || !usual.Ranged() {
		return false
	}
	low, _, high := usual.Ends()
	return size(own.Any()) < size(low) || size(own.Any()) > size(high)
}

func size(v any) float64 {
	switch v := v.(type) {
	case interface{ SI() float64 }:
		return v.SI()
	case int:
		return float64(v)
	}
	return 0
}

func presence(d *schema.Design, path string) schema.Presence {
	if m, ok := d.At(path).(schema.Optional); ok {
		return m.Presence()
	}
	return schema.NotStated
}

// name is the name of an item; false when it has none.
func name(item any) (string, bool) {
	f := reflect.ValueOf(item).Elem().FieldByName("Name")
	if !f.IsValid() {
		return "", false
	}
	fact, ok := f.Interface().(schema.Fact[string])
	if !ok {
		return "", false
	}
	return fact.Get()
}
