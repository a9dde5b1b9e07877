package reference

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
	"plumbline/schema"
)

// section is a part of a design with the records of its facts.
type section struct {
	name  string
	facts []glossary.Record
}

// facts are the records of all facts, by the section of a design they stand in. A part that stands at several places is
// told once.
func (b *book) facts() []section {
	var out []section
	twins := map[string]bool{}
	for _, n := range explain.Facts() {
		if twins[n.Twin] {
			continue
		}
		twins[n.Twin] = true
		name := schema.Path(n.Name).Section()
		if len(out) == 0 || out[len(out)-1].name != name {
			out = append(out, section{name: name})
		}
		s := &out[len(out)-1]
		for _, r := range b.glossary.Find(n.Name) {
			s.facts = append(s.facts, r)
			b.places[n.Name] = factPage(name) + "#" + anchor(n.Name)
		}
	}
	return out
}

func factPage(section string) string { return "facts/" + section + ".md" }

// writeFacts writes a page for each section of a design.
func (b *book) writeFacts(list []section) {
	for _, s := range list {
		title := schema.Describe("design." + s.name).Doc
		p := newPage(factPage(s.name), "Facts of a design: "+s.name)
		fmt.Fprintf(p, "%s [All facts](../../%s#facts).\n", report.MarkdownText(title), Index)
		for _, r := range s.facts {
			fmt.Fprintf(p, "\n## %s\n\n%s\n\n", report.MarkdownText(r.Name), report.MarkdownText(r.Title))
			for _, f := range r.Facets {
				switch f.Label {
				case "Holds": // each has a heading of its own
				case "Rules that read it", "Values worked out from it":
					fmt.Fprintf(p, "- %s: %s\n", f.Label, b.links(p, f.Text))
				default:
					facet(p, f)
				}
			}
		}
		b.done(p)
	}
}

func valuePage(name string) string {
	on, _, has := strings.Cut(name, ".")
	if !has {
		on = "Design"
	}
	return "values/" + strings.ToLower(on) + ".md"
}

// writeValues writes a page for each kind of part that has derived values.
func (b *book) writeValues(list []glossary.Record) {
	pages := map[string]*page{}
	for _, r := range list {
		name := valuePage(r.Name)
		p := pages[name]
		if p == nil {
			on, _, has := strings.Cut(r.Name, ".")
			if !has {
				on = "the whole vehicle"
			}
			p = newPage(name, "Values worked out of "+on)
			fmt.Fprintf(p, "[All values](../../%s#derived-values).\n", Index)
			pages[name] = p
		}
		fmt.Fprintf(p, "\n## %s\n\n%s\n\n", report.MarkdownText(r.Name), report.MarkdownText(capital(r.Title)))
		for _, f := range r.Facets {
			switch f.Label {
			case "Rules that read it":
				fmt.Fprintf(p, "- %s: %s\n", f.Label, b.links(p, f.Text))
			case "Needs":
				names := strings.Split(f.Text[0], ", ")
				fmt.Fprintf(p, "- %s: %s\n", f.Label, b.links(p, names))
			default:
				facet(p, f)
			}
		}
	}
	for _, p := range pages {
		b.done(p)
	}
}

// sortedPages are the names of the pages of a folder.
func (b *book) sortedPages(folder string) []string {
	var out []string
	for name := range b.pages {
		if strings.HasPrefix(name, Folder+"/"+folder+"/") {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}
