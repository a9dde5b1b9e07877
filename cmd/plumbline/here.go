package main

import (
	"fmt"
	"reflect"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/report"
	"plumbline/schema"
)

// inDesign says how names came out in one design.
type inDesign struct {
	design  *schema.Design
	library *engine.Library
	options engine.Options
}

// lines say how the explained thing came out; asked is the name as the user wrote it.
func (h *inDesign) lines(x *explanation, asked string) []string {
	switch x.Kind {
	case "rule":
		return h.rule(x.Name)
	case "derived value":
		return h.derived(x, asked)
	case "fact", "part of a design":
		return h.facts(x.Name)
	}
	return nil
}

// rule shows every finding of a rule with the facts and derived values it rests on.
func (h *inDesign) rule(name string) []string {
	var out []string
	for _, f := range h.library.Judge(h.design, h.options).Findings {
		if f.Rule != name {
			continue
		}
		where := f.Subject
		if f.SubjectName != "" {
			where += ", " + f.SubjectName
		}
		out = append(out, fmt.Sprintf("%s: %s [%s]", where, strings.ToUpper(string(f.Outcome)), f.Place), "  "+f.Text)
		if n := report.Numbers(&f); n != "" {
			out = append(out, "  "+n)
		}
		for _, r := range f.Facts {
			out = append(out, fmt.Sprintf("  %s = %s [%s]", r.Path, r.Text, r.Place))
		}
		for _, d := range f.Derived {
			out = append(out, fmt.Sprintf("  %s = %s (derived)", d.Path, d.Text))
		}
		for _, m := range f.Missing {
			out = append(out, "  "+m+" is not stated")
		}
		for _, u := range f.Unreachable {
			out = append(out, "  cannot be worked out: "+u)
		}
		for _, a := range f.Assumed {
			out = append(out, "  "+a+" is assumed")
		}
	}
	if len(out) == 0 {
		return []string{"The rule does not apply in the regions of this design."}
	}
	return out
}

// derived shows the chain of a derived value down to the facts: at the operating point and on the part that was asked
// for, else at all points and on all parts.
func (h *inDesign) derived(x *explanation, asked string) []string {
	on, name, has := strings.Cut(x.Name, ".")
	if !has {
		on, name = "Design", x.Name
	}
	e := derive.All().Find(on, name)
	session := derive.NewSession(h.design, derive.Options{})
	var out []string
	for _, part := range partsOf(h.design, e.On) {
		for _, p := range points(e) {
			r := session.Evaluate(e, part, p)
			if !asksFor(asked, r.Path) {
				continue
			}
			for _, line := range r.Chain() {
				out = append(out, line.String())
			}
		}
	}
	if len(out) == 0 {
		return []string{"The design has no such part."}
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
	if !strings.HasPrefix(wantPart, "design.") || wantPart == part {
		return true
	}
	bare := func(s string) string { return strings.ReplaceAll(s, "[]", "") }
	return bare(wantPart) == bare(derive.Generic(part))
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

// facts shows what the design states at a path and below it.
func (h *inDesign) facts(path string) []string {
	var out []string
	schema.Walk(h.design, func(v schema.Visit) {
		generic := derive.Generic(v.Path)
		wanted := derive.Generic(path)
		if v.Path != path && generic != wanted && !strings.HasPrefix(generic, wanted+".") && !strings.HasPrefix(generic, wanted+"[") {
			return
		}
		if strings.Contains(path, "[") && !strings.Contains(path, "[]") && !strings.HasPrefix(v.Path, path) {
			return
		}
		if v.Reading.Known() {
			out = append(out, fmt.Sprintf("%s = %s [%s]", v.Path, v.Reading.Text(), v.Reading.Place()))
		}
	})
	if len(out) == 0 {
		return []string{"Not stated."}
	}
	return out
}
