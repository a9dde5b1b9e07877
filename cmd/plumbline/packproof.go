package main

import (
	"errors"
	"fmt"

	"plumbline/engine"
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
func (c *Command) measure(lib *library, dirs, rules []string) (*engine.Measurement, error) {
	folders := lib.folders[:1]
	if len(dirs) > 0 {
		folders = lib.folders[1:]
	}
	var equals []engine.Equal
	for _, folder := range folders {
		more, err := engine.Equals(folder)
		var problems document.Problems
		switch {
		case errors.As(err, &problems):
			c.showProblems(problems, nil)
			return nil, failure(fmt.Errorf("the list of mistakes without effect has %s", counted(len(problems), "problem")))
		case err != nil:
			return nil, failure(err)
		}
		equals = append(equals, more...)
	}
	m, err := lib.Only(rules...).Measure(equals)
	if err != nil {
		return nil, failure(err)
	}
	return m, nil
}

// showTotals prints what was measured, a line each.
func (c *Command) showTotals(m *engine.Measurement, wrong int, o proofOptions) {
	if o.summary {
		fmt.Fprintf(c.Stdout, "cases %d, wrong %d\n", m.Cases, wrong)
		fmt.Fprintf(c.Stdout, "parts %d, shown both ways %d, %s\n", m.Parts, m.Shown, percent(m.Shown, m.Parts))
		fmt.Fprintf(c.Stdout, "mutants %d, noticed %d, %s, without effect %d\n", m.Mutants, m.Killed, percent(m.Killed, m.Mutants), m.Listed)
		return
	}
	fmt.Fprintf(c.Stdout, "%s in %s; %s.\n", counted(m.Cases, "case"), counted(len(m.Rules), "rule"), wrongWords(wrong))
	fmt.Fprintf(c.Stdout, "%s; the cases show %d of them both true and false, %s.\n", counted(m.Parts, "part"), m.Shown, percent(m.Shown, m.Parts))
	listed := ""
	if m.Listed > 0 {
		listed = fmt.Sprintf("; %d more listed as without effect", m.Listed)
	}
	fmt.Fprintf(c.Stdout, "%s tried; the cases notice %d of them, %s%s.\n", counted(m.Mutants, "mistake"), m.Killed, percent(m.Killed, m.Mutants), listed)
}

// showGaps prints the parts not shown both ways, and the mistakes no case notices if they are wanted.
func (c *Command) showGaps(m *engine.Measurement, o proofOptions) {
	if o.summary {
		return
	}
	gap := func(place schema.Place, rule, text string) {
		fmt.Fprintln(c.Stdout, visible(fmt.Sprintf("%s: %s, %s", place, rule, text)))
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
		fmt.Fprintf(c.Stdout, "\n%s would pass unnoticed; --mutants lists them.\n", counted(m.Mutants-m.Killed, "mistake"))
		return
	}
	fmt.Fprintln(c.Stdout, "\nMistakes no case notices:")
	for _, r := range m.Rules {
		for _, s := range r.Survivors {
			gap(s.Place, s.Rule, s.Mutation)
		}
	}
}

// percent writes a share, rounded down so that only all is 100 %.
func percent(part, whole int) string {
	if whole == 0 || part == whole {
		return "100 %"
	}
	tenths := part * 1000 / whole
	return fmt.Sprintf("%d.%d %%", tenths/10, tenths%10)
}
