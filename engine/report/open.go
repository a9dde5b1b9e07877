package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
)

// mostStopping is how many causes of a part are told one by one when the job is stopped by what is not known.
const mostStopping = 5

// stopping prints the open findings that stop the job: the worst one by one,
// joined when they wait for the same facts, the others as a sum.
func (s *sheet) stopping(list []*engine.Finding) {
	if len(list) == 0 {
		return
	}
	verb := "points stop"
	if len(list) == 1 {
		verb = "point stops"
	}
	s.Blank()
	s.Marked(indent, inner, outcomeWord(engine.Open), styleOpen,
		fmt.Sprintf("%d %s the job until judged%s.", len(list), verb, graveWords(list)))
	var rest []*engine.Finding
	told := 0
	for _, cause := range byMissing(list) {
		if !s.verbose && told == mostStopping {
			rest = append(rest, cause...)
			continue
		}
		told++
		s.Para(inner, inner+2, causeWords(cause))
	}
	if len(rest) > 0 {
		s.Para(inner, inner+2, fmt.Sprintf("And %d more%s. Find out: %s.", len(rest), graveWords(rest), factNames(missing(rest), 8)))
	}
	s.unreachable(list)
}

// byMissing joins findings of one rule, and those that wait for the same facts, in order.
func byMissing(list []*engine.Finding) [][]*engine.Finding {
	at := map[string]int{}
	var out [][]*engine.Finding
	for _, f := range list {
		facts := strings.Join(f.Missing, " ")
		i, ok := at["rule "+f.Rule]
		if !ok {
			i, ok = at["facts "+facts]
		}
		if !ok {
			i = len(out)
			out = append(out, nil)
		}
		at["rule "+f.Rule], at["facts "+facts] = i, i
		out[i] = append(out[i], f)
	}
	return out
}

// causeWords say what cannot be judged for want of the same facts.
func causeWords(cause []*engine.Finding) string {
	var titles, rules []string
	for _, f := range cause {
		title := strings.TrimSuffix(clean(f.Title), ".")
		if !slices.Contains(titles, title) {
			titles, rules = append(titles, title), append(rules, f.Rule)
		}
	}
	text := capital(strings.Join(titles, "; ")) + "?"
	if severe(cause[0].Danger) {
		text = dangerWords(cause[0].Danger) + ": " + text
	}
	if facts := missing(cause); len(facts) > 0 {
		text += " Find out: " + factNames(facts, 6) + "."
	}
	return text + " Rule " + strings.Join(rules, ", ") + "."
}

// graveWords count the findings with a danger to people.
func graveWords(list []*engine.Finding) string {
	text := ""
	for _, d := range []string{"fire", "loss_of_control", "burn"} {
		n := 0
		for _, f := range list {
			if f.Danger == d {
				n++
			}
		}
		if n > 0 {
			text += fmt.Sprintf(", %d with a %s", n, strings.ToLower(dangerWords(d)))
		}
	}
	return text
}

// waiting prints the open findings that do not stop the job yet as one entry:
// a half-known design has many, and the questions below say what to ask.
func (s *sheet) waiting(list []*engine.Finding) {
	if len(list) == 0 {
		return
	}
	text := count(len(list), "point", "points") + " cannot be judged yet" + graveWords(list)
	s.Blank()
	s.Marked(indent, inner, outcomeWord(engine.Open), styleOpen, text+".")
	if facts := missing(list); len(facts) > 0 {
		s.Para(inner, inner+2, "Not stated: "+factNames(facts, 8)+".")
	}
	s.unreachable(list)
	if s.verbose {
		for _, f := range list {
			s.Para(inner, inner+2, sentence(capital(clean(f.Title)))+" "+where(f)+". Rule "+f.Rule+".")
		}
	}
}

// unreachable prints, once each, the reasons that no answer removes.
func (s *sheet) unreachable(list []*engine.Finding) {
	var told []string
	for _, f := range list {
		for _, reason := range f.Unreachable {
			if !slices.Contains(told, reason) {
				told = append(told, reason)
				s.Para(inner, inner+2, "Cannot be worked out: "+sentence(reason))
			}
		}
	}
}

// missing lists the facts that findings wait for, the most wanted first.
func missing(list []*engine.Finding) []string {
	wanted := map[string]int{}
	var out []string
	for _, f := range list {
		for _, path := range f.Missing {
			if wanted[path] == 0 {
				out = append(out, path)
			}
			wanted[path]++
		}
	}
	slices.SortStableFunc(out, func(a, b string) int { return cmp.Compare(wanted[b], wanted[a]) })
	return out
}

// factNames joins facts, at most some of them.
func factNames(paths []string, most int) string {
	names := make([]string, 0, most)
	for i, path := range paths {
		if i == most {
			return strings.Join(names, ", ") + fmt.Sprintf(" and %d more", len(paths)-most)
		}
		names = append(names, factName(path))
	}
	return strings.Join(names, ", ")
}
