package main

import (
	"errors"
	"fmt"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/proof"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
)

// proofOptions say what of a measurement is printed.
type proofOptions struct {
	// mutants lists the mistakes no case notices.
	mutants bool
	// summary prints the totals alone, a line each.
	summary bool
}

// measure measures the rules of a library by their cases.
func (c *Command) measure(lib *shop.Library, dirs, rules []string) (*proof.Measurement, error) {
	folders := lib.Folders[:1]
	if len(dirs) > 0 {
		folders = lib.Folders[1:]
	}
	var equals []proof.Equal
	for _, folder := range folders {
		more, err := proof.Equals(folder)
		var problems document.Problems
		switch {
		case errors.As(err, &problems):
			c.showProblems(problems, nil)
			return nil, exit.Failure(fmt.Errorf("the list of mistakes without effect has %s", shop.Counted(len(problems), "problem")))
		case err != nil:
			return nil, exit.Failure(err)
		}
		equals = append(equals, more...)
	}
	m, err := proof.Measure(lib.Only(rules...), equals)
	if err != nil {
		return nil, exit.Failure(err)
	}
	return m, nil
}

// showTotals prints what was measured, a line each.
func (c *Command) showTotals(m *proof.Measurement, wrong int, o proofOptions) {
	if o.summary {
		fmt.Fprintf(c.Stdout, "cases %d, wrong %d\n", m.Cases, wrong)
		fmt.Fprintf(c.Stdout, "parts %d, shown both ways %d, %s\n", m.Parts, m.Shown, percent(m.Shown, m.Parts))
		fmt.Fprintf(c.Stdout, "mutants %d, noticed %d, %s, without effect %d\n", m.Mutants, m.Killed, percent(m.Killed, m.Mutants), m.Listed)
		return
	}
	fmt.Fprintf(c.Stdout, "%s in %s; %s.\n", shop.Counted(m.Cases, "case"), shop.Counted(len(m.Rules), "rule"), wrongWords(wrong))
	fmt.Fprintf(c.Stdout, "%s; the cases show %d of them both true and false, %s.\n", shop.Counted(m.Parts, "part"), m.Shown, percent(m.Shown, m.Parts))
	listed := ""
	if m.Listed > 0 {
		listed = fmt.Sprintf("; %d more listed as without effect", m.Listed)
	}
	fmt.Fprintf(c.Stdout, "%s tried; the cases notice %d of them, %s%s.\n", shop.Counted(m.Mutants, "mistake"), m.Killed, percent(m.Killed, m.Mutants), listed)
}

// showGaps prints the parts not shown both ways, and the mistakes no case notices if they are wanted.
func (c *Command) showGaps(m *proof.Measurement, o proofOptions) {
	if o.summary {
		return
	}
	gap := func(place schema.Place, rule, text string) {
		fmt.Fprintf(c.Stdout, "%s: %s, %s\n", place, rule, text)
	}
	if m.Shown < m.Parts {
		fmt.Fprintln(c.Stdout, "\nParts not shown both ways:")
	}
	for _, r := range m.Rules {
		for _, p := range r.Unseen {
			gap(p.Place, p.Rule, fmt.Sprintf("%s: %s: never %s", p.Of, p.Text, p.Missing()))
		}
	}
	switch {
	case m.Killed == m.Mutants:
		return
	case !o.mutants:
		fmt.Fprintf(c.Stdout, "\n%s would pass unnoticed; --mutants lists them.\n", shop.Counted(m.Mutants-m.Killed, "mistake"))
		return
	}
	fmt.Fprintln(c.Stdout, "\nMistakes no case notices:")
	for _, r := range m.Rules {
		for _, s := range r.Survivors {
			gap(s.Place, s.Rule, s.Mutation)
		}
	}
}

// showCoverage prints how many of the known failures the built-in rules catch.
func (c *Command) showCoverage(lib *shop.Library, o proofOptions) error {
	failures, err := report.ReadFailures(lib.Folders...)
	if err != nil {
		return exit.Failure(err)
	}
	if len(failures) == 0 {
		return nil
	}
	n := report.Covered(lib.Library, failures)
	if o.summary {
		fmt.Fprintf(c.Stdout, "known failures %d, caught by a rule %d, none can %d\n", n.Known, n.Caught, n.Unseen)
		return nil
	}
	fmt.Fprintf(c.Stdout, "%s; a rule catches %d of them, and for %d stands why none can.\n", shop.Counted(n.Known, "known failure"), n.Caught, n.Unseen)
	return nil
}

// showShort says where the cases prove too little and what to do about it, and counts what it says.
func (c *Command) showShort(m *proof.Measurement) int {
	said := 0
	if unseen := m.Parts - m.Shown; unseen > 0 {
		said++
		fmt.Fprintf(c.Stderr, "The cases do not show every part both true and false: %s missing, in %s.\n"+
			"Add cases that turn the parts plumbline pack check lists.\n",
			shop.Counted(unseen, "part"), rulesWith(m, func(r *proof.RuleMeasurement) int { return len(r.Unseen) }))
	}
	if !m.NoticesEnough() {
		said++
		fmt.Fprintf(c.Stderr, "The cases notice too few mistakes: %s, and %d %% is asked; some escape in %s.\n"+
			"Add cases that notice those plumbline pack check --mutants lists, or write them in survivors.txt if they make no difference to any design.\n",
			percent(m.Killed, m.Mutants), proof.LeastNoticed, rulesWith(m, func(r *proof.RuleMeasurement) int { return len(r.Survivors) }))
	}
	return said
}

// mostNamed are the rules named in a line, the others counted.
const mostNamed = 5

// rulesWith names the rules that have some of what is counted.
func rulesWith(m *proof.Measurement, count func(*proof.RuleMeasurement) int) string {
	var names []string
	more := 0
	for i := range m.Rules {
		switch {
		case count(&m.Rules[i]) == 0:
		case len(names) == mostNamed:
			more++
		default:
			names = append(names, m.Rules[i].Rule)
		}
	}
	out := strings.Join(names, ", ")
	if more > 0 {
		out += fmt.Sprintf(" and %s more", shop.Counted(more, "rule"))
	}
	return out
}

// percent writes a share, rounded down so that only all is 100 %.
func percent(part, whole int) string {
	if whole == 0 || part == whole {
		return "100 %"
	}
	tenths := part * 1000 / whole
	return fmt.Sprintf("%d.%d %%", tenths/10, tenths%10)
}
