package main

import (
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
)

// topicNames lists the topics of the rule language.
func topicNames() string {
	var names []string
	for _, t := range explain.Topics() {
		names = append(names, t.Name)
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// printTopic tells one topic; it needs no pack.
func (c *Command) printTopic(t *explain.Topic, f explainFlags) error {
	x := glossary.Topic(t)
	if f.asJSON {
		return c.printJSON([]glossary.Record{x})
	}
	p := report.NewPrinter(c.Stdout, c.width(f.width), false)
	p.Para(0, 2, t.Name+": "+t.Title)
	for i := range t.Sections {
		s := &t.Sections[i]
		p.Blank()
		p.Para(0, 2, s.Heading)
		for _, line := range s.Lines() {
			p.Para(2, 4, line)
		}
		if s.Pack != "" {
			p.Blank()
		}
		for line := range strings.Lines(s.Pack) {
			p.Raw("    " + strings.TrimRight(line, "\n"))
		}
	}
	if err := p.Flush(); err != nil {
		return exit.Failure(err)
	}
	return nil
}
