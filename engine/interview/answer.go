package interview

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/lines"
	"plumbline/schema/words"
)

// The answers that mean something else than a value. A text that is one of them is typed in quotes.
const (
	Stop = "stop"
	Back = "back"
	Why  = "?"
	None = "none"
)

// Reply is what an answer led to.
type Reply struct {
	// Changed is true when the text is another one and wants to be saved.
	Changed bool
	// Stopped is true when the interview is to end.
	Stopped bool
	// Why is true when the reasons of the question were asked for.
	Why bool
	// Problems say why an answer is not taken; the question stays. Offer are readings of it with a unit that would be taken.
	Problems []string
	Offer    []string
	// Heard are the facts a line was understood to say, where it says more than the answer; Left is what was not understood.
	Heard []Heard
	Left  []lines.Left
	// Failed are dangers of fire, poisoning and losing control that the answer brought to light: fails, and warnings.
	Failed []*engine.Finding
}

// Answer takes a line typed in answer to the question. After the last question only back and stop mean something.
func (s *Session) Answer(line string) Reply {
	answer := strings.TrimSpace(line)
	switch answer {
	case Stop:
		return Reply{Stopped: true}
	case Back:
		return s.back()
	}
	q := s.asking
	switch {
	case q == nil:
		return refuse("nothing is asked any more; write back to take the last answer back, or stop")
	case answer != Why && words.NotKnown(answer):
		return s.Answer("")
	case answer == "" && len(q.Listed) > 0:
		s.advance()
		return Reply{}
	case answer == "":
		s.past = append(s.past, past{s.text, *q, true})
		s.skipped[q.Path] = true
		s.advance()
		return Reply{}
	case answer == Why:
		return Reply{Why: true}
	case !utf8Printable(answer):
		return refuse("the answer holds a character that cannot be seen; type it again")
	}
	answer = s.unitOnly(answer)
	s.offered = nil
	reply := s.value(q, answer)
	s.offered = reply.Offer
	return reply
}

func refuse(format string, args ...any) Reply {
	return Reply{Problems: []string{fmt.Sprintf(format, args...)}}
}

func utf8Printable(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return r == unicode.ReplacementChar || !unicode.IsPrint(r) })
}

// back takes the last answer, or the last skipping of a question, back and asks it again.
func (s *Session) back() Reply {
	if len(s.past) == 0 {
		return refuse("there is no answer of this run to take back; earlier ones are changed in the file")
	}
	last := s.past[len(s.past)-1]
	design, err := s.load(last.text)
	if err != nil {
		return Reply{Problems: messages(err, "")}
	}
	s.past = s.past[:len(s.past)-1]
	delete(s.skipped, last.asked.Path)
	changed := !last.skipped
	s.take(last.text, design)
	s.asking = &last.asked
	return Reply{Changed: changed}
}

// value puts an answer into the text.
func (s *Session) value(q *Question, answer string) Reply {
	if yes, known := words.YesNo(answer); q.Form == Whole && known && !yes {
		return s.notAll(q)
	}
	change, problem := s.change(q, answer)
	var text []byte
	var design *schema.Design
	var heard []Heard
	err := errors.New(problem)
	if problem == "" {
		heard = change.heard
		text, design, err = s.try(change)
	}
	if err != nil {
		refused := Reply{Problems: plainly(q, answer, messages(err, change.path))}
		if text, design, err = s.tryTwin(q, answer); err != nil {
			if q.Form != Items || problem == manyPieces {
				text, design, heard = s.plain(q, answer)
			}
			if heard == nil {
				if problem == "" {
					refused.Offer = s.offer(q, answer)
				}
				return refused
			}
		}
	}
	failed := failures(s.report)
	s.past = append(s.past, past{s.text, *q, false})
	s.take(text, design)
	reply := Reply{Changed: true, Heard: heard}
	for _, f := range failures(s.report) {
		if !slices.ContainsFunc(failed, func(o *engine.Finding) bool { return o.Rule == f.Rule && o.Subject == f.Subject }) {
			reply.Failed = append(reply.Failed, f)
		}
	}
	if q.Form == Items && change.item != "" {
		delete(s.skipped, q.Path) // what is all of it is asked anew
		more := *q
		more.Listed = append(slices.Clone(q.Listed), change.item)
		s.asking = &more
		return reply
	}
	s.advance()
	return reply
}

// notAll asks for the rest of a list of which something is named; where that can only be counted it stays open.
func (s *Session) notAll(q *Question) Reply {
	s.past = append(s.past, past{s.text, *q, true})
	s.skipped[q.Path] = true
	rest := s.rest(*q)
	if rest.Form != Items {
		s.advance()
		return Reply{}
	}
	s.asking = rest
	return Reply{}
}

// try puts a value in and reads the result.
func (s *Session) try(c change) ([]byte, *schema.Design, error) {
	text, err := s.set(c)
	if err != nil {
		return nil, nil, err
	}
	design, err := s.load(text)
	return text, design, err
}

// tryTwin takes an answer for the other fact that says the same.
func (s *Session) tryTwin(q *Question, answer string) ([]byte, *schema.Design, error) {
	if q.Form != Value || q.Other == "" {
		return nil, nil, errNoTwin
	}
	return s.try(change{path: q.Other, value: node(s.field(q.Other).Kind, answer)})
}

var errNoTwin = errors.New("there is no other way to say it")

// messages are what the reader of the file says of an answer: at its own path, or all there is.
func messages(err error, path string) []string {
	var problems document.Problems
	if !errors.As(err, &problems) {
		return []string{err.Error()}
	}
	var own, all []string
	for _, p := range problems {
		if schema.Path(path).Holds(schema.Path(p.Path)) {
			own = append(own, p.Message)
		}
		all = append(all, p.Message)
	}
	if len(own) > 0 {
		return own
	}
	return all
}

// plainly says of a word that is none of the choices what to do: they stand above, as people call them. A near miss is told as it is.
func plainly(q *Question, answer string, problems []string) []string {
	if len(q.Choices) > 0 && len(problems) == 1 && strings.Contains(problems[0], "is not one of") && !strings.Contains(problems[0], "did you mean") {
		return []string{document.Cut(answer) + " is none of these; write one of the words or its number, or leave the line empty"}
	}
	return problems
}

// failures are the findings that can hurt somebody.
func failures(r *engine.Report) []*engine.Finding {
	var out []*engine.Finding
	for i := range r.Findings {
		if f := &r.Findings[i]; (f.Outcome == engine.Fail || f.Outcome == engine.Warn) && f.Danger.Grave() {
			out = append(out, f)
		}
	}
	return out
}
