package main

import (
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/schema"
)

// inDesign says how names came out in one design.
type inDesign struct {
	design  *schema.Design
	library *engine.Library
	options engine.Options
	session *derive.Session
	// labels are the names of parts by their paths.
	labels map[string]string
	worked *explain.Workings
}

// here is how a name came out in a design: values, a rule's accounts or facts. Note says why there is none of them.
type here struct {
	// Short are the values and Rule the findings with their workings, Values and Rules their trees, when those were asked for.
	Short  []explain.Value   `json:"short,omitempty"`
	Rule   *explain.Rule     `json:"rule,omitempty"`
	Values []*derive.Step    `json:"values,omitempty"`
	Rules  []engine.Account  `json:"rules,omitempty"`
	Facts  []engine.FactRead `json:"facts,omitempty"`
	Note   string            `json:"note,omitempty"`
}

// here says how the explained thing came out; asked is the name as the user wrote it. It is nil for what designs do
// not change.
func (d *inDesign) here(x *explanation, asked string, tree bool) (*here, error) {
	var out here
	switch x.Kind {
	case "rule":
		accounts, err := d.library.Account(d.design, d.options, x.Name)
		if err != nil {
			return nil, err
		}
		if tree {
			out.Rules = accounts
		} else {
			var findings []engine.Finding
			for i := range accounts {
				findings = append(findings, accounts[i].Finding)
			}
			short := d.workings().Rule(findings, explain.MostLines)
			out.Rule = &short
		}
		if len(accounts) == 0 {
			out.Note = "The rule does not apply in the regions of this design."
		}
	case "derived value":
		list := d.values(x, asked)
		for _, v := range list {
			if tree {
				out.Values = append(out.Values, d.session.Explain(v.entry, v.part, v.at, d.options.Units))
			} else {
				out.Short = append(out.Short, d.workings().Value(v.entry, v.part, v.at, explain.MostLines))
			}
		}
		if len(list) == 0 {
			out.Note = "The design has no such part."
		}
	case "fact", "part of a design":
		if out.Facts = d.facts(x.Name); len(out.Facts) == 0 {
			out.Note = "Not stated."
		}
	default:
		return nil, nil
	}
	return &out, nil
}

// placed is a derived value of one part at one point.
type placed struct {
	entry *derive.Entry
	part  any
	at    derive.Point
}

// workings are those of the design's values.
func (d *inDesign) workings() *explain.Workings {
	if d.worked == nil {
		d.worked = explain.NewWorkings(d.session, d.options.Units)
	}
	return d.worked
}

// values lists what is asked of a derived value: at the operating point and on the part that was asked for, else at all points
// and on all parts.
func (d *inDesign) values(x *explanation, asked string) []placed {
	for _, v := range d.library.Values() {
		if v.Path == x.Name {
			return []placed{{v.Entry, d.design.Group(v.Pack.OwnName()), derive.NoPoint}}
		}
	}
	on, name, has := strings.Cut(x.Name, ".")
	if !has {
		on, name = "Design", x.Name
	}
	e := derive.All().Find(on, name)
	var out []placed
	for _, part := range explain.Parts(d.design, e.On) {
		for _, p := range glossary.PointsOf(e) {
			base := part.(interface{ Path() string }).Path()
			if asksFor(asked, e.Path(base, p)) {
				out = append(out, placed{e, part, p})
			}
		}
	}
	return out
}

// asksFor reports whether the value at a path is one the user asked for. A name without a part or a point asks for all.
func asksFor(asked, path string) bool {
	wantPart, wantPoint, _ := glossary.SplitDerived(asked)
	part, point, _ := glossary.SplitDerived(path)
	if wantPoint != "" && wantPoint != point {
		return false
	}
	if wantPart == "" {
		return true
	}
	if wantPart = glossary.WithDesign(wantPart); schema.TypeAt(wantPart) == "" || wantPart == part {
		return true
	}
	if strings.Contains(wantPart, "[") && !strings.Contains(wantPart, "[]") {
		return false
	}
	bare := func(s string) string { return strings.ReplaceAll(s, "[]", "") }
	return bare(wantPart) == bare(string(schema.Path(part).Generic()))
}

// facts lists what the design states at a path and below it.
func (d *inDesign) facts(path string) []engine.FactRead {
	var out []engine.FactRead
	wanted := schema.Path(path).Generic()
	schema.Walk(d.design, func(v schema.Visit) {
		if !wanted.Holds(schema.Path(v.Path).Generic()) {
			return
		}
		if strings.Contains(path, "[") && !strings.Contains(path, "[]") && !strings.HasPrefix(v.Path, path) {
			return
		}
		if schema.IsStated(v.Reading) {
			text := derive.FactText(v.Reading.Any(), v.Reading.Text(), d.options.Units)
			out = append(out, engine.FactRead{Path: v.Path, Text: text, Place: v.Reading.Place()})
		}
	})
	return out
}

// labelsOf are the names that a design gives its parts, by path; the kind of a part without a name.
func labelsOf(d *schema.Design) map[string]string {
	out := map[string]string{}
	schema.Walk(d, func(v schema.Visit) {
		part := strings.TrimSuffix(v.Path, "."+v.Key)
		if !v.Reading.Known() || !strings.HasSuffix(part, "]") {
			return
		}
		switch {
		case v.Key == "name", v.Key == "kind" && out[part] == "":
			out[part] = strings.ReplaceAll(v.Reading.Text(), "_", " ")
		}
	})
	return out
}
