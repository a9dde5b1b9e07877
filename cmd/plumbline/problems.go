package main

import (
	"fmt"
	"strings"

	"plumbline/schema/document"
)

// showProblems prints what is wrong with a file on stderr, each problem with
// the line it is about. The line is left out when data is not at hand.
func (c *Command) showProblems(problems document.Problems, data []byte) {
	lines := strings.Split(string(data), "\n")
	for _, p := range problems {
		fmt.Fprintln(c.Stderr, p.String())
		if data != nil && p.Place.Line > 0 && p.Place.Line <= len(lines) {
			if shown := markedLine(lines[p.Place.Line-1], p); shown != "" {
				fmt.Fprintf(c.Stderr, "    line %d:  %s\n", p.Place.Line, shown)
			}
		}
	}
}

// widestLine is how much of an offending line is repeated, in characters.
const widestLine = 90

// markedLine is the line of a problem with the offending text between >> and <<;
// of a long line only the part around it.
func markedLine(line string, p document.Problem) string {
	runes := []rune(strings.TrimRight(line, "\r"))
	from := min(max(p.Place.Column-1, 0), len(runes))
	to := from + document.Width(string(runes), p.Place.Column, p.Text)
	begin, end := 0, len(runes)
	if end > widestLine {
		begin = max(0, from-widestLine/3)
		end = min(len(runes), begin+widestLine)
		to = min(to, end)
	}
	out := string(runes[begin:from]) + ">>" + string(runes[from:to]) + "<<" + string(runes[to:end])
	return strings.TrimSpace(out)
}
