package report

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/diagnose"
)

// same are the places of those of the first candidates that would show what one of them shows, itself first.
func (s *diagnosis) same(i int) []int {
	out := []int{i}
	for k := i + 1; k < min(s.found.Apart, len(s.found.Candidates)); k++ {
		if slices.Contains(s.found.Candidates[k].Alike, i) {
			out = append(out, k)
		}
	}
	return out
}

// together names candidates that readings do not tell apart: by what they have in common, or by all their names.
func (s *diagnosis) together(same []int) string {
	common, names, pairs := "", []string(nil), [][]string(nil)
	for n, i := range same {
		c := &s.found.Candidates[i]
		own := ""
		if len(c.Troubles) == 1 {
			own = clean(c.Troubles[0].Together)
		}
		if n == 0 {
			common = own
		} else if own != common {
			common = ""
		}
		var titles []string
		for _, t := range c.Troubles {
			title := uncapital(clean(t.Title))
			if len(c.Troubles) > 1 && t.Together != "" {
				title = clean(t.Together)
			}
			titles = append(titles, title)
		}
		names, pairs = append(names, strings.Join(titles, " with ")), append(pairs, titles)
	}
	if common != "" {
		return fmt.Sprintf("%s%s; in which of %d places these %s do not say", common, s.size(same), len(same), s.what())
	}
	if shared, others := inAll(pairs); shared != "" {
		return fmt.Sprintf("%s, together with one of these, which these %s cannot tell apart: %s", shared, s.what(), joined(others, "or"))
	}
	return "one of these, which these " + s.what() + " cannot tell apart: " + joined(names, "or")
}

// inAll is the one of two titles that all pairs have, and the others; "" where there is none.
func inAll(pairs [][]string) (shared string, others []string) {
	for _, title := range pairs[0] {
		others = nil
		for _, pair := range pairs {
			at := slices.Index(pair, title)
			if len(pair) != 2 || at < 0 {
				others = nil
				break
			}
			others = append(others, pair[1-at])
		}
		if len(others) > 0 {
			return title, others
		}
	}
	return "", nil
}

// what is what was found: readings, or signs alone.
func (s *diagnosis) what() string {
	if len(s.found.Held) == 0 {
		return "signs"
	}
	return "readings"
}

// size is how large it is where all say the same.
func (s *diagnosis) size(same []int) string {
	say := s.found.Candidates[same[0]].Troubles[0].Say
	if say == "" || slices.ContainsFunc(same, func(i int) bool { return s.found.Candidates[i].Troubles[0].Say != say }) {
		return ""
	}
	return " (" + clean(say) + ")"
}

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
		line := fmt.Sprintf("%d. %s", i+1, capital(named(c)))
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
