package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func (g *glossary) pack(p *pack.Pack) explanation {
	x := explanation{Name: p.Pack, Kind: "pack", Title: p.Title}
	x.add("Edition", fmt.Sprint(p.Edition))
	x.add("Part of the vehicle", p.Part)
	x.add("Only in", strings.Join(p.Regions, ", "))
	var rules []string
	for i := range p.Rules {
		rules = append(rules, p.Rules[i].ID+": "+p.Rules[i].Title)
	}
	x.add("Rules", rules...)
	x.add("Facts it declares", owned(p, p.Facts.Keys())...)
	x.add("Values it declares", owned(p, p.Values.Keys())...)
	x.add("Limits", strings.Join(p.Limits.Keys(), ", "))
	x.add("Tables", strings.Join(p.Tables.Keys(), ", "))
	return x
}

func (g *glossary) rule(p *pack.Pack, r *pack.Rule) explanation {
	x := explanation{Name: p.Pack + "." + r.ID, Kind: "rule", Title: r.Title}
	x.add("At stake", cmp.Or(r.Danger.Words(), "nothing dangerous"))
	x.add("Stops the job once it is", strings.ReplaceAll(r.Due, "_", " "))
	for _, e := range r.Each {
		x.add("Judges each", e.Key+" of "+e.Value.Text)
	}
	x.add("Is about", r.About)
	if r.Applies != nil {
		x.add("Applies when", r.Applies.Text)
	}
	for _, l := range r.Let {
		x.add("With "+l.Key, l.Value.Text)
	}
	if r.Measure != nil {
		x.add("Measures", r.Measure.Text)
	}
	x.add("Must be", testText(r.Must)...)
	x.add("Should be", testText(r.Should)...)
	x.add("Changed", g.changes(x.Name)...)
	x.add("When met", r.Met)
	x.add("Says", r.Say)
	x.add("Do", r.Mend.Lines()...)
	for _, caution := range g.library.CautionsOf(x.Name) {
		x.add("Take care", caution.Text)
	}
	x.add("Take care", report.LocalCodes)
	x.add("Why", g.reasons(p, r.Because)...)
	g.regional(&x, p, r)
	x.add("Catches", report.FailureWords(g.failures, r.Covers)...)
	var limits, tables []string
	for _, l := range p.Limits {
		if mentions(r, "limit."+l.Key) {
			limits = append(limits, "limit."+l.Key+" is "+g.limits[p.Pack+"."+l.Key].Value.Text+": "+strings.Join(g.reasons(p, l.Value.Because), "; "))
		}
	}
	for _, t := range p.Tables {
		if mentions(r, "table."+t.Key) {
			tables = append(tables, "table."+t.Key+", "+counted(len(t.Value.Rows), "row")+" by "+t.Value.Key+": "+strings.Join(g.reasons(p, t.Value.Because), "; "))
		}
	}
	x.add("Limits", limits...)
	x.add("Tables", tables...)
	var cases []string
	for _, c := range r.Cases {
		cases = append(cases, c.Name+": "+c.Expect)
	}
	x.add("Proved by "+counted(len(r.Cases), "case"), cases...)
	return x
}

// changes tells what local packs make of a rule.
func (g *glossary) changes(rule string) []string {
	var out []string
	for _, p := range g.library.Packs() {
		for _, a := range p.Raise {
			if a.Rule == rule {
				out = append(out, "the should is a must here, raised by "+p.Pack+": "+a.Reason)
			}
		}
		for _, a := range p.Loosen {
			if a.Rule == rule {
				out = append(out, "the must is a should here, loosened by "+p.Pack+": "+a.Reason)
			}
		}
	}
	return out
}

// mentions reports whether an expression of the rule names a limit or table.
func mentions(r *pack.Rule, name string) bool {
	texts := append([]string{r.Say}, r.Mend.Lines()...)
	for _, e := range r.Each {
		texts = append(texts, e.Value.Text)
	}
	for _, e := range []*pack.Expression{r.Applies, r.Measure} {
		if e != nil {
			texts = append(texts, e.Text)
		}
	}
	for _, l := range r.Let {
		texts = append(texts, l.Value.Text)
	}
	texts = append(append(texts, testText(r.Must)...), testText(r.Should)...)
	for _, t := range texts {
		for rest := t; ; {
			_, after, found := strings.Cut(rest, name)
			if !found {
				break
			}
			if after == "" || !strings.ContainsAny(after[:1], "abcdefghijklmnopqrstuvwxyz0123456789_") {
				return true
			}
			rest = after
		}
	}
	return false
}

func testText(t *pack.Test) []string {
	switch {
	case t == nil:
		return nil
	case t.Condition != nil:
		return []string{t.Condition.Text}
	}
	var out []string
	for _, b := range t.Bounds {
		out = append(out, strings.ReplaceAll(b.Op, "_", " ")+" "+b.Value.Text)
	}
	return out
}

