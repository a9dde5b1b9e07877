package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
)

// stopping prints open findings that stop the job, briefly each: the answers are below, under the questions.
func (s *sheet) stopping(list []*entry) {
	for _, e := range list {
		text := "Cannot be judged yet: " + sentence(e.Title)
		if severe(e.Danger) {
			text = dangerWords(e.Danger) + ": cannot be judged yet: " + sentence(e.Title)
		}
		s.Blank()
		s.Marked(indent, inner, outcomeWord(engine.Open), styleOpen, text)
		s.Para(inner, inner+2, where(e.Finding))
		if len(e.same) > 0 {
			s.Para(inner, inner+2, fmt.Sprintf("The same for %s.", count(len(e.same), "other part", "other parts")))
		}
		all := append([]*engine.Finding{e.Finding}, e.same...)
		if facts := missing(all); len(facts) > 0 {
			s.Para(inner, inner+2, "Find out: "+factNames(facts, 8)+".")
		}
		s.unreachable(all)
		s.Para(inner, inner+2, "Rule "+e.Rule+"; stops the job.")
	}
}

// waiting prints the open findings that do not stop the job yet as one entry:
// a half-known design has many, and the questions below say what to ask.
func (s *sheet) waiting(list []*engine.Finding) {
	if len(list) == 0 {
		return
	}
	text := count(len(list), "point", "points") + " cannot be judged yet"
	var grave []string
	for _, d := range []string{"fire", "loss_of_control", "burn"} {
		n := 0
		for _, f := range list {
			if f.Danger == d {
				n++
			}
		}
		if n > 0 {
			grave = append(grave, fmt.Sprintf("%d with a %s", n, strings.ToLower(dangerWords(d))))
		}
	}
	if len(grave) > 0 {
		text += ", " + strings.Join(grave, ", ")
	}
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
