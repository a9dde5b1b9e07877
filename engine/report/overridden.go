package report

import (
	"bufio"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
)

// overridden lists the figures that are others where the design is used.
func (s *jobSheet) overridden() {
	if len(s.report.Overridden) == 0 {
		return
	}
	s.Blank()
	s.Heading("Figures that are others where it is used")
	for _, x := range s.report.Overridden {
		s.Para(indent, inner, overriddenWords(x))
	}
}

func overriddenWords(x engine.Overridden) string {
	return fmt.Sprintf("%s: %s in %s instead of %s (%s): %s", capital(clean(x.What)), clean(x.To), clean(x.Region), clean(x.From), place(x.Place), sentence(strings.Join(overriddenGrounds(x), "; ")))
}

func overriddenGrounds(x engine.Overridden) []string {
	var out []string
	for _, g := range x.Because {
		out = append(out, clean(GroundWords(g)))
	}
	return out
}

// withOverridden joins lists of several designs, each figure of a region once.
func withOverridden(list, more []engine.Overridden) []engine.Overridden {
	for _, x := range more {
		if !slices.ContainsFunc(list, func(o engine.Overridden) bool { return o.What == x.What && o.Region == x.Region && o.To == x.To }) {
			list = append(list, x)
		}
	}
	return list
}

func markdownOverridden(b *bufio.Writer, list []engine.Overridden) {
	if len(list) == 0 {
		return
	}
	fmt.Fprint(b, "\n### Figures that are others where a design is used\n\n")
	for _, x := range list {
		fmt.Fprintf(b, "- %s\n", MarkdownText(overriddenWords(x)))
	}
}

func (l *layout) overridden(list []engine.Overridden) []Overridden {
	var out []Overridden
	for _, x := range list {
		out = append(out, Overridden{What: x.What, From: x.From, To: x.To, Region: x.Region, Because: newReasons(x.Because), Place: l.place(x.Place)})
	}
	return out
}
