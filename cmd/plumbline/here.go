package main

import (
	"reflect"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
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
}

// here is how a name came out in a design: values, a rule's accounts or facts. Note says why there is none of them.
type here struct {
	Values []*derive.Step    `json:"values,omitempty"`
	Rules  []engine.Account  `json:"rules,omitempty"`
	Facts  []engine.FactRead `json:"facts,omitempty"`
	Note   string            `json:"note,omitempty"`
}

// here says how the explained thing came out; asked is the name as the user wrote it. It is nil for what designs do
// not change.
func (d *inDesign) here(x *explanation, asked string) (*here, error) {
	var out here
	switch x.Kind {
	case "rule":
		var err error
		if out.Rules, err = d.library.Account(d.design, d.options, x.Name); err != nil {
			return nil, err
		}
		if len(out.Rules) == 0 {
			out.Note = "The rule does not apply in the regions of this design."
		}
	case "derived value":
		if out.Values = d.values(x, asked); len(out.Values) == 0 {
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

// values accounts for a derived value: at the operating point and on the part that was asked for, else at all points
// and on all parts.
func (d *inDesign) values(x *explanation, asked string) []*derive.Step {
	on, name, has := strings.Cut(x.Name, ".")
	if !has {
		on, name = "Design", x.Name
	}
	e := derive.All().Find(on, name)
	var out []*derive.Step
	for _, part := range partsOf(d.design, e.On) {
		for _, p := range points(e) {
			base := part.(interface{ Path() string }).Path()
			if asksFor(asked, e.Path(base, p)) {
				out = append(out, d.session.Explain(e, part, p, d.options.Units))
			}
		}
	}
	return out
}

// asksFor reports whether the value at a path is one the user asked for. A name without a part or a point asks for all.
func asksFor(asked, path string) bool {
	wantPart, wantPoint, _ := splitDerived(asked)
	part, point, _ := splitDerived(path)
	if wantPoint != "" && wantPoint != point {
		return false
	}
	if wantPart == "" {
		return true
	}
	if wantPart = withDesign(wantPart); schema.TypeAt(wantPart) == "" || wantPart == part {
		return true
	}
	if strings.Contains(wantPart, "[") && !strings.Contains(wantPart, "[]") {
		return false
	}
	bare := func(s string) string { return strings.ReplaceAll(s, "[]", "") }
	return bare(wantPart) == bare(string(schema.Path(part).Generic()))
}

// withDesign is a path of a design with the design before it, which may be left out.
func withDesign(path string) string {
	if path == "design" || strings.HasPrefix(path, "design.") {
		return path
	}
	return "design." + path
}

// partsOf lists pointers to every part of a type in a design.
func partsOf(d *schema.Design, typeName string) []any {
	if typeName == "Design" {
		return []any{d}
	}
	var out []any
	seen := map[any]bool{}
	var visit func(v reflect.Value)
	visit = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Slice:
			for i := range v.Len() {
				visit(v.Index(i))
			}
		case reflect.Struct:
			p := v.Addr().Interface()
			if m, ok := p.(schema.Optional); ok && m.Presence() == schema.Absent {
				return
			}
			if v.Type().Name() == typeName && !seen[p] {
				seen[p] = true
				out = append(out, p)
			}
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					visit(v.Field(i))
				}
			}
		}
	}
	visit(reflect.ValueOf(d).Elem())
	return out
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
