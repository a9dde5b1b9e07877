package explain

import (
	"reflect"
	"slices"
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
	// Facts are those whose numbers stand in the working.
	Facts []Fact `json:"facts,omitempty"`
	// Formula stands where there is no working yet.
	Formula string          `json:"formula,omitempty"`
	Sources []derive.Source `json:"sources,omitempty"`
	// Assumed are the facts that were assumed.
	Assumed []string `json:"assumed,omitempty"`
}

// Fact is a fact whose number stands in a working.
type Fact struct {
	Path string `json:"path"`
	Text string `json:"text"`
	// Place is where it is stated; nil for one that was assumed.
	Place *schema.Place `json:"place,omitempty"`
}

// Workings says how the values of one design came out.
type Workings struct {
	session *derive.Session
	units   quantity.System
	parts   map[string]any
	// written are the stated facts as the design writes them.
	written map[string]string
}

// NewWorkings explains the values of a session's design, their numbers in the given units.
func NewWorkings(s *derive.Session, units quantity.System) *Workings {
	k := &Workings{session: s, units: units, parts: partsByPath(s.Design()), written: map[string]string{}}
	schema.Walk(s.Design(), func(v schema.Visit) {
		if schema.IsStated(v.Reading) {
			k.written[v.Path] = v.Reading.Text()
		}
	})
	return k
}

// Value says how a value came out, with a working of so many lines at most.
func (k *Workings) Value(e *derive.Entry, part any, p derive.Point, most int) Value {
	brief, r := k.session.Brief(e, part, p, k.units), k.session.Evaluate(e, part, p)
	v := Value{Path: brief.Path, Text: brief.Text, Meaning: e.Meaning, Missing: brief.Missing, Absent: brief.Absent, Why: brief.Bounds, Sources: e.Sources, Assumed: r.Assumed}
	if brief.Reason != "" {
		v.Why = append(v.Why, brief.Reason)
	}
	if v.Working, v.Facts = k.Together([]*derive.Result{r}, most); len(v.Working) == 0 {
		v.Formula = e.Formula
	}
	return v
}

// Together joins the workings of several values, each line once, in so many lines at most: those of the values
// themselves come first into the room there is, then what they were computed from.
func (k *Workings) Together(values []*derive.Result, most int) ([]derive.WorkLine, []Fact) {
	w := &working{Workings: k, chosen: map[string]*chosen{}}
	w.choose(values, most)
	w.write(values)
	return w.lines, w.facts
}

// working puts the workings of values and of those they rest on in a row.
type working struct {
	*Workings
	chosen map[string]*chosen
	lines  []derive.WorkLine
	// facts are those of the workings told so far, each once.
	facts []Fact
}

// chosen is a working for which there is room.
type chosen struct {
	derive.Worked
	written bool
}

// read adds the facts of a working.
func (w *working) read(list []derive.Input) {
	for _, in := range list {
		if slices.ContainsFunc(w.facts, func(f Fact) bool { return f.Path == in.Path }) {
			continue
		}
		f := Fact{Path: in.Path, Text: derive.FactText(in.Value, w.written[in.Path], w.units)}
		if !in.Assumed && !in.Place.IsZero() {
			f.Place = &in.Place
		}
		w.facts = append(w.facts, f)
	}
}

// choose takes the workings of values, then of those that each rests on, as far as there is room, and returns what room is left.
func (w *working) choose(values []*derive.Result, room int) int {
	var near []*chosen
	for _, r := range values {
		part := w.partOf(r)
		if part == nil || w.chosen[r.Path] != nil {
			continue
		}
		x := &chosen{Worked: w.session.Working(r.Entry, part, r.Point, w.units)}
		if len(x.Lines) == 0 || len(x.Lines) > room {
			continue
		}
		w.chosen[r.Path] = x
		near, room = append(near, x), room-len(x.Lines)
	}
	for _, x := range near {
		room = w.choose(x.Rests, room)
	}
	return room
}

// write writes the chosen workings of values, each after those of the values that it rests on.
func (w *working) write(values []*derive.Result) {
	for _, r := range values {
		x := w.chosen[r.Path]
		if x == nil || x.written {
			continue
		}
		x.written = true
		w.write(x.Rests)
		w.lines = append(w.lines, x.Lines...)
		w.read(x.Facts)
	}
}

// partOf is the part of the design that a result belongs to.
func (w *Workings) partOf(r *derive.Result) any {
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
	if group, is := strings.CutPrefix(typeName, schema.OwnKey+"_"); is && d.Group(group) != nil {
		return []any{d.Group(group)}
	}
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
