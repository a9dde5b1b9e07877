package report

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
)

// doubtWords say of a finding which computed values it rests on that a
// measurement contradicts.
func doubtWords(f *engine.Finding) []string {
	var out []string
	for _, d := range f.Doubts {
		out = append(out, fmt.Sprintf("In doubt: rests on a computed value that what was measured contradicts: %s (rule %s).", d.Called, d.Rule))
	}
	return out
}

// mostDoubted is how many titles of findings in doubt are told in a line.
const mostDoubted = 4

// doubted says, for each rule that casts doubt, which findings that passed rest
// on what it contradicts: their outcome stands, but on a figure that is not so.
func doubted(r *engine.Report, verbose bool) []string {
	titles := map[string][]string{}
	values := map[string][]string{}
	var rules []string
	for i := range r.Findings {
		f := &r.Findings[i]
		for _, d := range f.Doubts {
			if !slices.Contains(rules, d.Rule) {
				rules = append(rules, d.Rule)
			}
			if !slices.Contains(values[d.Rule], d.Called) {
				values[d.Rule] = append(values[d.Rule], d.Called)
			}
			if title := strings.TrimSuffix(clean(f.Title), "."); f.Outcome == engine.Pass && !slices.Contains(titles[d.Rule], title) {
				titles[d.Rule] = append(titles[d.Rule], title)
			}
		}
	}
	var out []string
	for _, rule := range rules {
		list := titles[rule]
		if len(list) == 0 {
			continue
		}
		told := len(list)
		if !verbose {
			told = min(told, mostDoubted)
		}
		text := strings.Join(list[:told], "; ")
		if more := len(list) - told; more > 0 {
			text += fmt.Sprintf("; and %d more", more)
		}
		out = append(out, fmt.Sprintf("Passed, but on a computed value that what was measured contradicts (%s; rule %s): %s.", strings.Join(values[rule], "; "), rule, text))
	}
	return out
}
