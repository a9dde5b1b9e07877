package interview

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
	"plumbline/schema/lines"
)

// Line takes up plain lines, as people write a list of parts. What is stated is stated otherwise where a line says so; a piece or
// wire that no name tells is a further one. What was not understood, or cannot stand in the design, is left, with the reason.
func (s *Session) Line(text string) Reply {
	r := lines.Read(text)
	l := &liner{Session: s, at: map[string]string{}, made: map[string]*yaml.Node{}, next: map[string]int{}}
	var reply Reply
	for i := range r.Lines {
		reply.Left = append(reply.Left, r.Lines[i].Left...)
		l.understood = append(l.understood, r.Lines[i].Understood...)
	}
	// The first of these is without what the reader refuses.
	for {
		changes, heard, left := l.changes()
		reply.Heard, reply.Left = heard, append(reply.Left, left...)
		if len(changes) == 0 {
			return reply
		}
		text, design, err := l.altered(changes)
		if err == nil {
			s.take(text, design)
			s.asking = nil
			s.advance()
			reply.Changed = true
			return reply
		}
		refused := l.refuse(err)
		if refused == nil {
			reply.Heard, reply.Problems = nil, messages(err, "")
			return reply
		}
		reply.Left = append(reply.Left, refused...)
	}
}

// liner puts what lines say into the text.
type liner struct {
	*Session
	understood []lines.Understood
	// at are the places in the design of the items of the lines, made the changes that make the new ones, next how many of a list.
	at   map[string]string
	made map[string]*yaml.Node
	next map[string]int
}

// changes are what the lines change; what cannot be is left.
func (l *liner) changes() (out []Alteration, heard []Heard, left []lines.Left) {
	clear(l.at)
	clear(l.made)
	clear(l.next)
	for _, u := range slices.Clone(l.understood) {
		l.place("design." + u.Path)
	}
	below := map[string]bool{}
	for _, u := range l.understood {
		below[string(schema.Path("design."+u.Path).Parent())] = true
	}
	for _, u := range l.understood {
		path := schema.Path(l.place("design." + u.Path))
		fact := l.design.FactAt(string(path))
		switch {
		case u.Value == "{}" && below["design."+u.Path]:
			continue // its facts say that there is one
		case fact != nil && schema.IsStated(fact) && fact.Text() == u.Value:
			heard = append(heard, Hearsay(l.o.Declared, string(path), u))
			continue
		case u.Value == None && l.hasFacts(path), u.Value == "{}" && l.stated[string(path)].absent:
			left = append(left, lines.Left{Text: u.From, Why: "the design says otherwise of " + strings.Join(l.label(string(path)), ", ") + "; take that away first"})
			continue
		case l.absent(path):
			left = append(left, lines.Left{Text: u.From, Why: "the design says that there is none of " + strings.Join(l.label(string(path.Parent())), ", ") + "; take that away first"})
			continue
		}
		heard = append(heard, Hearsay(l.o.Declared, string(path), u))
		value := l.nodeOf(string(path), u.Value)
		if item := l.fresh(path); item != "" {
			made := l.made[item]
			if made == nil {
				made = &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
				l.made[item] = made
				out = append(out, Alteration{item, made})
			}
			grow(made, schema.Path("design."+strings.TrimPrefix(string(path)[len(item):], ".")), value)
			continue
		}
		if other := twin(string(path)); other != "" && l.stated[other].known {
			out = append(out, Alteration{Path: other})
		}
		out = append(out, Alteration{string(path), value})
	}
	return out, heard, left
}

// hasFacts reports whether the design states anything of a part or list.
func (l *liner) hasFacts(path schema.Path) bool {
	switch at := l.design.At(string(path)).(type) {
	case schema.Optional:
		return at.Presence() == schema.Present
	case schema.Listing:
		return at.Len() > 0
	}
	return false
}

// absent reports whether the design says that there is no such part as a path leads into.
func (l *liner) absent(path schema.Path) bool {
	for at := path.Parent(); at != "" && at != "design"; at = at.Parent() {
		if l.stated[string(at)].absent {
			return true
		}
	}
	return false
}

// fresh is the item on the way to a path that the design does not have yet, the outermost; "" for none.
func (l *liner) fresh(path schema.Path) string {
	for at, step := range path.Along() {
		if step.Item && l.design.At(string(at)) == nil {
			return string(at)
		}
	}
	return ""
}

// place is where in the design stands what the lines say of a path: their items come behind those of the design, but for one of the
// same name, or for the same purpose.
func (l *liner) place(path string) string {
	for at, step := range schema.Path(path).Along() {
		if !step.Item || l.at[string(at)] != "" {
			continue
		}
		list := l.place(string(at.Parent()))
		l.at[string(at)] = l.sameItem(at, list)
		if l.at[string(at)] == "" {
			l.at[string(at)] = fmt.Sprintf("%s[%d]", list, l.named(list)+l.next[list])
			l.next[list]++
		}
	}
	best := ""
	for at := range l.at {
		if schema.Path(at).Holds(schema.Path(path)) && len(at) > len(best) {
			best = at
		}
	}
	if best == "" {
		return path
	}
	return l.at[best] + path[len(best):]
}

// named is how many items the design names of a list.
func (l *liner) named(list string) int {
	if at, ok := l.design.At(list).(schema.Listing); ok {
		return at.Len()
	}
	return 0
}

// sameItem is the item of the design that an item of the lines is; "" for none.
func (l *liner) sameItem(item schema.Path, list string) string {
	for _, key := range []string{"name", "purpose"} {
		at := slices.IndexFunc(l.understood, func(u lines.Understood) bool { return "design."+u.Path == string(item)+"."+key })
		if at < 0 {
			continue
		}
		for i := range l.named(list) {
			own := fmt.Sprintf("%s[%d]", list, i)
			if f := l.design.FactAt(own + "." + key); f != nil && f.Known() && f.Text() == l.understood[at].Value {
				// What it is called stays.
				l.understood = slices.DeleteFunc(l.understood, func(u lines.Understood) bool { return "design."+u.Path == string(item)+".name" })
				return own
			}
		}
	}
	return ""
}

// grow puts a value into the tree of a new item.
func grow(n *yaml.Node, path schema.Path, value *yaml.Node) {
	steps := slices.Collect(path.Steps())
	for i, step := range steps {
		last := i == len(steps)-1
		next := entry(n, step.Key)
		switch {
		case last && !step.Item:
			n.Content = append(n.Content, amend.Part(step.Key, value).Content...)
			return
		case next == nil && step.Item:
			next = amend.List()
			n.Content = append(n.Content, amend.Part(step.Key, next).Content...)
		case next == nil:
			next = &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
			n.Content = append(n.Content, amend.Part(step.Key, next).Content...)
		}
		n = next
		if !step.Item {
			continue
		}
		for len(n.Content) <= step.Index {
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"})
		}
		if last {
			n.Content[step.Index] = value
			return
		}
		n = n.Content[step.Index]
	}
}

func entry(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// refuse takes what the reader refuses out of what was understood; nil where it refuses none of that.
func (l *liner) refuse(err error) []lines.Left {
	var problems document.Problems
	if !errors.As(err, &problems) {
		return nil
	}
	var out []lines.Left
	for _, p := range problems {
		l.understood = slices.DeleteFunc(l.understood, func(u lines.Understood) bool {
			at := l.place("design." + u.Path)
			if at != p.Path && !schema.Path(p.Path).Holds(schema.Path(at)) {
				return false
			}
			out = append(out, lines.Left{Text: u.From, Why: p.Message})
			return true
		})
	}
	return out
}
