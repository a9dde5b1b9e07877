package explain

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/words"
)

// Names lists what can be explained by its name: what a library has, the facts
// of a design and the values derived from them.
func Names(l *engine.Library) []Named {
	var out []Named
	for _, t := range Topics() {
		n := Named{Name: t.Name, Kind: "topic", Title: t.Title, Also: t.Also}
		for i := range t.Sections {
			n.Text += " " + strings.Join(t.Sections[i].Lines(), " ")
		}
		out = append(out, n)
	}
	for _, r := range l.Regions() {
		out = append(out, Named{Name: r.Name, Kind: "region", Title: r.Title})
	}
	for _, p := range l.Packs() {
		out = append(out, Named{Name: p.Pack, Kind: "pack", Title: p.Title})
		for i := range p.Rules {
			r := &p.Rules[i]
			out = append(out, Named{Name: p.Pack + "." + r.ID, Kind: "rule", Title: r.Title, Also: r.Covers, Text: ruleText(r)})
		}
		for i := range p.Limits {
			e := &p.Limits[i]
			out = append(out, Named{Name: "limit." + e.Key, Kind: "limit", Title: e.Value.Is.Text, Text: reasonText(e.Value.Because), Twin: "limit " + e.Key})
		}
		for i := range p.Tables {
			e := &p.Tables[i]
			n := Named{Name: "table." + e.Key, Kind: "table", Title: fmt.Sprintf("%d rows by %s", len(e.Value.Rows), e.Value.Key), Text: reasonText(e.Value.Because)}
			for _, row := range e.Value.Rows {
				n.Also = append(n.Also, row[e.Value.Key].Text)
			}
			out = append(out, n)
		}
		for i := range p.Troubles {
			t := &p.Troubles[i]
			out = append(out, Named{Name: p.Pack + "." + t.ID, Kind: "trouble", Title: t.Title, Text: t.Signs + " " + t.Confirm + " " + t.Mend + " " + reasonText(t.Because)})
		}
		out = append(out, sources(p.Sources)...)
	}
	out = append(out, sources(l.Shared())...)
	for _, e := range derive.All().Entries() {
		name := "at.full_load." + e.Name
		switch {
		case e.On != "Design":
			name = e.On + "." + e.Name
		case !e.PerPoint:
			name = "design." + e.Name
		}
		out = append(out, Named{Name: name, Kind: "derived value", Title: e.Meaning, Text: e.Formula})
	}
	for _, v := range l.Values() {
		out = append(out, Named{Name: v.Path, Kind: "derived value", Title: v.Entry.Meaning, Text: v.Entry.Formula})
	}
	return append(append(out, Facts()...), OwnFacts(l.Declared())...)
}

// OwnFacts are the facts that packs declare.
func OwnFacts(d *schema.Declared) []Named {
	var out []Named
	for _, g := range d.Groups() {
		for _, f := range g.Facts {
			path := g.PathOf(f.Key)
			out = append(out, said(Named{Name: path, Kind: "fact", Title: f.Doc}, d.Said(path)))
		}
	}
	return out
}

// said adds what people say for a fact, part or list.
func said(n Named, row *words.Row) Named {
	n.Also = append(append(n.Also, row.Label), row.Spoken...)
	for _, v := range row.Values {
		n.Also = append(append(n.Also, v.Word, v.Label), v.Spoken...)
	}
	n.Text = row.How
	return n
}

func sources(list pack.Named[pack.Source]) []Named {
	var out []Named
	for i := range list {
		out = append(out, Named{Name: list[i].Key, Kind: "source", Title: list[i].Value.Title, Twin: "source " + list[i].Key})
	}
	return out
}

func ruleText(r *pack.Rule) string {
	return strings.Join(append(r.Mend.Lines(), r.Say, reasonText(r.Because)), " ")
}

func reasonText(list []pack.Reason) string {
	var out []string
	for _, r := range list {
		out = append(out, r.Practice, r.Memory, r.Physics)
	}
	return strings.Join(out, " ")
}

// Facts are every fact, part and list of a design by its path, list indices written [], with the words people say for them.
func Facts() []Named {
	types := map[string]schema.TypeInfo{}
	for _, t := range schema.Types() {
		types[t.Name] = t
	}
	var out []Named
	var visit func(typeName, base string)
	visit = func(typeName, base string) {
		for _, f := range types[typeName].Fields {
			path := base + "." + f.Key
			n := Named{Name: path, Kind: "fact", Title: schema.Doc(typeName, f.Key), Twin: typeName + "." + f.Key}
			if f.Part != "" {
				n.Kind = "part of a design"
			}
			if row := words.Of(typeName, f.Key); row != nil {
				n = said(n, row)
			} else {
				n.Also = append(n.Also, f.Words...)
			}
			out = append(out, n)
			if f.Part == "" {
				continue
			}
			if f.Kind == schema.KindList {
				path += "[]"
			}
			visit(f.Part, path)
		}
	}
	visit("Design", "design")
	return out
}
