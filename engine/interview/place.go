package interview

import (
	"strings"

	"plumbline/schema"
	"plumbline/schema/amend"
)

// set returns the text with a value put in. What a template states stays there, but for lists whose items have no
// names: a design that changes one of their items has to state the whole list, so it is written out first.
func (s *Session) set(c change) ([]byte, error) {
	text := s.text
	if list := s.borrowed(c.path); list != "" {
		var err error
		if text, err = s.restate(text, list); err != nil {
			return nil, err
		}
	}
	if s.again {
		return s.overwrite(text, c)
	}
	return amend.Set(s.o.File, text, s.steps(c.path), c.value)
}

// steps is the way through the file to a path.
func (s *Session) steps(path string) []amend.Step {
	var out []amend.Step
	for at, step := range schema.Path(path).Along() {
		next := amend.Step{Key: step.Key, Item: amend.Whole}
		if step.Item {
			next.Item, next.Name = step.Index, s.names[string(at)]
		}
		out = append(out, next)
	}
	return out
}

// borrowed is the outermost list on the way to a path that stands in a template and whose items have no names; "" if none.
func (s *Session) borrowed(path string) string {
	for i, r := range path {
		if r != ']' {
			continue
		}
		list := string(schema.Path(path[:i+1]).Parent())
		if s.stated[list].known && s.names[path[:i+1]] == "" && s.design.PlaceOf(list).File != s.o.File {
			return list
		}
	}
	return ""
}

// restate writes a list of a template into the text, fact by fact.
func (s *Session) restate(text []byte, list string) ([]byte, error) {
	var err error
	put := func(path string, c change) {
		if err == nil {
			text, err = amend.Set(s.o.File, text, s.steps(path), c.value)
		}
	}
	made := map[string]bool{}
	schema.WalkAll(s.design, func(v schema.Visit) {
		if !strings.HasPrefix(v.Path, list+"[") {
			return
		}
		if item := string(schema.Path(v.Path).Item()); !made[item] && item != v.Path {
			made[item] = true
			put(item, change{value: amend.There()})
		}
		switch {
		case v.Optional != nil && v.Optional.Presence() == schema.Absent, v.Listing != nil && v.Listing.Known() && s.items[v.Path] == 0:
			put(v.Path, change{value: amend.Plain(None)})
		case v.Optional != nil && v.Optional.Presence() == schema.Present:
			put(v.Path, change{value: amend.There()})
		case schema.IsStated(v.Reading) && !(v.Key == "name" && s.names[strings.TrimSuffix(v.Path, ".name")] != ""):
			put(v.Path, change{value: node(v.Kind, v.Reading.Text())})
		}
	})
	return text, err
}
