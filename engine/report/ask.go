package report

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

const (
	// mostTopics are printed with what to find out; the facts of the others are counted.
	mostTopics = 10
	// mostFacts of a topic are told at length, the others named.
	mostFacts = 4
	// mostAlike are how many elements that lack the same facts are named.
	mostAlike = 4
	// mostKeys of a part that is not described yet are named.
	mostKeys = 6
)

// questions prints the missing facts by what they are about, the most useful topic first.
func (s *jobSheet) questions() {
	if len(s.report.Asked) == 0 {
		return
	}
	s.Blank()
	s.Heading("Questions, the most useful first")
	list := topics(s.report.Asked)
	full := min(len(list), mostTopics)
	for i, t := range list[:full] {
		s.topic(i+1, t)
	}
	var rest []*engine.Question
	for _, t := range list[full:] {
		rest = append(rest, slices.Concat(t.asked, t.others)...)
	}
	if len(rest) == 0 {
		return
	}
	s.Blank()
	if !s.verbose {
		s.Para(indent, inner, fmt.Sprintf("And %s; --verbose lists them.", count(len(rest), "more fact", "more facts")))
		return
	}
	s.Para(indent, inner, fmt.Sprintf("And %s:", count(len(rest), "more fact", "more facts")))
	for _, line := range bySection(rest) {
		s.Para(inner, inner+2, line)
	}
}

// topic prints what to find out about one thing.
func (s *jobSheet) topic(n int, t *topic) {
	s.Blank()
	s.Para(indent, inner, fmt.Sprintf("%d. %s. %s.", n, s.topicName(t), t.stakes(s.report.Findings)))
	if q := t.whole(); q != nil {
		s.Para(inner, inner+2, wholeWords(q))
	}
	told, rest := 0, []string{}
	for _, q := range t.asked {
		switch key := t.key(q); {
		case key == "":
		case !s.verbose && told == mostFacts:
			rest = append(rest, clean(key)+narrowWords(q))
		default:
			told++
			s.Para(inner, inner+2, askWords(q, key))
		}
	}
	if len(rest) > 0 {
		s.Para(inner, inner+2, "Also "+joined(rest, "and")+".")
	}
}

// topicName says what a topic is about and where it stands: the name the design
// gives an element or the meaning of a section, its path and its line.
func (s *jobSheet) topicName(t *topic) string {
	var names []string
	for i, path := range append([]string{t.path}, t.same...) {
		if i == mostAlike {
			names = append(names, fmt.Sprintf("%d more", len(t.same)+1-mostAlike))
			break
		}
		names = append(names, subjectWords(path, s.report.Declared().Describe(path).Doc, s.subjectOf(path)))
	}
	return joined(names, "and")
}

func subjectWords(path, doc string, about subject) string {
	where := factName(path)
	name := clean(about.name)
	if !strings.HasSuffix(path, "]") {
		name = docWords(doc)
	}
	if name == "" {
		name, where = where, ""
	}
	if about.where != "" {
		where = strings.TrimPrefix(where+", "+about.where, ", ")
	}
	if where == "" {
		return name
	}
	return capital(name) + " (" + where + ")"
}

// stakes say what the answers are good for.
func (t *topic) stakes(findings []engine.Finding) string {
	rules, alone, danger := t.weight(findings)
	text := "1 rule waits for it"
	if rules != 1 {
		text = fmt.Sprintf("%d rules wait for it", rules)
		if 0 < alone && alone < rules {
			text += fmt.Sprintf(", %d for nothing else", alone)
		}
	}
	if danger.Hurts() {
		text = dangerWords(danger) + "; " + text
	}
	return text
}

// wholeWords say how a list or part that a design does not mention is written.
func wholeWords(q *engine.Question) string {
	if q.Complete != "" {
		return q.Ask
	}
	key, field := factName(q.Path), fieldOf(q)
	keys := keysOf(field.Part)
	switch field.Kind {
	case schema.KindList:
		text := "Write " + key + ": none, or list them"
		if keys != "" {
			text += ", each with " + keys
		}
		return text + "."
	case schema.KindMaybe:
		return "Write " + key + ": none, or its " + keys + "."
	}
	return "Write its " + keys + "."
}

