package interview

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
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
	// Words is the row of the table of words; nil for an item of a list.
	Words *words.Row
	// Printed is more of what stands on the same label, as an example: 190 L/h @ 300 kPa. "" for nothing.
	Printed string
	// Decides is set for a question whose answer decides on the parts that are bought.
	Decides bool
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

// Choice is a word that may be answered, how people say it and what it means, "" when that is said elsewhere.
type Choice struct{ Word, Said, Meaning string }

// Waiting is a rule that waits for an answer.
type Waiting struct {
	Rule, Title string
	Danger      pack.Danger
	// Numeric is set for one that compares numbers.
	Numeric bool
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
	q := &Question{Path: c.Path, Fact: s.o.Declared.Describe(c.Path), Label: s.label(c.Path), Danger: c.Danger, Rules: s.waiting(c.Rules), Decides: c.Decides > 0}
	q.Words = s.o.Declared.Said(c.Path)
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
	at, choices := q.Path, q.Fact.Words
	if key := itemKey(field); key != "" {
		at = q.Path + "[]." + key
		item := s.o.Declared.Describe(at)
		choices, q.Examples = item.Words, examples(item, s.o.Units)
	} else {
		q.Examples = examples(q.Fact, s.o.Units)
		if q.Other = twin(q.Path); q.Other != "" {
			q.Examples = append(q.Examples, examples(s.o.Declared.Describe(q.Other), s.o.Units)...)
		}
	}
	for _, w := range choices {
		c := Choice{Word: w}
		if row := s.o.Declared.Said(at); row != nil && row.Value(w) != nil {
			c.Said = row.Value(w).Label
		}
		q.Choices = append(q.Choices, c)
	}
	if q.Form == Value && len(q.Examples) > 0 {
		q.Printed = s.printed(q)
	}
}

// printed is what is said in one breath, as an example: a figure and what is printed behind it, or what else of the same part a
// number tells wherever it is said.
func (s *Session) printed(q *Question) string {
	if q.Words == nil {
		return ""
	}
	for _, r := range words.Rows() {
		beside := sibling(q.Path, r.Key)
		if r.Part != q.Words.Part || beside == q.Path || beside == q.Other || s.stated[beside].known {
			continue
		}
		behind := slices.Contains(r.Bare.After, q.Words.Key)
		list := examples(s.o.Declared.Describe(beside), s.o.Units)
		switch {
		case len(list) == 0 || !behind && !(r.Bare.Anywhere && q.Words.Bare.Anywhere):
		case behind:
			return q.Examples[0] + " @ " + list[0]
		default:
			return list[0] + ", " + q.Examples[0]
		}
	}
	return ""
}

// waiting are the rules of some names, as the report tells them.
func (s *Session) waiting(names []string) []Waiting {
	out := make([]Waiting, len(names))
	for i, name := range names {
		out[i].Rule = name
		for j := range s.report.Findings {
			if f := &s.report.Findings[j]; f.Rule == name {
				out[i].Title, out[i].Danger, out[i].Numeric = f.Title, f.Danger, f.Numeric
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

// label names what stands at a path: as people call it, items by their name, their kind or their number.
func (s *Session) label(path string) []string {
	var out []string
	for at, step := range schema.Path(path).Along() {
		name, field := strings.ReplaceAll(step.Key, "_", " "), at
		if step.Item {
			field = at.Parent()
		}
		if row := s.o.Declared.Said(string(field)); row != nil {
			name = row.Label
		}
		out = append(out, name)
		if !step.Item {
			continue
		}
		list, item := string(at.Parent()), s.names[string(at)]
		if kind := s.design.FactAt(string(at) + ".kind"); item == "" && kind != nil && kind.Known() {
			item = strings.ReplaceAll(kind.Text(), "_", " ")
			if s.items[list] > 1 {
				item = fmt.Sprintf("%s, number %d of %d", item, step.Index+1, s.items[list])
			}
			out = append(out, item)
			continue
		}
		if item == "" || s.shared(list, item) {
			item = strings.TrimPrefix(fmt.Sprintf("%s, number %d of %d", item, step.Index+1, s.items[list]), ", ")
		}
		out = append(out, item)
	}
	return out
}

// shared reports whether several items of a list have a name.
func (s *Session) shared(list, name string) bool { return s.called(list, name) > 1 }

// called is how many items of a list have a name.
func (s *Session) called(list, name string) int {
	n := 0
	for i := range s.items[list] {
		if s.names[fmt.Sprintf("%s[%d]", list, i)] == name {
			n++
		}
	}
	return n
}

// examples are values of a fact in the reader's units; in both where a reader uses both and they differ, as printed first.
func examples(fact schema.Description, units quantity.System) []string {
	if fact.Example == "" {
		return nil
	}
	v, err := quantity.Parse(fact.Example, fact.Field.Dimension)
	if fact.Field.Kind != schema.KindQuantity || err != nil {
		return []string{fact.Example}
	}
	metric, us := short(v.Format(quantity.Metric)), short(v.Format(quantity.US))
	switch {
	case metric == us:
		return []string{fact.Example}
	case units == quantity.US:
		return []string{us}
	case units == quantity.Metric:
		return []string{metric}
	case unitOf(fact.Example) != unitOf(metric) && unitOf(fact.Example) != unitOf(us):
		return []string{fact.Example} // as it is printed: cc/min
	}
	return []string{us, metric}
}

// short is a number with its unit as an example says it: with three digits at most.
func short(text string) string {
	unit := unitOf(text)
	n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, unit)), 64)
	if err != nil || n == 0 || math.Abs(n) >= 1000 {
		return text
	}
	digits := strconv.FormatFloat(n, 'f', max(0, 2-int(math.Floor(math.Log10(math.Abs(n))))), 64)
	if strings.Contains(digits, ".") {
		digits = strings.TrimRight(strings.TrimRight(digits, "0"), ".")
	}
	return strings.TrimSpace(digits + " " + unit)
}
