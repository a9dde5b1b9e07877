package glossary

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/engine/pack"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Glossary finds what a name means: in the packs, among the derived values and in the design's types.
type Glossary struct {
	library *engine.Library
	// failures are the known failures rules catch.
	failures []report.Failure
	// limits are the values in force, by full name.
	limits map[string]engine.LimitValue
}

// New prepares the glossary of a library whose rules catch these known failures.
func New(l *engine.Library, failures []report.Failure) *Glossary {
	limits := map[string]engine.LimitValue{}
	for _, x := range l.Limits() {
		limits[x.Name] = x
	}
	return &Glossary{library: l, failures: failures, limits: limits}
}

// Find explains a name; several packs may have a limit of the same name.
func (g *Glossary) Find(name string) []Record {
	var out []Record
	for _, p := range g.library.Packs() {
		if name == p.Pack {
			out = append(out, g.pack(p))
		}
		for i := range p.Rules {
			if id := p.Rules[i].ID; name == p.Pack+"."+id || name == id {
				out = append(out, g.rule(p, &p.Rules[i]))
			}
		}
		for i := range p.Limits {
			if full := "limit." + p.Limits[i].Key; name == full || name == p.Pack+"."+full || name == p.Pack+"."+p.Limits[i].Key {
				out = append(out, g.limit(p, &p.Limits[i]))
			}
		}
		for i := range p.Tables {
			if full := "table." + p.Tables[i].Key; name == full || name == p.Pack+"."+full {
				out = append(out, g.table(p, &p.Tables[i]))
			}
		}
	}
	for i := range g.library.Troubles() {
		if t := &g.library.Troubles()[i]; name == t.ID || name == t.Decl.ID {
			out = append(out, g.trouble(t))
		}
	}
	for _, f := range g.failures {
		if strings.EqualFold(f.ID, name) {
			out = append(out, g.failure(&f))
		}
	}
	if s, ok := g.library.Shared().Get(name); ok {
		out = append(out, g.source(name, s))
	}
	for _, r := range g.library.Regions() {
		if strings.EqualFold(r.Name, name) || strings.EqualFold(r.Title, name) {
			out = append(out, g.region(r))
		}
	}
	for _, e := range derive.All().Entries() {
		if namesDerived(name, e) {
			out = append(out, g.value(e))
		}
	}
	for _, v := range g.library.Values() {
		if WithDesign(name) == v.Path || name == v.Entry.Name {
			out = append(out, g.ownValue(&v))
		}
	}
	if len(out) == 0 {
		path := "design." + strings.TrimPrefix(name, "design.")
		if d := g.library.Declared().Describe(path); d.Doc != "" {
			return []Record{g.fact(path, d)}
		}
	}
	return out
}

// Values are the records of all derived values.
func (g *Glossary) Values() []Record {
	var out []Record
	for _, e := range derive.All().Entries() {
		out = append(out, g.value(e))
	}
	return out
}

// Pack is the record of a pack, Rules those of its rules.
func (g *Glossary) Pack(p *pack.Pack) (of Record, rules []Record) {
	for i := range p.Rules {
		rules = append(rules, g.rule(p, &p.Rules[i]))
	}
	return g.pack(p), rules
}

// SplitDerived takes the name of a derived value apart: design.circuits[2].at.idle.voltage_drop is the part
// design.circuits[2], the point idle and the value voltage_drop; any but the last may be empty.
func SplitDerived(name string) (part, point, value string) {
	if i := strings.LastIndexByte(name, '.'); i >= 0 {
		part, value = name[:i], name[i+1:]
	} else {
		return "", "", name
	}
	if i := strings.LastIndex("."+part, ".at."); i >= 0 {
		return strings.TrimSuffix(part[:i], "."), part[i+len("at."):], value
	}
	return part, "", value
}

// namesDerived reports whether a name means a derived value: at.idle.fuel_demand, design.circuits[2].at.idle.voltage_drop,
// circuit.at.idle.voltage_drop, Circuit.voltage_drop or voltage_drop.
func namesDerived(name string, e *derive.Entry) bool {
	part, point, value := SplitDerived(name)
	isPoint := func(p derive.Point) bool { return p.String() == point }
	switch {
	case value != e.Name, point != "" && !(e.PerPoint && slices.ContainsFunc(derive.Points(), isPoint)):
		return false
	case part == "":
		return point == "" || e.On == "Design"
	}
	return strings.EqualFold(strings.ReplaceAll(part, "_", ""), e.On) || schema.TypeAt(WithDesign(part)) == e.On
}

// Nearest is the name that a misspelt one is most likely to mean; empty when none is near. Of a derived value on one
// part only the part is kept as written.
func (g *Glossary) Nearest(name string) string {
	part, point, value := SplitDerived(name)
	if on := schema.TypeAt(WithDesign(part)); part != "" && on != "" {
		var values []string
		for _, e := range derive.All().Of(on) {
			values = append(values, e.Name)
		}
		if near := document.Nearest(value, values); near != "" {
			e := derive.All().Find(on, near)
			for _, p := range PointsOf(e) {
				if p.String() == point {
					return e.Path(part, p)
				}
			}
			return e.Path(part, PointsOf(e)[0])
		}
	}
	return document.Nearest(name, g.names())
}

// names lists what can be explained, for the nearest to a misspelt one.
func (g *Glossary) names() []string {
	var out []string
	for _, p := range g.library.Packs() {
		out = append(out, p.Pack)
		for i := range p.Rules {
			out = append(out, p.Pack+"."+p.Rules[i].ID, p.Rules[i].ID)
		}
		for i := range p.Limits {
			out = append(out, "limit."+p.Limits[i].Key)
		}
		for i := range p.Tables {
			out = append(out, "table."+p.Tables[i].Key)
		}
		for i := range p.Troubles {
			out = append(out, p.Pack+"."+p.Troubles[i].ID, p.Troubles[i].ID)
		}
	}
	for _, e := range derive.All().Entries() {
		if e.On == "Design" {
			for _, p := range PointsOf(e) {
				out = append(out, e.Path("", p))
			}
			continue
		}
		out = append(out, e.On+"."+e.Name, e.Name)
	}
	for _, f := range append(explain.Facts(), explain.OwnFacts(g.library.Declared())...) {
		out = append(out, f.Name)
	}
	for _, v := range g.library.Values() {
		out = append(out, v.Path)
	}
	return out
}

// PointsOf are the operating points a derived value has.
func PointsOf(e *derive.Entry) []derive.Point {
	if e.PerPoint {
		return derive.Points()
	}
	return []derive.Point{derive.NoPoint}
}

// WithDesign is a path of a design with the design before it, which may be left out.
func WithDesign(path string) string {
	if path == "design" || strings.HasPrefix(path, "design.") {
		return path
	}
	return "design." + path
}

// Index finds what plain words speak of, among everything that can be explained by its name.
func (g *Glossary) Index() *explain.Index {
	names := explain.Names(g.library)
	for _, x := range g.failures {
		names = append(names, explain.Named{Name: x.ID, Kind: "known failure", Title: x.Words, Text: x.Unseen})
	}
	return explain.NewIndex(names)
}
