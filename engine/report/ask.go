package report

import (
	"fmt"
	"strings"

	"plumbline/engine"
)

// atLength is how many questions are printed with all they need; the rest are named.
const atLength = 20

// questions prints the missing facts, the most useful answer first, each with how to write it.
func (s *sheet) questions() {
	asked := s.report.Asked
	if len(asked) == 0 {
		return
	}
	s.Blank()
	s.Heading("Questions, the most useful first")
	full := len(asked)
	if !s.verbose {
		full = min(full, atLength)
	}
	for i := range asked[:full] {
		s.question(i+1, &asked[i])
	}
	if rest := asked[full:]; len(rest) > 0 {
		names := make([]string, len(rest))
		for i := range rest {
			names[i] = factName(rest[i].Path)
		}
		s.Blank()
		s.Para(indent, inner, fmt.Sprintf("And %s: %s.", count(len(rest), "more", "more"), strings.Join(names, ", ")))
	}
}

func (s *sheet) question(n int, q *engine.Question) {
	head := fmt.Sprintf("%d. %s", n, factName(q.Path))
	if q.Ask != "" {
		head += ": " + sentence(q.Ask)
	}
	s.Blank()
	s.Para(indent, inner, head)
	if answer := answerWords(q); answer != "" {
		s.Para(inner, inner+2, answer)
	}
	s.Para(inner, inner+2, settles(q))
}

// answerWords say how the answer is written in a design.
func answerWords(q *engine.Question) string {
	key := q.Path[strings.LastIndexByte(q.Path, '.')+1:]
	switch {
	case len(q.Words) > 0:
		return "Write: " + clean(key) + ": one of " + clean(strings.Join(q.Words, ", "))
	case q.Example != "":
		return "Write: " + clean(key) + ": " + clean(q.Example) + " (an example)"
	}
	return ""
}

// settles says what the answer is good for.
func settles(q *engine.Question) string {
	text := fmt.Sprintf("Holds up %s", count(len(q.Rules), "rule", "rules"))
	switch {
	case q.Alone > 0 && q.Alone >= len(q.Rules):
		text = fmt.Sprintf("Settles %s", count(len(q.Rules), "rule", "rules"))
	case q.Alone > 0:
		text += fmt.Sprintf(", settles %d by itself", q.Alone)
	}
	if severe(q.Danger) {
		text += "; " + strings.ToLower(dangerWords(q.Danger))
	}
	return text + "."
}

// assumptions prints what stood in for facts that were not stated.
func (s *sheet) assumptions() {
	if len(s.report.Assumed) == 0 {
		return
	}
	s.Blank()
	s.Heading("Assumed, because not stated")
	for _, a := range s.report.Assumed {
		text := fmt.Sprintf("%s: %s; %s on it.", factName(a.Path), clean(a.Value), count(a.Findings, "finding rests", "findings rest"))
		if len(a.Because) > 0 {
			text += " " + sentence(capital(groundsWords(a.Because)))
		}
		s.Para(indent, inner, text)
	}
}
