package glossary

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

func (g *Glossary) pack(p *pack.Pack) Record {
	x := Record{Name: p.Pack, Kind: "pack", Title: p.Title}
	x.Add("Edition", fmt.Sprint(p.Edition))
	x.Add("Part of the vehicle", p.Part)
	x.Add("Only in", strings.Join(p.Regions, ", "))
	var rules []string
	for i := range p.Rules {
		rules = append(rules, p.Rules[i].ID+": "+p.Rules[i].Title)
	}
	x.Add("Rules", rules...)
	x.Add("Facts it declares", owned(p, p.Facts.Keys())...)
	x.Add("Values it declares", owned(p, p.Values.Keys())...)
	x.Add("Limits", strings.Join(p.Limits.Keys(), ", "))
	x.Add("Tables", strings.Join(p.Tables.Keys(), ", "))
	return x
}

func (g *Glossary) rule(p *pack.Pack, r *pack.Rule) Record {
	x := Record{Name: p.Pack + "." + r.ID, Kind: "rule", Title: r.Title}
	x.Add("At stake", cmp.Or(r.Danger.Words(), "nothing dangerous"))
	x.Add("Stops the job once it is", strings.ReplaceAll(r.Due, "_", " "))
	for _, e := range r.Each {
		x.Add("Judges each", e.Key+" of "+e.Value.Text)
	}
	x.Add("Is about", r.About)
	if r.Applies != nil {
		x.Add("Applies when", r.Applies.Text)
	}
	for _, l := range r.Let {
		x.Add("With "+l.Key, l.Value.Text)
	}
	if r.Measure != nil {
		x.Add("Measures", r.Measure.Text)
	}
	x.Add("Must be", testText(r.Must)...)
	x.Add("Should be", testText(r.Should)...)
	x.Add("Changed", g.changes(x.Name)...)
	x.Add("When met", r.Met)
	x.Add("Says", r.Say)
	x.Add("Do", r.Mend.Lines()...)
	for _, caution := range g.library.CautionsOf(x.Name) {
		x.Add("Take care", caution.Text)
	}
	x.Add("Take care", report.LocalCodes)
	x.Add("Why", g.reasons(p, r.Because)...)
	g.regional(&x, p, r)
	x.Add("Catches", report.FailureWords(g.failures, r.Covers)...)
	var limits, tables []string
	for _, l := range p.Limits {
		if mentions(r, "limit."+l.Key) {
			limits = append(limits, "limit."+l.Key+" is "+g.limits[p.Pack+"."+l.Key].Value.Text+inRegions(g.limits[p.Pack+"."+l.Key])+": "+strings.Join(g.reasons(p, l.Value.Because), "; "))
		}
	}
	for _, t := range p.Tables {
		if mentions(r, "table."+t.Key) {
			tables = append(tables, "table."+t.Key+", "+counted(len(t.Value.Rows), "row")+" by "+t.Value.Key+": "+strings.Join(g.reasons(p, t.Value.Because), "; "))
		}
	}
	x.Add("Limits", limits...)
	x.Add("Tables", tables...)
	var cases []string
	for _, c := range r.Cases {
		cases = append(cases, c.Name+": "+c.Expect)
	}
	x.Add("Proved by "+counted(len(r.Cases), "case"), cases...)
	return x
}

// inRegions names the values that a limit has in regions.
func inRegions(l engine.LimitValue) string {
	out := ""
	for _, o := range l.Regions {
		out += ", in " + o.Region + " " + o.To
	}
	return out
}

