package explain

import (
	"reflect"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// MostLines are the lines of a working.
const MostLines = 10

// Value is how a derived value came out, in short.
type Value struct {
	Path string `json:"path"`
	// Text is the value as printed; derive.NotKnown when there is none.
	Text    string `json:"text"`
	Meaning string `json:"meaning"`
	// Why says why there is no value, or why it is known only between bounds.
	Why []string `json:"why,omitempty"`
	// Missing are the facts it waits for, Absent the part that is not there.
	Missing []string `json:"missing,omitempty"`
	Absent  string   `json:"absent,omitempty"`
	// Working is the formula with its numbers, after the workings of the values
	// that it was computed from as far as there is room.
	Working []derive.WorkLine `json:"working,omitempty"`
	// Formula stands where there is no working yet.
	Formula string          `json:"formula,omitempty"`
	Sources []derive.Source `json:"sources,omitempty"`
	// Assumed are the facts that were assumed.
	Assumed []string `json:"assumed,omitempty"`
}

// Workings says how the values of one design came out.
type Workings struct {
	session *derive.Session
	units   quantity.System
	parts   map[string]any
}

// NewWorkings explains the values of a session's design, their numbers in the given units.
func NewWorkings(s *derive.Session, units quantity.System) *Workings {
	return &Workings{session: s, units: units, parts: partsByPath(s.Design())}
}

// Value says how a value came out, with a working of so many lines at most.
func (k *Workings) Value(e *derive.Entry, part any, p derive.Point, most int) Value {
	brief, r := k.session.Brief(e, part, p, k.units), k.session.Evaluate(e, part, p)
	v := Value{Path: brief.Path, Text: brief.Text, Meaning: e.Meaning, Missing: brief.Missing, Absent: brief.Absent, Why: brief.Bounds, Sources: e.Sources, Assumed: r.Assumed}
	if brief.Reason != "" {
		v.Why = append(v.Why, brief.Reason)
	}
	if v.Working = k.Together([]*derive.Result{r}, most); len(v.Working) == 0 {
		v.Formula = e.Formula
	}
	return v
}

// Together joins the workings of several values, each line once, in so many lines at most: those of the values
// themselves come first into the room there is, then what they were computed from.
func (k *Workings) Together(values []*derive.Result, most int) []derive.WorkLine {
	w := &working{Workings: k, told: map[string]bool{}}
	return w.row(values, most)
}

// working puts the workings of values and of those they rest on in a row.
type working struct {
	*Workings
	// told are the values whose working has its place.
	told map[string]bool
}

// row is the workings of values, each after those of the values that it rests on as far as there is room.
func (w *working) row(values []*derive.Result, room int) []derive.WorkLine {
	type own struct {
		lines []derive.WorkLine
		rests []*derive.Result
	}
	var list []own
	for _, r := range values {
		part := w.partOf(r)
		if part == nil || w.told[r.Path] {
			continue
		}
		lines, rests := w.session.Working(r.Entry, part, r.Point, w.units)
		if len(lines) == 0 || len(lines) > room {
			continue
		}
		w.told[r.Path] = true
		list, room = append(list, own{lines, rests}), room-len(lines)
	}
	var out []derive.WorkLine
	for _, x := range list {
		before := w.row(x.rests, room)
		room -= len(before)
		out = append(append(out, before...), x.lines...)
	}
	return out
}

// partOf is the part of the design that a result belongs to.
func (w *working) partOf(r *derive.Result) any {
	switch {
	case r.Entry == nil:
		return nil
	case r.Entry.On == "Design":
		return w.session.Design()
	}
	path := strings.TrimSuffix(r.Path, "."+r.Name)
	if r.Entry.PerPoint {
		path = strings.TrimSuffix(path, ".at."+r.Point.String())
	}
	return w.parts[path]
}

// Parts lists pointers to every part of a type in a design, those that the design says are not there left out.
func Parts(d *schema.Design, typeName string) []any {
	if typeName == "Design" {
		return []any{d}
	}
	var out []any
	walk(d, func(v reflect.Value) {
		if v.Type().Name() == typeName {
			out = append(out, v.Addr().Interface())
		}
	})
	return out
}

func partsByPath(d *schema.Design) map[string]any {
	out := map[string]any{}
	walk(d, func(v reflect.Value) {
		if p, ok := v.Addr().Interface().(interface{ Path() string }); ok {
			// A part comes before what is embedded in it.
			if _, optional := p.(schema.Optional); !optional && out[p.Path()] == nil {
				out[p.Path()] = p
			}
		}
	})
	return out
}

// walk visits every struct of a design once.
func walk(d *schema.Design, visit func(v reflect.Value)) {
	seen := map[any]bool{}
	var into func(v reflect.Value)
	into = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Slice:
			for i := range v.Len() {
				into(v.Index(i))
			}
		case reflect.Struct:
			p := v.Addr().Interface()
			if m, ok := p.(schema.Optional); ok && m.Presence() == schema.Absent {
				return
			}
			if !seen[p] {
				seen[p] = true
				visit(v)
			}
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					into(v.Field(i))
				}
			}
		}
	}
	into(reflect.ValueOf(d).Elem())
}

// At finds a derived value by its path; nil when the design has none there.
func (k *Workings) At(path string) *derive.Result {
	part, name := "", path
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		part, name = path[:i], path[i+1:]
	}
	at := derive.NoPoint
	for _, p := range derive.Points() {
		if rest, ok := strings.CutSuffix("."+part, ".at."+p.String()); ok {
			part, at = strings.TrimPrefix(rest, "."), p
		}
	}
	var on any = k.session.Design()
	if part != "" && part != "design" {
		if on = k.parts[part]; on == nil {
			return nil
		}
	}
	e := derive.All().Find(reflect.TypeOf(on).Elem().Name(), name)
	if e == nil {
		return nil
	}
	return k.session.Evaluate(e, on, at)
}
