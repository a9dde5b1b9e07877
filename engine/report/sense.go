package report

import (
	"fmt"
	"strings"

	"plumbline/engine"
)

// mostNamed are how many lines of a check of sense are named; a curve may have read many.
const mostNamed = 6

// suspects names the lines one of which is mistyped, and what was perhaps meant.
func (s *sheet) suspects(f *engine.Finding) {
	if !f.Sense || f.Outcome != engine.Warn {
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