// askWords say what to find out: the fact's key, its meaning, and how the answer is written.
func askWords(q *engine.Question, key string) string {
	text := clean(key)
	if q.Ask != "" {
		text += ": " + docWords(q.Ask)
	}
	if q.Complete != "" {
		return text + "."
	}
	if q.Stated != "" {
		return text + ". Stated as " + clean(q.Stated) + "; narrow it."
	}
	if answer := answerWords(q); answer != "" {
		text += ". " + answer
	}
	return text + "."
}

// narrowWords follow the name of a fact that is stated as a range.
func narrowWords(q *engine.Question) string {
	if q.Stated == "" {
		return ""
	}
	return " (narrow " + clean(q.Stated) + ")"
}

// answerWords say how an answer is written in a design.
func answerWords(q *engine.Question) string {
	field := fieldOf(q)
	keys := keysOf(field.Part)
	switch {
	case len(q.Words) > 0 && field.Kind == schema.KindList:
		return "A list out of " + joined(cleaned(q.Words), "and")
	case len(q.Words) > 0:
		return "One of " + joined(cleaned(q.Words), "or")
	case field.Kind == schema.KindBool:
		return "True or false"
	case field.Kind == schema.KindList && keys != "":
		return "List them, each with " + keys
	case field.Kind == schema.KindMaybe:
		return "Write none, or its " + keys
	case field.Kind == schema.KindPart:
		return "Write its " + keys
	case q.Example != "":
		return "Such as " + clean(q.Example)
	}
	return ""
}

// fieldOf is what stands at the path of a question, also of one that was not made by judging.
func fieldOf(q *engine.Question) schema.FieldInfo {
	if q.Field.Key != "" {
		return q.Field
	}
	return schema.Describe(q.Path).Field
}

// keysOf names the first facts of a type of part, as its questions will ask for them.
func keysOf(name string) string {
	var keys []string
	for i, f := range schema.FieldsOf(name) {
		if i == mostKeys {
			return strings.Join(keys, ", ") + " and so on"
		}
		keys = append(keys, f.Key)
	}
	return joined(keys, "and")
}

// docWords make a description fit inside a sentence; the way to say that there is none is told beside it.
func docWords(doc string) string {
	doc = strings.TrimSuffix(clean(doc), ".")
	doc = strings.TrimSuffix(doc, "; `none` states there is none")
	return uncapital(doc)
}

// bySection names facts, a line for each section of a design, each kind of fact once.
func bySection(list []*engine.Question) []string {
	var sections []string
	keys, times, narrow := map[string][]string{}, map[string]int{}, map[string]string{}
	for _, q := range list {
		name, key := schema.Path(q.Path).Section(), clean(schema.Path(q.Path).Generic().Short())
		if keys[name] == nil {
			sections = append(sections, name)
		}
		if times[key] == 0 {
			keys[name] = append(keys[name], key)
		}
		times[key]++
		narrow[key] = narrowWords(q)
	}
	lines := make([]string, len(sections))
	for i, name := range sections {
		var words []string
		whole := false
		for _, key := range keys[name] {
			if key == name {
				whole = true
				continue
			}
			word := strings.TrimPrefix(strings.TrimPrefix(key, name), ".")
			if times[key] > 1 {
				word += fmt.Sprintf(" (%d times)", times[key])
			} else {
				word += narrow[key]
			}
			words = append(words, word)
		}
		lines[i] = clean(name)
		if whole && len(words) > 0 {
			lines[i] += " (or none)"
		}
		if len(words) > 0 {
			lines[i] += ": " + strings.Join(words, ", ")
		}
		lines[i] += "."
	}
	return lines
}

// assumptions prints what stood in for facts that were not stated.
func (s *jobSheet) assumptions() {
	if len(s.report.Assumed) == 0 {
		return
	}
	s.Blank()
	s.Heading("Assumed, because not stated")
	for _, a := range s.report.Assumed {
		text := fmt.Sprintf("%s: %s; %s on it.", factName(a.Path), clean(a.Value), count(a.Findings, "finding rests", "findings rest"))
		if len(a.Because) > 0 {
			text += " " + sentence(capital(s.grounds(a.Because, factName(a.Path))))
		}
		s.Para(indent, inner, text)
	}
}
