package interview

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Form is how a question is answered.
type Form int

// One value; is there such a part; the items of a list one by one; how many items a list has; whether all items of a
// list are named.
const (
	Value Form = iota
	Presence
	Items
	Count
	Whole
)

// Question asks for one thing a design does not state.
type Question struct {
	// Path of the fact, part or list.
	Path string
	Form Form
	// Other is the path of a fact that says the same in other units and may be answered instead: a flow by mass.
	Other string
	// Fact says what it means and what it takes.
	Fact schema.Description
	// Label names it in plain words, from the outside in: circuits, fuel pump, fuse.
	Label []string
	// Choices are the possible words; Examples values in the reader's units.
	Choices  []Choice
	Examples []string
	// Danger is the worst danger of the rules that wait for it.
	Danger pack.Danger
	Rules  []Waiting
	// Later is the stage before which none of them is due, when that is not the job's next one.
	Later string
	// Listed are the items named so far; Of is how many items a list has whose item this is.
	Listed []string
	// Whole says what all of a list is, of which something is named.
	Whole string
	// Standing is what holds while it is not stated.
	Standing string
}

// Choice is a word that may be answered and what it means, "" when that is said elsewhere.
type Choice struct{ Word, Meaning string }

// Waiting is a rule that waits for an answer.
type Waiting struct {
	Rule, Title string
	Danger      pack.Danger
}

const (
	titlePath   = "design.title"
	regionsPath = "design.regions"
	stagePath   = "design.stage"
)

// opening is one of the questions every design begins with.
func (s *Session) opening(path string) *Question {
	q := s.question(engine.Ranked{Path: path})
	q.Standing = s.o.Standing[path]
	if path == regionsPath {
		q.Choices = s.o.Regions
	}
	return q
}

func (s *Session) question(c engine.Ranked) *Question {
	q := &Question{Path: c.Path, Fact: schema.Describe(c.Path), Label: s.label(c.Path), Danger: c.Danger, Rules: s.waiting(c.Rules)}
	if c.Later {
		q.Later = c.Due
	}
	if list, open := s.design.OpenListAt(c.Path); open {
		q.Form, q.Whole = Whole, list.Whole
		return q
	}
	s.form(q)
	return q
}

// rest asks for the items of a list that are not named yet.
func (s *Session) rest(whole Question) *Question {
	q := &whole
	q.Whole = ""
	s.form(q)
	for i := range s.items[q.Path] {
		item := fmt.Sprintf("%s[%d]", q.Path, i)
		name := s.names[item]
		if kind := s.design.FactAt(item + ".kind"); name == "" && kind != nil {
			name = kind.Text()
		}
		q.Listed = append(q.Listed, name)
	}
	return q
}

// form says how a question is answered, by what it asks for.
func (s *Session) form(q *Question) {
	field := q.Fact.Field
	q.Form = formOf(field)
	words := q.Fact.Words
	if key := itemKey(field); key != "" {
		item := schema.Describe(q.Path + "[]." + key)
		words, q.Examples = item.Words, examples(item, s.o.Units)
	} else {
		q.Examples = examples(q.Fact, s.o.Units)
		if q.Other = twin(q.Path); q.Other != "" {
			q.Examples = append(q.Examples, examples(schema.Describe(q.Other), s.o.Units)...)
		}
	}
	for _, w := range words {
		q.Choices = append(q.Choices, Choice{Word: w})
	}
}

// waiting are the rules of some names, as the report tells them.
func (s *Session) waiting(names []string) []Waiting {
	out := make([]Waiting, len(names))
	for i, name := range names {
		out[i].Rule = name
		for j := range s.report.Findings {
			if f := &s.report.Findings[j]; f.Rule == name {
				out[i].Title, out[i].Danger = f.Title, f.Danger
				break
			}
		}
	}
	return out
}

// formOf says how a field is asked for. The items of a list are named when they have a name or a kind, otherwise counted.
func formOf(f schema.FieldInfo) Form {
	switch {
	case f.Kind == schema.KindMaybe:
		return Presence
	case f.Kind == schema.KindList && f.Part != "" && itemKey(f) == "":
		return Count
	case f.Kind == schema.KindList:
		return Items
	}
	return Value
}

// label names what stands at a path: keys as words, items by their name, their kind or their number.
func (s *Session) label(path string) []string {
	var out []string
	for at, step := range schema.Path(path).Along() {
		out = append(out, strings.ReplaceAll(step.Key, "_", " "))
		if !step.Item {
			continue
		}
		list, name := string(at.Parent()), s.names[string(at)]
		if name == "" || s.shared(list, name) {
			name = strings.TrimPrefix(fmt.Sprintf("%s, number %d of %d", name, step.Index+1, s.items[list]), ", ")
		}
		out = append(out, name)
	}
	return out
}

// shared reports whether several items of a list have a name.
func (s *Session) shared(list, name string) bool {
	n := 0
	for i := range s.items[list] {
		if s.names[fmt.Sprintf("%s[%d]", list, i)] == name {
			n++
		}
	}
	return n > 1
}

// examples are values of a fact in the reader's units; both where a reader uses both and they differ.
func examples(fact schema.Description, units quantity.System) []string {
	if fact.Example == "" {
		return nil
	}
	v, err := quantity.Parse(fact.Example, fact.Field.Dimension)
	if fact.Field.Kind != schema.KindQuantity || err != nil {
		return []string{fact.Example}
	}
	metric, us := v.Format(quantity.Metric), v.Format(quantity.US)
	switch {
	case metric == us:
		return []string{fact.Example}
	case units == quantity.US:
		return []string{us}
	case units == quantity.Metric:
		return []string{metric}
	}
	return []string{us, metric}
}
