package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// topic is what one look or one call answers: the facts asked of one element
// of a list, or of one section of a design.
type topic struct {
	// path of the element or section; same are further elements of its list that lack the same facts.
	path string
	same []string
	// asked are the questions of path, others those of same.
	asked, others []*engine.Question
}

// topics groups the questions, keeping their order: the first question of a topic gives it its rank.
func topics(asked []engine.Question) []*topic {
	byPath := map[string]*topic{}
	var found []*topic
	for i := range asked {
		q := &asked[i]
		path := topicPath(q.Path)
		t := byPath[path]
		if t == nil {
			t = &topic{path: path}
			byPath[path] = t
			found = append(found, t)
		}
		t.asked = append(t.asked, q)
	}

	// Elements of one list that lack the same facts are one topic.
	byFacts := map[string]*topic{}
	var out []*topic
	for _, t := range found {
		list := strings.TrimRight(t.path, "[]0123456789")
		if list == t.path {
			out = append(out, t)
			continue
		}
		facts := []string{list}
		for _, q := range t.asked {
			facts = append(facts, t.key(q))
		}
		slices.Sort(facts[1:])
		if first := byFacts[strings.Join(facts, " ")]; first != nil {
			first.same = append(first.same, t.path)
			first.others = append(first.others, t.asked...)
			continue
		}
		byFacts[strings.Join(facts, " ")] = t
		out = append(out, t)
	}
	return out
}

// topicPath is the innermost element of a list a path leads through, or else its section.
func topicPath(path string) string {
	if item := schema.Path(path).Item(); item != "" {
		return string(item)
	}
	if p := schema.Path(path); p.Section() == schema.OwnKey && p.Parent() != "design" {
		return string(p.Parent()) // what one pack asks
	}
	return "design." + schema.Path(path).Section()
}

// key names a question within its topic; empty when it asks for the whole.
func (t *topic) key(q *engine.Question) string {
	return strings.TrimPrefix(strings.TrimPrefix(q.Path, t.path), ".")
}

// whole is the question for the whole section, nil when only parts of it are asked.
func (t *topic) whole() *engine.Question {
	for _, q := range t.asked {
		if q.Path == t.path {
			return q
		}
	}
	return nil
}

// weight says which rules the topic keeps open, how many of them wait for nothing else, and the worst danger among them.
func (t *topic) weight(findings []engine.Finding) (rules, alone int, danger pack.Danger) {
	facts, waiting, elsewhere := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i, q := range slices.Concat(t.asked, t.others) {
		facts[q.Path] = true
		for _, rule := range q.Rules {
			waiting[rule] = true
		}
		if i == 0 || q.Danger.Rank() < danger.Rank() {
			danger = q.Danger
		}
	}
	for i := range findings {
		f := &findings[i]
		others := len(f.Unreachable) > 0 || slices.ContainsFunc(f.Missing, func(path string) bool { return !facts[path] })
		if f.Outcome == engine.Open && others {
			elsewhere[f.Rule] = true
		}
	}
	for rule := range waiting {
		if !elsewhere[rule] {
			alone++
		}
	}
	return len(waiting), alone, danger
}

// subject is what the findings tell of a part: its name in the design and where it begins: its line, with the file
// when that is a template.
type subject struct{ name, where string }

// subjectOf collects what the findings tell of a topic's path. Where no finding is about
// the part itself, the first line of it that was read stands for its beginning.
func (s *jobSheet) subjectOf(path string) subject {
	var out subject
	var begins, read schema.Place
	first := func(at, other schema.Place) schema.Place {
		switch {
		case at.Line == 0, other.Line > 0 && other.File == at.File && other.Line < at.Line,
			other.Line > 0 && other.File == s.report.File && at.File != s.report.File:
			return other
		}
		return at
	}
	for i := range s.report.Findings {
		f := &s.report.Findings[i]
		if f.Subject == path {
			out.name = cmp.Or(out.name, f.SubjectName)
			if f.Place != s.nowhere {
				begins = first(begins, f.Place)
			}
		}
		for _, fact := range f.Facts {
			if schema.Path(path).Holds(schema.Path(fact.Path)) {
				read = first(read, fact.Place)
			}
		}
	}
	at := begins
	if at.Line == 0 {
		at = read
	}
	switch {
	case at.Line == 0:
	case at.File == s.report.File:
		out.where = fmt.Sprintf("line %d", at.Line)
	default:
		out.where = place(at)
	}
	return out
}

// nowhere is the place given to parts that were not written, that of the design as a whole: the
// place in the first column that several sections share. It is the zero Place when all are written.
func nowhere(r *engine.Report) schema.Place {
	sections := map[schema.Place]string{}
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Place.Column != 1 {
			continue
		}
		name, met := sections[f.Place]
		if met && name != schema.Path(f.Subject).Section() {
			return f.Place
		}
		sections[f.Place] = schema.Path(f.Subject).Section()
	}
	return schema.Place{}
}