// changes tells what local packs make of a rule.
func (g *Glossary) changes(rule string) []string {
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
func (g *Glossary) regional(x *Record, p *pack.Pack, r *pack.Rule) {
	if len(p.Regions) == 0 {
		return
	}
	x.Add("Region", strings.Join(p.Regions, ", ")+", "+report.ConsequenceWords(r.Consequence, g.library.KnownFrom(p.Pack+"."+r.ID)))
	x.Add("Takes the place of", r.InsteadOf...)
	confirm := r.Confirm
	for _, region := range g.library.Regions() {
		if confirm == "" && region.Name == p.Regions[0] {
			confirm = region.Confirm
		}
	}
	x.Add("Confirm", confirm)
}

// region explains a region.
func (g *Glossary) region(r *pack.Region) Record {
	x := Record{Name: r.Name, Kind: "region", Title: r.Title}
	if r.Within != "" {
		x.Add("Within", r.Within)
	}
	x.Add("Decided by", r.DecidedBy)
	x.Add("Confirm", r.Confirm)
	var packs []string
	for _, p := range g.library.Packs() {
		if slices.Contains(p.Regions, r.Name) {
			packs = append(packs, fmt.Sprintf("%s: %s, %s", p.Pack, p.Title, counted(len(p.Rules), "rule")))
		}
	}
	x.Add("Packs", packs...)
	var topics []string
	for _, t := range g.library.TopicsOf(r.Name) {
		topics = append(topics, t.Topic.Words()+": "+cmp.Or(t.Without, strings.Join(t.Rules, ", ")))
	}
	x.Add("What of its law was read", topics...)
	return x
}

// failure explains one way in which a conversion is known to fail.
func (g *Glossary) failure(f *report.Failure) Record {
	x := Record{Name: f.ID, Kind: "known failure", Title: f.Words}
	var rules []string
	for _, p := range g.library.Packs() {
		for i := range p.Rules {
			if slices.Contains(p.Rules[i].Covers, f.ID) {
				rules = append(rules, p.Pack+"."+p.Rules[i].ID+": "+p.Rules[i].Title)
			}
		}
	}
	x.Add("Caught by", rules...)
	x.Add("No rule can catch it", f.Unseen)
	return x
}

// source explains a document that packs cite.
func (g *Glossary) source(name string, s *pack.Source) Record {
	x := Record{Name: name, Kind: "source", Title: s.Title}
	x.Add("Standing", s.Kind)
	x.Add("Edition", s.Edition)
	x.Add("Read", map[string]string{"text": "in the text itself", "mirror": "in a mirror of it", "secondary": "in a page that tells of it", "memory": "not; told from memory"}[s.Read]+", "+s.Seen)
	x.Add("Law in", strings.Join(s.In, ", "))
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
	x.Add("Cited by", users...)
	return x
}

func (g *Glossary) limit(p *pack.Pack, e *pack.Entry[pack.Limit]) Record {
	x := Record{Name: p.Pack + ".limit." + e.Key, Kind: "limit", Title: e.Value.Is.Text}
	now := g.limits[p.Pack+"."+e.Key]
	if len(now.Steps) > 1 {
		x.Title = now.Value.Text
		var steps []string
		for _, s := range now.Steps {
			steps = append(steps, StepWords(s))
		}
		x.Add("Where it comes from", steps...)
	}
	x.Add("In regions", regionWords(now.Regions)...)
	if now.Stricter != "" {
		x.Add("Stricter", "when it is "+now.Stricter)
	}
	why := "Why"
	if len(now.Steps) > 1 {
		why = "Why it was " + e.Value.Is.Text // the steps have the reasons of what it is now
	}
	x.Add(why, g.reasons(p, e.Value.Because)...)
	x.Add("Used by", g.readers(p, "limit", e.Key)...)
	return x
}

// regionWords tell the values that a figure has in regions.
func regionWords(list []engine.Overridden) []string {
	var out []string
	for _, o := range list {
		var why []string
		for _, b := range o.Because {
			why = append(why, report.GroundWords(b))
		}
		out = append(out, fmt.Sprintf("%s: %s instead of %s at %s: %s", o.Region, o.To, o.From, o.Place, strings.Join(why, "; ")))
	}
	return out
}

// readers are the rules that read a limit or table of a pack, those of other packs by its full name.
func (g *Glossary) readers(p *pack.Pack, kind, name string) []string {
	var out []string
	for _, other := range g.library.Packs() {
		for i := range other.Rules {
			if r := &other.Rules[i]; other == p && mentions(r, kind+"."+name) || mentions(r, kind+"('"+p.Pack+"."+name+"')") || mentions(r, kind+`("`+p.Pack+"."+name+`")`) {
				out = append(out, other.Pack+"."+r.ID)
			}
		}
	}
	return out
}

func (g *Glossary) table(p *pack.Pack, e *pack.Entry[pack.Table]) Record {
	x := Record{Name: p.Pack + ".table." + e.Key, Kind: "table", Title: counted(len(e.Value.Rows), "row") + " by " + e.Value.Key}
	var columns []string
	for _, c := range e.Value.Columns {
		columns = append(columns, c.Key+", "+c.Value)
	}
	x.Add("Columns", columns...)
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
	x.Add("Rows", rows...)
	x.Add("In regions", tableWords(g.library.Overridden("table", p.Pack+"."+e.Key))...)
	x.Add("Why", g.reasons(p, e.Value.Because)...)
	x.Add("Used by", g.readers(p, "table", e.Key)...)
	return x
}

// tableWords tell the cells that are others in regions, each with its row.
func tableWords(list []engine.Overridden) []string {
	out := regionWords(list)
	for i, o := range list {
		_, cell, _ := strings.Cut(o.What, ", ")
		out[i] = cell + ", " + out[i]
	}
	return out
}

// reasons say the reasons of a figure with the titles of their sources.
func (g *Glossary) reasons(p *pack.Pack, list []pack.Reason) []string {
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

func (g *Glossary) value(e *derive.Entry) Record {
	x := Record{Name: e.Name, Kind: "derived value", Title: e.Meaning}
	if e.On != "Design" {
		x.Name = e.On + "." + e.Name
	}
	switch e.Kind {
	case derive.Quantity:
		x.Add("Is", "a quantity of "+strings.ReplaceAll(e.Dimension.String(), "_", " "))
	case derive.Number:
		x.Add("Is", "a number")
	case derive.Truth:
		x.Add("Is", "yes or no")
	case derive.Text:
		x.Add("Is", "a word: "+strings.Join(e.Words, ", "))
	}
	if e.PerPoint {
		var names []string
		for _, p := range derive.Points() {
			names = append(names, p.String())
		}
		x.Add("At", strings.Join(names, ", "))
	}
	x.Add("Formula", e.Formula)
	x.Add("Needs", strings.Join(e.Needs, ", "))
	var sources []string
	for _, s := range e.Sources {
		text := s.Title
		if s.Where != "" {
			text += ", " + s.Where
		}
		sources = append(sources, report.GroundWords(engine.Ground{Standing: s.Kind, Text: text}))
	}
	x.Add("Source", sources...)
	x.Add("Rules that read it", g.library.ValueReaders(e.On, e.Name)...)
	return x
}

func (g *Glossary) fact(path string, d schema.Description) Record {
	x := Record{Name: path, Kind: "fact", Title: d.Doc}
	field := d.Field
	if field.Part != "" {
		x.Kind = "part of a design"
	}
	x.Add("Is", "a "+field.Kind.String())
	if field.Low != "" || field.High != "" {
		x.Add("From", field.Low+" to "+field.High)
	}
	x.Add("Words", strings.Join(d.Words, ", "))
	if d.Example != "" {
		x.Add("Write", field.Key+": "+d.Example)
	}
	switch {
	case field.Kind == schema.KindQuantity:
		x.Add("Or a range", field.Key+": "+quantity.RangeWithin(field.Dimension, field.Low, field.High))
	case field.Kind == schema.KindInt && field.Low != field.High:
		x.Add("Or a range", field.Key+": "+field.Low+".."+field.High)
	}
	if strings.Contains(path, ".") {
		if row := g.library.Declared().Said(path); row != nil {
			x.Add("Called", row.Label)
			x.Add("To find it", row.How)
			x.Add("Usual", row.Normal)
			x.Add("While it is not known", row.Unknown)
		}
	}
	x.Add("Holds", g.keysOf(path)...)
	if i := strings.LastIndexByte(path, '.'); field.Part == "" && i > 0 {
		rules, values := g.library.Readers(g.library.Declared().TypeAt(path[:i]), path[i+1:])
		x.Add("Rules that read it", rules...)
		x.Add("Values worked out from it", values...)
		if len(rules)+len(values) == 0 {
			x.Add("Read by", "no rule and no value; it is there for whoever reads the design")
		}
	}
	return x
}

// keysOf lists the keys of the part at a path.
func (g *Glossary) keysOf(path string) []string {
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
func (g *Glossary) ownValue(v *engine.OwnValue) Record {
	x := g.value(v.Entry)
	x.Name = v.Path
	x.Add("Declared by", v.Pack.Pack+" ("+v.Place.String()+")")
	_, values := g.library.Readers(v.Entry.On, v.Entry.Name)
	x.Add("Values worked out from it", values...)
	return x
}
