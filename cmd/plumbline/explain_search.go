package main

import (
	"fmt"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
	"plumbline/schema/document"
)

// mostFound are the lines of a search.
const mostFound = 15

// looksLikeName reports whether a name was meant, not plain words: then a misspelling is an error.
func looksLikeName(asked string) bool { return strings.ContainsAny(asked, "./_[]") }

// mostBeside are what else speaks of a word that names a part of a design.
const mostBeside = 6

// beside tells what else speaks of a plain word, when that names but a part of a design.
func (c *Command) beside(g *glossary.Glossary, asked string, found []explanation, f explainFlags) error {
	if looksLikeName(asked) || len(found) != 1 || found[0].Kind != "part of a design" {
		return nil
	}
	x := g.Index().Search(asked, mostBeside+1)
	p := report.NewPrinter(c.Stdout, c.width(f.width), false)
	p.Blank()
	p.Para(0, 2, fmt.Sprintf("Of %q speak too:", document.Cut(asked)))
	told := 0
	for _, h := range x.Hits {
		if h.Name == found[0].Name || told == mostBeside {
			continue
		}
		told++
		p.Para(2, 4, hitLine(h, c.width(f.width)-2))
	}
	if more := len(x.Hits) + x.More - told - 1; more > 0 {
		p.Para(2, 4, fmt.Sprintf("and %d more: a further word narrows it", more))
	}
	if told == 0 {
		return nil
	}
	if err := p.Flush(); err != nil {
		return exit.Failure(err)
	}
	return nil
}

// hitLine is what was found, in one line.
func hitLine(h explain.Hit, width int) string {
	line := h.Name + ", " + h.Kind
	if h.By != "" {
		line += " (" + h.By + ")"
	}
	return clipped(line+": "+h.Title, width)
}

// search tells what plain words speak of, a line each.
func (c *Command) search(g *glossary.Glossary, asked string, f explainFlags) error {
	found := g.Index().Search(asked, mostFound)
	if len(found.Hits) == 0 {
		return exit.InputError("nothing is named %q or speaks of it; names are a rule (fuel/delivery.flow-at-full-load), a pack, limit.NAME, table.NAME, "+
			"a derived value (at.idle.fuel_demand), a fact (design.pump.curve), a region, a source, a known failure (FM062), or a finding's number with its design; topics are "+topicNames(),
			document.Cut(asked))
	}
	if f.asJSON {
		return c.printJSON(found)
	}
	width := c.width(f.width)
	p := report.NewPrinter(c.Stdout, width, false)
	head := fmt.Sprintf("Nothing is named %q; of it speak:", document.Cut(asked))
	if found.Taken != "" {
		head = fmt.Sprintf("Nothing is named %q; taken for %s, of it speak:", document.Cut(asked), found.Taken)
	}
	p.Para(0, 2, head)
	for _, h := range found.Hits {
		p.Para(2, 4, hitLine(h, width-2))
	}
	if found.More > 0 {
		p.Para(2, 4, fmt.Sprintf("and %d more: a further word narrows it", found.More))
	}
	p.Para(0, 2, "One of them: plumbline explain "+found.Hits[0].Name)
	if err := p.Flush(); err != nil {
		return exit.Failure(err)
	}
	return nil
}

// clipped is a text cut to one line.
func clipped(text string, width int) string {
	runes := []rune(text)
	if len(runes) <= width || width < 4 {
		return text
	}
	return strings.TrimRight(string(runes[:width-3]), " ,;:") + "..."
}
