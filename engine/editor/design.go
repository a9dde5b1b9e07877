package editor

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// inDesign completes at a way of a design: the keys of the part there, or what the fact there may be.
func (s *Shop) inDesign(at *Spot, text string, offset int, way []schema.Step) Completion {
	from, _ := wordAround(text[:offset], offset, nameRune)
	out := Completion{From: from}
	field := s.fieldAt(way)
	item := len(way) > 0 && way[len(way)-1].Item
	switch {
	case len(way) == 0:
		out.Items = s.keysOf(way, at.Beside)
	case field.Part != "" && (field.Kind != schema.KindList || item):
		out.Items = s.keysOf(way, besideIf(at))
		if field.Kind == schema.KindMaybe && !at.Key {
			out.Items = append([]Item{{Label: "none", Of: Word, Doc: "There is none."}}, out.Items...)
		}
	case field.Kind == schema.KindList && !item:
		out.Items = []Item{{Label: "none", Of: Word, Doc: "There are none."}}
		if field.Whole != "" {
			out.Items = append(out.Items, Item{Label: field.Whole, Of: Word, Doc: "All of them."})
		}
	default:
		kind := field.Kind
		if item {
			kind = field.Item
		}
		out = s.values(kind, way, field, at, text, offset, out.From)
	}
	return out
}

// besideIf are the keys beside a cursor that stands on a key; on the first line below a part there are none yet.
func besideIf(at *Spot) []string {
	if at.Key {
		return at.Beside
	}
	return nil
}

// fieldAt is the field at a way of a design.
func (s *Shop) fieldAt(way []schema.Step) schema.FieldInfo {
	return s.library.Declared().Describe("design." + pathOf(way)).Field
}

// partAt is the type of the part at a way.
func (s *Shop) partAt(way []schema.Step) string {
	if len(way) == 0 {
		return "Design"
	}
	return s.fieldAt(way).Part
}

// ownerAt is the type of the part that holds the fact at a way.
func (s *Shop) ownerAt(way []schema.Step) string { return s.partAt(way[:max(len(way)-1, 0)]) }

// said is how people speak of the fact at a way, the shop's too; nil where nothing tells it.
func (s *Shop) said(way []schema.Step) *words.Row {
	return s.library.Declared().Said(strings.TrimSuffix("design."+pathOf(way), "[]"))
}

// keysOf are the keys of the part at a way that it does not have yet.
func (s *Shop) keysOf(way []schema.Step, beside []string) []Item {
	declared := s.library.Declared()
	var out []Item
	for _, f := range declared.FieldsOf(s.partAt(way)) {
		if slices.Contains(beside, f.Key) || f.Excludes != "" && slices.Contains(beside, f.Excludes) {
			continue
		}
		x := Item{Label: f.Key, Insert: f.Key + ": ", Of: Key, Detail: holds(f), Doc: declared.Describe("design." + pathOf(append(slices.Clone(way), schema.Step{Key: f.Key}))).Doc}
		if f.Part != "" {
			x.Insert = f.Key + ":"
		}
		out = append(out, x)
	}
	return out
}

// holds says in a few words what a field holds.
func holds(f schema.FieldInfo) string {
	text := "a " + f.Kind.String()
	if f.Kind == schema.KindQuantity {
		text = f.Dimension.Phrase()
	}
	if f.Low != f.High {
		text += ", from " + f.Low + " to " + f.High
	}
	return text
}

// number is what stands before the unit of a quantity that is being written, up to it.
var number = regexp.MustCompile(`^(.*[0-9\x{00bd}])([ \t]*)[^0-9]*$`)

// values are what a fact may be.
func (s *Shop) values(kind schema.Kind, way []schema.Step, f schema.FieldInfo, at *Spot, text string, offset, from int) Completion {
	out := Completion{From: from}
	row := s.said(way)
	switch kind {
	case schema.KindWord:
		for _, w := range f.Words {
			x := Item{Label: w, Of: Word}
			if row != nil && row.Value(w) != nil {
				x.Doc = row.Value(w).Label
			}
			out.Items = append(out.Items, x)
		}
	case schema.KindBool:
		out.Items = []Item{{Label: "true", Of: Word}, {Label: "false", Of: Word}}
	case schema.KindQuantity:
		if m := number.FindStringSubmatch(at.Text); m != nil {
			for _, u := range quantity.Units() {
				if u.Dimension == f.Dimension {
					x := Item{Label: u.Symbol, Of: Quantity}
					if m[2] == "" {
						x.Insert = " " + u.Symbol
					}
					out.Items = append(out.Items, x)
				}
			}
			out.From = offset - (len(at.Text) - len(m[1]) - len(m[2]))
			break
		}
		out.Items = []Item{{Label: f.Example, Of: Quantity, Detail: holds(f)}, {Label: quantity.RangeWithin(f.Dimension, f.Low, f.High), Of: Quantity, Detail: "known between two values"}}
	case schema.KindText:
		out.From = offset - len(at.Text)
		out.Items = s.references(s.ownerAt(way), f, text)
		if len(out.Items) == 0 && f.Example != "" {
			out.Items = []Item{{Label: f.Example, Of: Word, Detail: "an example"}}
		}
	default:
		if f.Example != "" {
			out.Items = []Item{{Label: f.Example, Of: Quantity, Detail: holds(f)}}
		}
	}
	return out
}

