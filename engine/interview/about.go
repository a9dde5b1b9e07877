package interview

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
	"plumbline/schema/words"
)

// A page does not go from question to question: it asks for whatever is tapped, and what is stated may be stated otherwise.

// Clone is another session in the same state; neither changes with the other.
func (s *Session) Clone() *Session {
	out := *s
	out.skipped, out.past = maps.Clone(s.skipped), slices.Clone(s.past)
	return &out
}

// About asks for what stands at a path, stated or not: a fact, a part, a list; for one more item of a list with [] at its end. It is
// nil where no answer could be given: the schema has nothing there, or the item is not named.
func (s *Session) About(path string) *Question {
	list, more := strings.CutSuffix(path, "[]")
	p := schema.Path(list)
	field := s.field(list).Kind
	_, _, item := p.Split()
	switch {
	case s.field(list).Key == "" || item || strings.Contains(list, "[]"), more && field != schema.KindList, field == schema.KindPart:
		return nil
	case !s.there(p.Parent()):
		return nil
	}
	q := s.question(engine.Ranked{Path: list})
	if more || q.Form == Items {
		q = s.rest(*q)
	}
	switch list {
	case titlePath, regionsPath, stagePath:
		q.Standing = s.o.Standing[list]
		if list == regionsPath {
			q.Choices = s.o.Regions
		}
	}
	return q
}

// there reports whether the items on the way to a path are named.
func (s *Session) there(path schema.Path) bool {
	for at, step := range path.Along() {
		if step.Item && s.design.At(string(at)) == nil {
			return false
		}
	}
	return true
}

// First are the questions that matter most, at most so many, in the order they would be asked; those that were passed over come last.
func (s *Session) First(most int) []*Question {
	var out []*Question
	seen := map[string]bool{}
	add := func(path string, ask func() *Question) {
		if len(out) < most && path != "" && !seen[path] {
			seen[path] = true
			out = append(out, ask())
		}
	}
	if s.o.Only != nil {
		for _, missing := range s.o.Only(s.design, s.report) {
			if path := s.askable(missing); !s.skipped[path] {
				add(path, func() *Question { return s.question(engine.Ranked{Path: path}) })
			}
		}
		return out
	}
	list := s.candidates()
	some := func(list []engine.Ranked, decides bool) {
		for _, c := range list {
			if c.Decides > 0 == decides && len(out) < most {
				add(c.Path, func() *Question { return s.question(c) })
			}
		}
	}
	some(list, true)
	for _, path := range []string{titlePath, regionsPath, stagePath} {
		if !s.stated[path].known && !s.skipped[path] {
			add(path, func() *Question { return s.opening(path) })
		}
	}
	some(list, false)
	if len(out) < most && len(s.skipped) > 0 {
		later := engine.Rank(s.report, func(missing string) string {
			if path := s.askable(missing); s.skipped[path] {
				return path
			}
			return ""
		})
		some(later, true)
		some(later, false)
	}
	return out
}

// Skip passes a question over: it is asked after the others.
func (s *Session) Skip(path string) {
	s.skipped[path] = true
	s.advance()
}

// Skipped reports whether a question was passed over.
func (s *Session) Skipped(path string) bool { return s.skipped[path] }

// Put makes another text the state of the interview. The error is of type document.Problems where it cannot be read.
func (s *Session) Put(text []byte) error {
	design, err := s.load(text)
	if err != nil {
		return err
	}
	s.take(text, design)
	s.asking = nil
	s.advance()
	return nil
}

