package reference

import (
	"fmt"
	"strings"

	"plumbline/engine/glossary"
	"plumbline/engine/pack"
	"plumbline/engine/report"
)

// asCode are the facets of a record that hold what is written in a file.
var asCode = map[string]bool{"Judges each": true, "Is about": true, "Applies when": true, "Measures": true, "Must be": true, "Should be": true, "Write": true, "Or a range": true, "Formula": false}

// leftOut are the facets of a rule that its pages have in another place, or that every rule has.
var leftOut = map[string]bool{"Take care": true, "Region": true, "Changed": true}

// pack writes the page of a pack: its rules one after the other.
func (b *book) pack(p *pack.Pack, of glossary.Record) {
	out := newPage(packPage(p.Pack), p.Pack+": "+p.Title)
	fmt.Fprintf(out, "Edition %d, listed under %s.", p.Edition, report.MarkdownText(p.Part))
	if len(p.Regions) > 0 {
		fmt.Fprintf(out, " Only in %s.", report.MarkdownText(strings.Join(p.Regions, ", ")))
	}
	if x := p.Region; x != nil {
		within := ""
		if x.Within != "" {
			within = ", within " + x.Within
		}
		fmt.Fprintf(out, "\n\nRegion `%s`, %s%s: what holds is decided by %s. %s", x.Name, report.MarkdownText(x.Title), within, report.MarkdownText(x.DecidedBy), report.MarkdownText(x.Confirm))
	}
	fmt.Fprintf(out, " [All packs](../../%s).\n\n", Index)
	for i := range p.Rules {
		fmt.Fprintf(out, "- [%s](#%s): %s\n", p.Rules[i].ID, anchor(p.Rules[i].ID), report.MarkdownText(p.Rules[i].Title))
	}
	for i := range p.Rules {
		b.rule(out, &p.Rules[i], b.rules[p.Pack+"."+p.Rules[i].ID])
	}
	b.done(out)
}

// rule writes one rule from its record.
func (b *book) rule(p *page, r *pack.Rule, of glossary.Record) {
	fmt.Fprintf(p, "\n## %s\n\n%s\n\n", r.ID, report.MarkdownText(of.Title))
	for _, f := range of.Facets {
		switch {
		case leftOut[f.Label]:
		case strings.HasPrefix(f.Label, "Proved by"):
			fmt.Fprintf(p, "- %s\n", f.Label)
		case f.Label == "Takes the place of":
			fmt.Fprintf(p, "- %s %s\n", f.Label, b.links(p, f.Text))
		default:
			facet(p, f)
		}
	}
	if consequence := of.Facet("Region"); consequence != nil {
		fmt.Fprintf(p, "- In its region: %s\n", report.MarkdownText(strings.Join(consequence, "; ")))
	}
}

// facet writes one thing that is said, a line each where there are several.
func facet(p *page, f glossary.Facet) {
	said := report.MarkdownText
	if asCode[f.Label] || strings.HasPrefix(f.Label, "With ") {
		said = code
	}
	var texts []string
	for _, t := range f.Text {
		texts = append(texts, said(t))
	}
	if len(texts) == 1 {
		fmt.Fprintf(p, "- %s: %s\n", report.MarkdownText(f.Label), texts[0])
		return
	}
	fmt.Fprintf(p, "- %s:\n  - %s\n", report.MarkdownText(f.Label), strings.Join(texts, "\n  - "))
}
