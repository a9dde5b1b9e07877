package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
)

const (
	// mostStopping is how many causes of a part are told when the job is stopped by what is not known.
	mostStopping = 3
	// mostTitles is how many rules are told of one cause.
	mostTitles = 2
	// mostFound is how many facts to find out are named in one line.
	mostFound = 6
)

// open splits the open findings of a part into those that stop the job and those that can wait.
func (p *part) open() (stopping, waiting []*engine.Finding) {
	for _, f := range p.with(engine.Open) {
		if f.Blocks {
			stopping = append(stopping, f)
		} else {
			waiting = append(waiting, f)
		}
	}
	return stopping, waiting
}

// stopping prints the open findings that stop the job, by part of the vehicle.
func (s *jobSheet) stopping(list []*part) {
	first := true
	for _, p := range list {
		stopping, _ := p.open()
		if len(stopping) == 0 {
			continue
		}
		if first {
			s.Blank()
			s.Heading("Stops the job until judged")
			first = false
		}
		s.stoppingPart(p.name, stopping)
	}
}

// stoppingPart prints the worst causes of a part, joined when they wait for the same facts, and what to find out for the others.
func (s *jobSheet) stoppingPart(name string, list []*engine.Finding) {
	s.Blank()
	s.Marked(indent, inner, OutcomeWord(engine.Open)+":", styleOpen, capital(clean(name))+": "+pointsWords(list)+".")
	causes := byMissing(list)
	told := len(causes)
	if !s.verbose {
		told = min(told, mostStopping)
	}
	for _, cause := range causes[:told] {
		s.Para(inner, inner+2, s.causeWords(cause))
	}
	if rest := slices.Concat(causes[told:]...); len(rest) > 0 {
		text := fmt.Sprintf("And %d more", len(rest))
		if dangers := graveWords(rest); dangers != "" {
			text += " (" + dangers + ")"
		}
		if facts := missing(rest); len(facts) > 0 {
			text += ". Find out: " + findOut(facts, mostFound, s.report.Asked)
		}
		s.Para(inner, inner+2, text+".")
	}
	s.confirmOpen(list)
	s.unreachable(inner, list)
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
func (s *jobSheet) causeWords(cause []*engine.Finding) string {
	var titles, rules []string
	for _, f := range cause {
		title := strings.TrimSuffix(clean(f.Title), ".")
		if !slices.Contains(titles, title) {
			titles, rules = append(titles, title), append(rules, f.Rule)
		}
	}
	text, most := "", len(titles)
	if cause[0].Danger.Hurts() {
		text = dangerWords(cause[0].Danger) + ": "
	}
	if !s.verbose {
		most = min(most, mostTitles)
	}
	text += capital(strings.Join(titles[:most], "; "))
	if more := len(titles) - most; more > 0 {
		text += fmt.Sprintf("; and %d more", more)
	}
	text += "?"
	if facts := missing(cause); len(facts) > 0 {
		text += " Find out: " + findOut(facts, mostFound, s.report.Asked) + "."
	}
	text += " Rule " + strings.Join(rules[:most], ", ")
	if more := len(rules) - most; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text + "."
}

// waiting prints the open findings that do not stop the job yet, a line for each
// part: a half-known design has many, and the questions say what to ask.
func (s *jobSheet) waiting(list []*part) {
	first := true
	for _, p := range list {
		_, waiting := p.open()
		if len(waiting) == 0 {
			continue
		}
		if first {
			s.Blank()
			s.Heading("Not judged yet")
			first = false
		}
		s.Para(indent, inner, capital(clean(p.name))+": "+pointsWords(waiting))
		s.unreachable(inner, waiting)
		if s.verbose {
			s.confirmOpen(waiting)
			for _, f := range waiting {
				s.Para(inner, inner+2, sentence(capital(clean(f.Title)))+" "+s.where(f)+". Rule "+f.Rule+".")
				if f.Leaning != nil {
					s.Para(inner+2, inner+4, sentence(clean(LeaningWords(f.Leaning))))
				}
			}
		}
	}
}

// pointsWords count findings and the dangers to people among them: 38 points (13 fire).
func pointsWords(list []*engine.Finding) string {
	text := count(len(list), "point", "points")
	if dangers := graveWords(list); dangers != "" {
		text += " (" + dangers + ")"
	}
	return text
}

// graveWords count the findings with a danger to people: 13 fire, 2 loss of control.
func graveWords(list []*engine.Finding) string {
	var parts []string
	for _, d := range pack.Dangers() {
		if !d.Hurts() {
			continue
		}
		n := 0
		for _, f := range list {
			if f.Danger == d {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, d.Words()))
		}
	}
	return strings.Join(parts, ", ")
}

// unreachable prints, once each, the reasons that no answer removes.
func (s *jobSheet) unreachable(at int, list []*engine.Finding) {
	var told []string
	for _, f := range list {
		for _, reason := range f.Unreachable {
			if !slices.Contains(told, reason) {
				told = append(told, reason)
				s.Para(at, at+2, "Cannot be worked out: "+sentence(reason))
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
func factNames(paths []string, most int) string { return namesOf(paths, most, factName) }

// findOut names facts to find out; of one that is stated as a range, that too.
func findOut(paths []string, most int, asked []engine.Question) string {
	return namesOf(paths, most, func(path string) string {
		at := slices.IndexFunc(asked, func(q engine.Question) bool { return q.Path == path })
		if at < 0 {
			return factName(path)
		}
		return factName(path) + narrowWords(&asked[at])
	})
}

// namesOf joins the names of facts, at most some of them.
func namesOf(paths []string, most int, name func(path string) string) string {
	names := make([]string, 0, most)
	for i, path := range paths {
		if i == most {
			return strings.Join(names, ", ") + fmt.Sprintf(" and %d more", len(paths)-most)
		}
		names = append(names, name(path))
	}
	return strings.Join(names, ", ")
}
