package diagnose

import (
	"fmt"
	"strings"
	"unicode"
)

// Verdict is the answer in a sentence.
func (d *Diagnosis) Verdict() string {
	if len(d.Held) == 0 {
		return "No reading is stated that could be held against what was computed."
	}
	first := &d.Candidates[0]
	these, those, leave := fmt.Sprintf("these %d readings", len(d.Held)), "are those", "These readings leave"
	if len(d.Held) == 1 {
		these, those, leave = "this 1 reading", "is that", "This reading leaves"
	}
	switch {
	case !d.Explained:
		return fmt.Sprintf("Nothing known here explains %s: not one of the %d troubles tried, nor any two together.", these, d.Tried)
	case len(first.Troubles) == 0 && d.Apart == 1:
		return fmt.Sprintf("T%s %s of a sound vehicle.", these[1:], those)
	case len(first.Troubles) == 0:
		return fmt.Sprintf("A sound vehicle explains %s; what else would is told below.", these)
	case d.Apart > 1:
		return fmt.Sprintf("Most likely: %s. %s %d possibilities.", first.Called(), leave, d.Apart)
	}
	return fmt.Sprintf("Most likely: %s.", first.Called())
}

// Called is what a candidate is called.
func (c *Candidate) Called() string {
	if len(c.Troubles) == 0 {
		return "a sound vehicle"
	}
	var out []string
	for _, t := range c.Troubles {
		out = append(out, small(t.Title)+" ("+t.Say+")")
	}
	return strings.Join(out, " together with ")
}

// small makes the first letter small, unless the word is an abbreviation.
func small(s string) string {
	first := []rune(s)
	if len(first) < 2 || unicode.IsUpper(first[1]) {
		return s
	}
	return string(unicode.ToLower(first[0])) + string(first[1:])
}
