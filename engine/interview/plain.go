package interview

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/lines"
)

// What is printed on a part is read in one line, as people say it: 255 lph @ 43 psi; hose 3/8 R9. It is read as a line of a
// parts list that speaks of what the question is about.

// Heard is one fact that was taken from a line, in plain words; without a label where the value says it all.
type Heard struct{ Path, Label, Value string }

// nouns are how a line is begun so that it speaks of what a path is in, the nearest first; before them nothing, for a line
// that says itself of what it speaks, but for a piece of a list that is asked about.
func (s *Session) nouns(path string) []string {
	p := schema.Path(path)
	line := map[string]string{"design.suction": "suction", "design.return_line": "return"}["design."+p.Section()]
	var out []string
	if p.Item() == "" {
		out = append(out, "")
	}
	for at := p.Parent(); at != "" && at != "design"; at = at.Parent() {
		switch s.o.Declared.TypeAt(string(at)) {
		case "Run":
			kind := "hose"
			if f := s.design.FactAt(string(at) + ".kind"); f != nil && f.Known() {
				kind = f.Text()
			}
			out = append(out, strings.TrimSpace(line+" "+kind))
		case "Wire":
			out = append(out, "pump wire")
		default:
			if row := s.o.Declared.Said(string(at)); row != nil {
				out = append(out, row.Label)
			}
		}
	}
	return out
}

// plain reads an answer as a line and puts what it says into the text; nil where it is none, or says anything that
// the design states otherwise.
func (s *Session) plain(q *Question, answer string) ([]byte, *schema.Design, []Heard) {
	for _, noun := range s.nouns(q.Path) {
		r := lines.Read(strings.TrimSpace(noun + " " + answer))
		if len(r.Lines) != 1 || !r.Whole() || r.Facts() == 0 {
			continue
		}
		said := slices.DeleteFunc(slices.Clone(r.Lines[0].Understood), func(u lines.Understood) bool {
			return noun != "" && strings.Contains(noun, u.From) // not by the one who answers
		})
		if text, design, heard := s.hear(q, said); heard != nil {
			return text, design, heard
		}
	}
	return nil, nil, nil
}

// hear puts what was understood into the text. Facts of a piece that is asked about are its; those of a further piece make one.
func (s *Session) hear(q *Question, understood []lines.Understood) ([]byte, *schema.Design, []Heard) {
	text, design := s.text, s.design
	asked := schema.Path(q.Path)
	made := map[string]bool{}
	var heard []Heard
	defer func(before []byte) { s.text = before }(s.text)
	for _, u := range understood {
		path := schema.Path("design." + u.Path)
		if asked.Key() == path.Key() && s.o.Declared.TypeAt(string(asked.Parent())) == s.o.Declared.TypeAt(string(path.Parent())) {
			path = asked // 18 gauge, of whichever wire
		} else if item := path.Item(); item != "" {
			list, index, _ := item.Split()
			switch own := asked.Item(); {
			case own != "" && own.Parent() == list:
				path = own + path[len(item):]
			default:
				path = schema.Path(fmt.Sprintf("%s[%d]", list, s.items[string(list)]+index)) + path[len(item):]
			}
		}
		if list := path.Parent().Parent(); path.Key() == "name" && s.names[string(path.Parent())] == "" && s.called(string(list), u.Value) > 0 {
			return nil, nil, nil
		}
		if fact := s.design.FactAt(string(path)); fact != nil && schema.IsStated(fact) || s.stated[string(path)].known {
			switch {
			case s.again && fact != nil && fact.Text() == u.Value:
				heard = append(heard, Hearsay(s.o.Declared, string(path), u))
				continue
			case !s.again || path.Parent() != asked.Parent():
				return nil, nil, nil
			}
		}
		c := change{path: string(path), value: s.nodeOf(string(path), u.Value)}
		if item := path.Item(); item != "" && s.design.At(string(item)) == nil && !made[string(item)] {
			made[string(item)] = true
			c = change{path: string(item), value: amend.Part(path.Key(), c.value)}
		}
		s.text = text
		var err error
		if text, design, err = s.try(c); err != nil {
			return nil, nil, nil
		}
		heard = append(heard, Hearsay(s.o.Declared, string(path), u))
	}
	return text, design, heard
}

