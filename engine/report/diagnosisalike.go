package report

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/diagnose"
)

// group tells candidates that readings do not tell apart: once what they have in common, then in a line each what would.
func (s *diagnosis) group(same []int) {
	var numbers []string
	for _, i := range same {
		numbers = append(numbers, fmt.Sprint(i+1))
	}
	if len(s.found.Held) == 0 {
		s.Para(indent, inner, fmt.Sprintf("Numbers %s give as many of the signs seen.", joined(numbers, "and")))
	} else {
		s.Para(indent, inner, fmt.Sprintf("Numbers %s would show the same in every reading that was taken: these readings cannot tell them apart.", joined(numbers, "and")))
	}
	s.shows(&s.found.Candidates[same[0]])
	for _, i := range same {
		c := &s.found.Candidates[i]
		line := fmt.Sprintf("%d. %s", i+1, capital(clean(c.Called())))
		if tells := s.tells(i, same); tells != "" {
			line += ": " + tells
		}
		s.Para(indent, inner, strings.TrimSuffix(line, ".")+".")
		if s.verbose {
			for _, t := range c.Troubles {
				s.atLength(&t)
			}
		}
	}
}

// tells is what tells a candidate from others: the first of the measurements proposed in which it shows what none of them does, or
// how to make sure of it.
func (s *diagnosis) tells(i int, same []int) string {
	for _, m := range s.found.Next {
		at := slices.IndexFunc(m.Would, func(w diagnose.Would) bool { return w.Candidate == i })
		if at < 0 {
			continue
		}
		alone := !slices.ContainsFunc(m.Would, func(w diagnose.Would) bool {
			return w.Candidate != i && slices.Contains(same, w.Candidate) && w.Least.Value <= m.Would[at].Most.Value && m.Would[at].Least.Value <= w.Most.Value
		})
		if alone {
			return fmt.Sprintf("%s would be %s", clean(m.Title), from(m.Would[at]))
		}
	}
	if t := s.found.Candidates[i].Troubles; len(t) == 1 {
		return "to make sure, " + uncapital(clean(t[0].Confirm))
	}
	return ""
}

// would tells what a measurement shows with each candidate, those with the same at once.
func would(m *diagnose.Measurement) string {
	var texts []string
	of := map[string][]string{}
	for _, x := range m.Would {
		text := from(x)
		if of[text] == nil {
			texts = append(texts, text)
		}
		of[text] = append(of[text], fmt.Sprint(x.Candidate+1))
	}
	var out []string
	for _, text := range texts {
		which := "number "
		if len(of[text]) > 1 {
			which = "numbers "
		}
		out = append(out, which+joined(of[text], "and")+": "+text)
	}
	return strings.Join(out, "; ")
}
