package report

import (
	"fmt"
	"strings"

	"plumbline/engine"
)

// mostNamed are how many lines of a check of sense are named; a curve may have read many.
const mostNamed = 6

// suspects names the lines one of which is mistyped, and what was perhaps meant; where one fact explains several checks, which
// was told first, the other checks.
func (s *jobSheet) suspects(e *entry) {
	f := e.Finding
	for _, text := range alsoWords(e) {
		s.Para(inner, inner+2, text)
	}
	if !f.Sense || f.Outcome != engine.Warn || len(e.sense) > 0 {
		return
	}
	var lines []string
	for _, r := range f.Facts {
		if r.Place.Line > 0 {
			lines = append(lines, fmt.Sprintf("%s %s (%s)", factName(r.Path), clean(r.Text), place(r.Place)))
		}
	}
	if more := len(lines) - mostNamed; more > 0 {
		lines = append(lines[:mostNamed], fmt.Sprintf("%d more", more))
	}
	if len(lines) > 1 {
		s.Para(inner, inner+2, "One of these: "+strings.Join(lines, "; ")+".")
	}
	if words := likelyWords(f); words != "" {
		s.Para(inner, inner+2, words)
	}
}

// causeWords name the one fact that explains n checks of sense, and what it was perhaps meant to be.
func causeWords(c *engine.Cause, n int) string {
	text := fmt.Sprintf("%s %s explains %d doubts", factName(c.Path), clean(c.Stated), n)
	if len(c.Meant) == 0 {
		return text + "."
	}
	meant := make([]string, len(c.Meant))
	for i, m := range c.Meant {
		meant[i] = clean(m)
	}
	return text + ": perhaps " + strings.Join(meant, ", or ") + "?"
}

// alsoWords are the other checks of sense of an entry, a line each.
func alsoWords(e *entry) []string {
	var out []string
	for _, f := range e.sense {
		text := "Also: " + textWords(f)
		if n := Numbers(f); n != "" {
			text += " " + n + "."
		}
		if f.Remedy != "" && f.Remedy != e.Remedy {
			text += " Do: " + sentence(f.Remedy)
		}
		out = append(out, text+" Rule "+f.Rule+".")
	}
	return out
}

// likelyWords ask for the slip that would explain a check of sense: "Perhaps design.x 3.0 inHg? It says 3.0 inH2O."
func likelyWords(f *engine.Finding) string {
	var parts []string
	for _, x := range f.Likely {
		parts = append(parts, fmt.Sprintf("%s %s instead of %s?", factName(x.Path), clean(x.Meant), clean(x.Stated)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Perhaps " + strings.Join(parts, " Or ")
}

// toldWords say what was found; where one fact explains several checks of sense, that fact first.
func toldWords(e *entry) string {
	if len(e.sense) == 0 {
		return foundWords(e.Finding)
	}
	return causeWords(e.Cause, 1+len(e.sense)) + " " + foundWords(e.Finding)
}