// regional adds what a rule is in its region.
func (g *glossary) regional(x *explanation, p *pack.Pack, r *pack.Rule) {
	if len(p.Regions) == 0 {
		return
	}
	x.add("Region", strings.Join(p.Regions, ", ")+", "+report.ConsequenceWords(r.Consequence, g.library.KnownFrom(p.Pack+"."+r.ID)))
	x.add("Takes the place of", r.InsteadOf...)
	confirm := r.Confirm
	for _, region := range g.library.Regions() {
		if confirm == "" && region.Name == p.Regions[0] {
			confirm = region.Confirm
		}
	}
	x.add("Confirm", confirm)
}

// region explains a region.
func (g *glossary) region(r *pack.Region) explanation {
	x := explanation{Name: r.Name, Kind: "region", Title: r.Title}
	if r.Within != "" {
		x.add("Within", r.Within)
	}
	x.add("Decided by", r.DecidedBy)
	x.add("Confirm", r.Confirm)
	var packs []string
	for _, p := range g.library.Packs() {
		if slices.Contains(p.Regions, r.Name) {
			packs = append(packs, fmt.Sprintf("%s: %s, %s", p.Pack, p.Title, counted(len(p.Rules), "rule")))
		}
	}
	x.add("Packs", packs...)
	var topics []string
	for _, t := range g.library.TopicsOf(r.Name) {
		topics = append(topics, t.Topic.Words()+": "+cmp.Or(t.Without, strings.Join(t.Rules, ", ")))
	}
	x.add("What of its law was read", topics...)
	return x
}

// failure explains one way in which a conversion is known to fail.
func (g *glossary) failure(f *report.Failure) explanation {
	x := explanation{Name: f.ID, Kind: "known failure", Title: f.Words}
	var rules []string
	for _, p := range g.library.Packs() {
		for i := range p.Rules {
			if slices.Contains(p.Rules[i].Covers, f.ID) {
				rules = append(rules, p.Pack+"."+p.Rules[i].ID+": "+p.Rules[i].Title)
			}
		}
	}
	x.add("Caught by", rules...)
	x.add("No rule can catch it", f.Unseen)
	return x
}

// source explains a document that packs cite.
func (g *glossary) source(name string, s *pack.Source) explanation {
	x := explanation{Name: name, Kind: "source", Title: s.Title}
	x.add("Standing", s.Kind)
	x.add("Edition", s.Edition)
	x.add("Read", map[string]string{"text": "in the text itself", "mirror": "in a mirror of it", "secondary": "in a page that tells of it", "memory": "not; told from memory"}[s.Read]+", "+s.Seen)
	x.add("Law in", strings.Join(s.In, ", "))
	var users []string
	cites := func(list []pack.Reason) bool {
		return slices.ContainsFunc(list, func(r pack.Reason) bool { return r.Source == name })
	}
	for _, p := range g.library.Packs() {
		for i := range p.Rules {
			if cites(p.Rules[i].Because) {
				users = append(users, p.Pack+"."+p.Rules[i].ID)
			}
		}
		for i := range p.Limits {
			if cites(p.Limits[i].Value.Because) {
				users = append(users, p.Pack+".limit."+p.Limits[i].Key)
			}
		}
		for i := range p.Tables {
			if cites(p.Tables[i].Value.Because) {
				users = append(users, p.Pack+".table."+p.Tables[i].Key)
			}
		}
	}
	x.add("Cited by", users...)
	return x
}

func (g *glossary) limit(p *pack.Pack, e *pack.Entry[pack.Limit]) explanation {
	x := explanation{Name: p.Pack + ".limit." + e.Key, Kind: "limit", Title: e.Value.Is.Text}
	now := g.limits[p.Pack+"."+e.Key]
	if len(now.Steps) > 1 {
		x.Title = now.Value.Text
		var steps []string
		for _, s := range now.Steps {
			steps = append(steps, limitStep(s))
		}
		x.add("Where it comes from", steps...)
	}
	if now.Stricter != "" {
		x.add("Stricter", "when it is "+now.Stricter)
	}
	why := "Why"
	if len(now.Steps) > 1 {
		why = "Why it was " + e.Value.Is.Text // the steps have the reasons of what it is now
	}
	x.add(why, g.reasons(p, e.Value.Because)...)
	var users []string
	for i := range p.Rules {
		if mentions(&p.Rules[i], "limit."+e.Key) {
			users = append(users, p.Pack+"."+p.Rules[i].ID)
		}
	}
	x.add("Used by", users...)
	return x
}

func (g *glossary) table(p *pack.Pack, e *pack.Entry[pack.Table]) explanation {
	x := explanation{Name: p.Pack + ".table." + e.Key, Kind: "table", Title: counted(len(e.Value.Rows), "row") + " by " + e.Value.Key}
	var columns []string
	for _, c := range e.Value.Columns {
		columns = append(columns, c.Key+", "+c.Value)
	}
	x.add("Columns", columns...)
	var rows []string
	for _, row := range e.Value.Rows {
		parts := []string{row[e.Value.Key].Text}
		for _, c := range e.Value.Columns {
			if cell, ok := row[c.Key]; ok {
				parts = append(parts, c.Key+" "+cell.Text)
			}
		}
		rows = append(rows, strings.Join(parts, ", "))
	}
	x.add("Rows", rows...)
	x.add("Why", g.reasons(p, e.Value.Because)...)
	return x
}