func (s *Session) nodeOf(path, value string) *yaml.Node {
	if value == "{}" {
		return amend.There()
	}
	return node(s.o.Declared.Describe(path).Field.Kind, value)
}

// Hearsay says a fact in plain words, with what was taken by custom; declared are the facts that packs declare.
func Hearsay(declared *schema.Declared, path string, u lines.Understood) Heard {
	p, value := schema.Path(path), u.Value
	h := Heard{path, strings.ReplaceAll(p.Key(), "_", " "), value}
	if row := declared.Said(path); row != nil {
		h.Label = row.Label
		if v := row.Value(value); v != nil && declared.Describe(path).Field.Kind == schema.KindWord {
			h.Label, h.Value = "", v.Label
		}
	}
	if h.Value == "{}" {
		h.Value = "there is one"
	}
	if u.Taken != "" {
		h.Value += " (" + u.Taken + ")"
	}
	return h
}

// piece reads one item of a list as a line: a name, and what is said of the piece besides. ok is false where nothing is said
// of it but its name; several are told of where it speaks of more than one piece.
func (s *Session) piece(q *Question, answer string) (c change, ok, several bool) {
	if q.Fact.Field.Part != "Run" {
		return c, false, false
	}
	noun := map[string]string{"suction": "suction ", "return_line": "return "}[schema.Path(q.Path).Section()]
	r := lines.Read(noun + answer)
	if len(r.Lines) != 1 {
		return c, false, false
	}
	var heard []Heard
	name, part := "", &yaml.Node{Kind: yaml.MappingNode}
	for _, u := range r.Lines[0].Understood {
		inside, of := strings.CutPrefix("design."+u.Path, q.Path+"[0].")
		if !of {
			return c, false, r.Whole()
		}
		if inside == "name" {
			name = u.Value
			continue
		}
		into := part
		for {
			key, rest, deeper := strings.Cut(inside, ".")
			if !deeper {
				into.Content = append(into.Content, amend.Part(key, s.nodeOf("design."+u.Path, u.Value)).Content...)
				break
			}
			at := slices.IndexFunc(into.Content, func(n *yaml.Node) bool { return n.Value == key })
			if at < 0 {
				into.Content = append(into.Content, amend.Part(key, &yaml.Node{Kind: yaml.MappingNode}).Content...)
				at = len(into.Content) - 2
			}
			into, inside = into.Content[at+1], rest
		}
		heard = append(heard, Hearsay(s.o.Declared, "design."+u.Path, u))
	}
	if len(heard) == 0 {
		return c, false, false
	}
	switch {
	case !r.Whole(): // what was not understood is kept in the name
		name = answer
	case name == "" && !strings.ContainsAny(answer, "0123456789"):
		name = answer
	case name == "":
		name = numbered(kindOf(part), q.Listed)
	}
	named := amend.Part("name", amend.Text(name))
	named.Content = append(named.Content, part.Content...)
	return change{path: fmt.Sprintf("%s[%d]", q.Path, len(q.Listed)), value: named, item: name, heard: heard}, true, false
}

// kindOf is the kind of a piece, as its file says it.
func kindOf(part *yaml.Node) string {
	for i := 0; i+1 < len(part.Content); i += 2 {
		if part.Content[i].Value == "kind" {
			return part.Content[i+1].Value
		}
	}
	return "piece"
}

// numbered is a name that none of a list has.
func numbered(name string, listed []string) string {
	out := name
	for n := 2; slices.Contains(listed, out); n++ {
		out = fmt.Sprintf("%s %d", name, n)
	}
	return out
}