// Tell takes an answer to any question that About asks. What is stated is stated otherwise; none of the words that mean something
// between questions (stop, back, ?) do. It does not lead from question to question, and can not be taken back.
func (s *Session) Tell(path, answer string) Reply {
	q := s.About(path)
	if q == nil {
		return refuse("nothing can be answered to %s", schema.Path(path).Short())
	}
	answer = strings.TrimSpace(answer)
	switch {
	case answer == "":
		return refuse("nothing was typed")
	case !utf8Printable(answer):
		return refuse("the answer holds a character that cannot be seen; type it again")
	}
	if yes, known := words.YesNo(answer); q.Form == Count && strings.HasSuffix(path, "[]") && known && yes {
		text, design, err := s.try(change{path: fmt.Sprintf("%s[%d]", q.Path, s.items[q.Path]), value: amend.There()})
		if err != nil {
			return Reply{Problems: messages(err, q.Path)}
		}
		s.take(text, design)
		return Reply{Changed: true}
	}
	s.again = true
	defer func() { s.again, s.past = false, nil }()
	return s.value(q, answer)
}

// overwrite puts a value in the place of what is stated; what says the same in other units goes. That there is such a part does
// not take its facts away.
func (s *Session) overwrite(text []byte, c change) ([]byte, error) {
	if other := twin(c.path); other != "" {
		var err error
		if text, err = amend.Drop(s.o.File, text, s.steps(other)); err != nil {
			return nil, err
		}
	}
	if kind := s.field(c.path).Kind; kind == schema.KindMaybe || kind == schema.KindList {
		if _, _, item := schema.Path(c.path).Split(); !item {
			switch at := s.design.At(c.path).(type) {
			case schema.Optional:
				if at.Presence() == schema.Present && len(c.value.Content) == 0 && c.value.Value != None {
					return text, nil
				}
			case schema.Listing:
				if at.Len() > 0 && c.path != "design.complete" {
					return nil, fmt.Errorf("%s names some already; take them away first", schema.Path(c.path).Short())
				}
			}
		}
	}
	return amend.Put(s.o.File, text, s.steps(c.path), c.value)
}

// Label names what stands at a path in plain words, from the outside in: circuits, fuel pump, fuse.
func (s *Session) Label(path string) []string { return s.label(path) }

// Alter puts values at paths, or takes away what stands there where they are nil, and makes the result the state of the interview.
// A list that a template states is written out first. The error is of type document.Problems where the result cannot be read.
func (s *Session) Alter(changes ...Alteration) error {
	text, design, err := s.altered(changes)
	if err != nil {
		return err
	}
	s.take(text, design)
	s.asking = nil
	s.advance()
	return nil
}

// Alteration is a value to be put at a path; nil takes away what stands there.
type Alteration struct {
	Path  string
	Value *yaml.Node
}

// altered is the text with changes, and what it says.
func (s *Session) altered(changes []Alteration) ([]byte, *schema.Design, error) {
	text := s.text
	for _, c := range changes {
		var err error
		if list := s.borrowed(c.Path); list != "" {
			if text, err = s.restate(text, list); err != nil {
				return nil, nil, err
			}
		}
		if text, err = amend.Apply(s.o.File, text, []amend.Change{{Path: s.steps(c.Path), Value: c.Value}}); err != nil {
			return nil, nil, err
		}
	}
	design, err := s.load(text)
	return text, design, err
}

// Own reports whether the design's own file states what stands at a path.
func (s *Session) Own(path string) bool {
	root, err := document.Parse(s.o.File, s.text)
	return err == nil && amend.At(root, s.steps(path)) != nil
}

// Alone reports whether what stands at a path is all that the design's own file states in the part or list around it.
func (s *Session) Alone(path string) bool {
	steps := s.steps(path)
	root, err := document.Parse(s.o.File, s.text)
	if err != nil || len(steps) == 0 {
		return false
	}
	if last := &steps[len(steps)-1]; last.Item != amend.Whole {
		last.Item = amend.Whole
		list := amend.At(root, steps)
		return list != nil && len(list.Content) == 1
	}
	if len(steps) == 1 {
		return false
	}
	part := amend.At(root, steps[:len(steps)-1])
	return part != nil && len(part.Content) == 2
}

// Remark puts remarks at the end of the text; nothing else changes by it.
func (s *Session) Remark(texts ...string) { s.text = amend.Remark(s.text, texts...) }
