package editor

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"plumbline/engine/report"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// form is a JSON Schema, as far as keys and words are told by it.
type form struct {
	Ref         string           `json:"$ref"`
	Defs        map[string]*form `json:"$defs"`
	Description string           `json:"description"`
	Type        string           `json:"type"`
	Properties  map[string]*form `json:"properties"`
	Required    []string         `json:"required"`
	// Others is what any other key holds, or false.
	Others json.RawMessage `json:"additionalProperties"`
	Items  *form           `json:"items"`
	OneOf  []*form         `json:"oneOf"`
	Enum   []any           `json:"enum"`
}

// formOf is the form of packs or settings, from the committed JSON Schema.
func formOf(kind Kind) *form { return forms()[kind] }

var forms = sync.OnceValue(func() map[Kind]*form {
	out := map[Kind]*form{Pack: {}, Settings: {}}
	_ = json.Unmarshal(schema.PackSchema(), out[Pack]) // a test reads both
	_ = json.Unmarshal(schema.SettingsSchema(), out[Settings])
	return out
})

// at are the forms that may stand at the end of a way, all ways of writing it.
func (f *form) at(way []schema.Step) []*form {
	list := f.ways(f)
	for _, step := range way {
		if step.Key != "" {
			list = f.each(list, func(x *form) *form { return x.under(step.Key) })
		}
		if step.Item {
			list = f.each(list, func(x *form) *form { return x.Items })
		}
	}
	return list
}

func (f *form) each(list []*form, next func(*form) *form) []*form {
	var out []*form
	for _, x := range list {
		if n := next(x); n != nil {
			out = append(out, f.ways(n)...)
		}
	}
	return out
}

func (f *form) under(key string) *form {
	if x := f.Properties[key]; x != nil {
		return x
	}
	var any form
	if len(f.Others) == 0 || json.Unmarshal(f.Others, &any) != nil {
		return nil
	}
	return &any
}

// ways follows a reference and takes the ways of writing one thing apart.
func (f *form) ways(x *form) []*form {
	out := []*form{x}
	if name, is := strings.CutPrefix(x.Ref, "#/$defs/"); is && f.Defs[name] != nil {
		out = f.ways(f.Defs[name])
	}
	for _, one := range x.OneOf {
		out = append(out, f.ways(one)...)
	}
	return out
}

// givenAt is where a partial design begins on a way of a pack; -1 when it does nowhere.
func givenAt(kind Kind, way []schema.Step) int {
	if kind != Pack {
		return -1
	}
	return slices.IndexFunc(way, func(s schema.Step) bool { return s.Key == "given" })
}

// inForm completes in a pack or in settings.
func (s *Shop) inForm(kind Kind, at *Spot, text string, offset int) Completion {
	if i := givenAt(kind, at.Way); i >= 0 {
		return s.inDesign(at, text, offset, at.Way[i+1:])
	}
	from, _ := wordAround(text[:offset], offset, nameRune)
	out := Completion{From: from}
	for _, x := range formOf(kind).at(at.Way) {
		for _, w := range x.Enum {
			out.Items = append(out.Items, Item{Label: fmt.Sprint(w), Of: Word})
		}
		for key, p := range x.Properties {
			if slices.Contains(besideIf(at), key) {
				continue
			}
			item := Item{Label: key, Insert: key + ": ", Of: Key, Doc: p.Description}
			if slices.Contains(x.Required, key) {
				item.Detail = "always there"
			}
			out.Items = append(out.Items, item)
		}
	}
	slices.SortFunc(out.Items, func(a, b Item) int { return strings.Compare(a.Label, b.Label) })
	if kind == Pack && (!at.Key || lastKey(at.Way) == "assume") {
		if more, is := s.inPack(at, text, offset); is {
			return more
		}
	}
	return out
}

func lastKey(way []schema.Step) string {
	for i := len(way) - 1; i >= 0; i-- {
		if way[i].Key != "" {
			return way[i].Key
		}
	}
	return ""
}

// inPack completes the values of a pack that are more than words: expressions, paths and names.
func (s *Shop) inPack(at *Spot, text string, offset int) (Completion, bool) {
	if e, is := expressionAt(at); is {
		return s.inExpression(e, s.say(at, text), offset), true
	}
	from, _ := wordAround(text[:offset], offset, fullNameRune)
	out := Completion{From: from}
	switch lastKey(at.Way) {
	case "source":
		p := packOf(text)
		for _, list := range [][]string{p.Sources.Keys(), s.library.Shared().Keys()} {
			for _, name := range list {
				out.Items = append(out.Items, Item{Label: name, Of: Reference})
			}
		}
	case "rule", "instead_of":
		out.Items = s.rules()
	case "limit":
		for _, l := range s.library.Limits() {
			out.Items = append(out.Items, Item{Label: l.Name, Of: Reference, Detail: l.Value.Text})
		}
	case "table":
		for _, p := range s.library.Packs() {
			for i := range p.Tables {
				out.Items = append(out.Items, Item{Label: p.Pack + "." + p.Tables[i].Key, Of: Reference})
			}
		}
	case "regions":
		return Completion{from, s.references("Design", schema.Describe("design.regions").Field, text)}, true
	case "of":
		out.Items = wordItems(vocabulary.ColumnTypes())
	default:
		if len(at.Way) < 2 || at.Way[len(at.Way)-2].Key != "columns" {
			return out, false
		}
		out.Items = wordItems(vocabulary.ColumnTypes())
	}
	return out, true
}

func wordItems(list []string) []Item {
	var out []Item
	for _, w := range list {
		out = append(out, Item{Label: w, Of: Word})
	}
	return out
}

// tellForm says what the key, name or value at a cursor of a pack or of settings is.
func (s *Shop) tellForm(kind Kind, at *Spot, text string, offset int) string {
	if i := givenAt(kind, at.Way); i >= 0 {
		return s.tellFact(at, at.Way[i+1:], text, offset)
	}
	if at.Key && lastKey(at.Way) != "assume" {
		for _, x := range formOf(kind).at(at.Way) {
			if p := x.under(at.Text); p != nil && p.Description != "" {
				return report.MarkdownText(p.Description)
			}
		}
		return ""
	}
	if kind != Pack {
		return ""
	}
	if e, is := expressionAt(at); is {
		return s.tellName(e, s.say(at, text))
	}
	from, to := wordAround(text, offset, fullNameRune)
	name := strings.Trim(text[from:to], ".-/")
	if lastKey(at.Way) == "id" {
		name = packOf(text).Pack + "." + name
	}
	return s.tell(name)
}