// reasons say the reasons of a figure with the titles of their sources.
func (g *glossary) reasons(p *pack.Pack, list []pack.Reason) []string {
	var out []string
	for _, r := range list {
		ground := engine.Ground{For: r.For}
		switch {
		case r.Practice != "":
			ground.Standing, ground.Text = "practice", r.Practice
		case r.Memory != "":
			ground.Standing, ground.Text = "memory", r.Memory
		case r.Physics != "":
			ground.Standing, ground.Text = "physics", r.Physics
		default:
			s, ok := p.Sources.Get(r.Source)
			if !ok {
				shared := g.library.Shared()
				s, _ = shared.Get(r.Source)
			}
			ground.Standing, ground.Text = s.Kind, s.Title
			if s.Kind == "law" && len(p.Regions) == 0 {
				ground.Standing = "law_elsewhere"
			}
			if r.Where != "" {
				ground.Text += ", " + r.Where
			}
		}
		out = append(out, report.GroundWords(ground))
	}
	return out
}

func derivedValue(e *derive.Entry) explanation {
	x := explanation{Name: e.Name, Kind: "derived value", Title: e.Meaning}
	if e.On != "Design" {
		x.Name = e.On + "." + e.Name
	}
	switch e.Kind {
	case derive.Quantity:
		x.add("Is", "a quantity of "+strings.ReplaceAll(e.Dimension.String(), "_", " "))
	case derive.Number:
		x.add("Is", "a number")
	case derive.Truth:
		x.add("Is", "yes or no")
	case derive.Text:
		x.add("Is", "a word: "+strings.Join(e.Words, ", "))
	}
	if e.PerPoint {
		var names []string
		for _, p := range derive.Points() {
			names = append(names, p.String())
		}
		x.add("At", strings.Join(names, ", "))
	}
	x.add("Formula", e.Formula)
	x.add("Needs", strings.Join(e.Needs, ", "))
	var sources []string
	for _, s := range e.Sources {
		text := s.Title
		if s.Where != "" {
			text += ", " + s.Where
		}
		sources = append(sources, report.GroundWords(engine.Ground{Standing: s.Kind, Text: text}))
	}
	x.add("Source", sources...)
	return x
}

func (g *glossary) fact(path string, d schema.Description) explanation {
	x := explanation{Name: path, Kind: "fact", Title: d.Doc}
	field := d.Field
	if field.Part != "" {
		x.Kind = "part of a design"
	}
	x.add("Is", "a "+field.Kind.String())
	if field.Low != "" || field.High != "" {
		x.add("From", field.Low+" to "+field.High)
	}
	x.add("Words", strings.Join(d.Words, ", "))
	if d.Example != "" {
		x.add("Write", field.Key+": "+d.Example)
	}
	switch {
	case field.Kind == schema.KindQuantity:
		x.add("Or a range", field.Key+": "+quantity.RangeExample(field.Dimension))
	case field.Kind == schema.KindInt && field.Low != field.High:
		x.add("Or a range", field.Key+": "+field.Low+".."+field.High)
	}
	if strings.Contains(path, ".") {
		if row := g.library.Declared().Said(path); row != nil {
			x.add("Called", row.Label)
			x.add("To find it", row.How)
			x.add("Usual", row.Normal)
			x.add("While it is not known", row.Unknown)
		}
	}
	x.add("Holds", g.keysOf(path)...)
	if i := strings.LastIndexByte(path, '.'); field.Part == "" && i > 0 {
		rules, values := g.library.Readers(g.library.Declared().TypeAt(path[:i]), path[i+1:])
		x.add("Rules that read it", rules...)
		x.add("Values worked out from it", values...)
		if len(rules)+len(values) == 0 {
			x.add("Read by", "no rule and no value; it is there for whoever reads the design")
		}
	}
	return x
}

// keysOf lists the keys of the part at a path.
func (g *glossary) keysOf(path string) []string {
	name := g.library.Declared().TypeAt(path)
	var out []string
	for _, f := range g.library.Declared().FieldsOf(name) {
		out = append(out, f.Key+": "+g.library.Declared().Describe(path+"."+f.Key).Doc)
	}
	return out
}

// owned are names as a design and rules write them, of what a pack declares.
func owned(p *pack.Pack, keys []string) []string {
	out := make([]string, len(keys))
	for i, key := range keys {
		out[i] = "own." + p.OwnName() + "." + key
	}
	return out
}

// ownValue explains a derived value that a pack declares.
func (g *glossary) ownValue(v *engine.OwnValue) explanation {
	x := derivedValue(v.Entry)
	x.Name = v.Path
	x.add("Declared by", v.Pack.Pack+" ("+v.Place.String()+")")
	rules, values := g.library.Readers(v.Entry.On, v.Entry.Name)
	x.add("Rules that read it", rules...)
	x.add("Values worked out from it", values...)
	return x
}
