package report

import (
	"bufio"
	"fmt"
	"slices"

	"plumbline/engine"
)

const takeCare = "Take care; local codes come first, and work they reserve to licensed trades is left to those"

// cautions prints the warnings that go with what was told above.
func (p *Printer) cautions(list []engine.CautionFound) {
	p.Blank()
	if len(list) == 0 {
		p.Para(0, 0, LocalCodes)
		return
	}
	p.Heading(takeCare)
	for _, c := range list {
		p.Para(indent, inner, clean(c.Text))
	}
}

// LocalCodes goes with everything that is printed: it closes a sheet that sends nobody to the vehicle, and every other format has it.
const LocalCodes = "Local codes come first, and work they reserve to licensed trades is left to those."

// markdownCautions lists the warnings of all designs of a run, each once.
func markdownCautions(b *bufio.Writer, list []engine.CautionFound) {
	fmt.Fprintf(b, "\n### Take care\n\n%s\n", LocalCodes)
	for i, c := range list {
		if i == 0 {
			fmt.Fprintln(b)
		}
		fmt.Fprintf(b, "- %s\n", MarkdownText(c.Text))
	}
}

// together adds cautions to a list that says each thing once.
func together(list, more []engine.CautionFound) []engine.CautionFound {
	for _, c := range more {
		if !slices.ContainsFunc(list, func(o engine.CautionFound) bool { return o.Text == c.Text }) {
			list = append(list, c)
		}
	}
	return list
}

// cautionsFor are the texts of the cautions that go with a finding that sends someone to the vehicle.
func cautionsFor(r *engine.Report, f *engine.Finding) []string {
	var out []string
	for _, c := range r.Cautions {
		if f.Sends() && slices.Contains(c.Rules, f.Rule) {
			out = append(out, clean(c.Text))
		}
	}
	return out
}