// references are the names that a text may stand for: those of parts of the design, of rules, of regions.
func (s *Shop) references(owner string, f schema.FieldInfo, text string) []Item {
	var out []Item
	switch name := owner + "." + f.Key; {
	case f.Refers != "":
		for _, n := range namesIn(text, f.Refers) {
			out = append(out, Item{Label: n, Of: Reference})
		}
		for _, w := range f.Beside {
			out = append(out, Item{Label: w, Of: Word})
		}
	case name == "Concession.rule":
		return s.rules()
	case name == "Design.regions":
		for _, r := range s.library.Regions() {
			out = append(out, Item{Label: r.Name, Of: Reference, Doc: r.Title})
		}
	}
	return out
}

// rules are the full names of all rules.
func (s *Shop) rules() []Item {
	var out []Item
	for _, p := range s.library.Packs() {
		for i := range p.Rules {
			out = append(out, Item{Label: p.Pack + "." + p.Rules[i].ID, Of: Reference, Doc: p.Rules[i].Title})
		}
	}
	return out
}

// namesIn are the names of the items of a list of a design.
func namesIn(text, list string) []string {
	var out []string
	root, _ := document.Parse("", []byte(text))
	for _, item := range children(child(root, list)) {
		if n := child(item, "name"); n != nil && n.Value != "" && !slices.Contains(out, n.Value) {
			out = append(out, n.Value)
		}
	}
	return out
}

func child(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n != nil && n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func children(n *yaml.Node) []*yaml.Node {
	if n == nil || n.Kind != yaml.SequenceNode {
		return nil
	}
	return n.Content
}

// tellFact says what the key or value at a way of a design is.
func (s *Shop) tellFact(at *Spot, way []schema.Step, text string, offset int) string {
	_, end := wordAround(text, offset, nameRune)
	if field := s.fieldAt(way); !at.Key && field.Part == "" {
		return s.tellValue(way, field, at, text, end)
	}
	path := "design." + pathOf(append(slices.Clone(way), schema.Step{Key: at.Text}))
	return s.tellAs(cmp.Or(s.twins[s.partAt(way)+"."+at.Text], path), path)
}

// tellValue says of a value what it is in other units, or what its word means.
func (s *Shop) tellValue(way []schema.Step, f schema.FieldInfo, at *Spot, text string, end int) string {
	rest, _, _ := strings.Cut(text[end:], "\n")
	whole := at.Text + valueEnd.FindString(rest)
	switch {
	case f.Kind == schema.KindQuantity:
		if v, err := quantity.Parse(whole, f.Dimension); err == nil {
			return inUnits(v)
		}
	case f.Kind == schema.KindWord, f.Item == schema.KindWord:
		if row := s.said(way); row != nil && row.Value(at.Text) != nil {
			return fmt.Sprintf("%s: %s", row.Label, row.Value(at.Text).Label)
		}
	case f.Kind == schema.KindText:
		return s.tell(whole)
	}
	return ""
}

// valueEnd is the rest of a value on its line.
var valueEnd = regexp.MustCompile(`^[^,\]}"'#]*[^ \t,\]}"'#\r]`)

// inUnits writes a quantity as reports do, and then in the units of its dimension in which it is a number that people read.
func inUnits(v quantity.Value) string {
	texts := []string{v.FormatDigits(quantity.Metric, 5)}
	add := func(text string) {
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	add(v.FormatDigits(quantity.US, 5))
	for _, u := range quantity.Units() {
		if n, err := v.In(u.Symbol); u.Dimension == v.Dimension() && err == nil && math.Abs(n) >= 0.01 && math.Abs(n) < 1e5 {
			add(fmt.Sprintf("%.5g %s", n, u.Symbol))
		}
	}
	return strings.Join(texts, " = ")
}

// counted writes a number with a noun that takes an s.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
