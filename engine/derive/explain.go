package derive

import (
	"reflect"
	"slices"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Step is one value or fact in the account of how a value came out, with what
// it was computed from. A value or fact met again stands there by its path and
// its text alone.
type Step struct {
	Path string `json:"path"`
	// Text is the value in words, in the units asked for; NotKnown when there is none.
	Text string `json:"text"`
	// Value is the value as a number in SI units, yes or no or a word; nil when not known.
	Value     any    `json:"value,omitempty"`
	Dimension string `json:"dimension,omitempty"`
	// Meaning, Formula and Sources are those of a derived value.
	Meaning string   `json:"meaning,omitempty"`
	Formula string   `json:"formula,omitempty"`
	Sources []Source `json:"sources,omitempty"`
	// Place is where a stated fact stands.
	Place *schema.Place `json:"place,omitempty"`
	// Assumed marks a fact that is not stated but assumed.
	Assumed bool `json:"assumed,omitempty"`
	// Missing are the facts a derived value waits for; a fact that is not stated misses itself.
	Missing []string `json:"missing,omitempty"`
	// Absent is the part the design says is not there, Reason why else there is no value.
	Absent string `json:"absent,omitempty"`
	Reason string `json:"reason,omitempty"`
	// Between are the least and the most that a value known only between bounds can
	// be, in SI units, and Bounds why it is not known better.
	Between []float64 `json:"between,omitempty"`
	Bounds  []string  `json:"bounds,omitempty"`
	// Together are the values that were solved with this one.
	Together []*Step `json:"solved_together,omitempty"`
	// Above marks what was shown in full before.
	Above bool `json:"shown_above,omitempty"`
	// Inputs are the facts, then the derived values it was computed from.
	Inputs []*Step `json:"inputs,omitempty"`

	entry *Entry
}

// NotKnown is the text of a value that is not known.
const NotKnown = "not known"

// Entry is the derived value of the step, nil for a fact.
func (s *Step) Entry() *Entry { return s.entry }

// Explain evaluates a value and accounts for it down to the facts, its numbers
// in the given units. A value that differs by operating point is explained at p.
func (s *Session) Explain(e *Entry, part any, p Point, units quantity.System) *Step {
	a := account{session: s, units: units, shown: map[string]bool{}, written: map[string]string{}}
	schema.Walk(s.design, func(v schema.Visit) {
		if schema.IsStated(v.Reading) {
			a.written[v.Path] = v.Reading.Text()
		}
	})
	r := s.Evaluate(e, part, p)
	step := a.value(r)
	step.Together = a.together(e, part, r)
	return step
}

// Brief evaluates a value without its account: the value, or what keeps it from one.
func (s *Session) Brief(e *Entry, part any, p Point, units quantity.System) *Step {
	a := account{session: s, units: units}
	r := s.Evaluate(e, part, p)
	step := a.head(r)
	step.Missing, step.Absent, step.Reason = r.Missing, r.Absent, InUnits(r.Reason, units)
	return step
}

// account writes steps and remembers what it has shown.
type account struct {
	session *Session
	units   quantity.System
	shown   map[string]bool
	// written are the stated facts as the design writes them.
	written map[string]string
}

// value is the step of a derived value.
func (a *account) value(r *Result) *Step {
	step := a.head(r)
	if a.shown[r.Path] {
		step.Above = true
		return step
	}
	a.shown[r.Path] = true
	if e := r.Entry; e != nil {
		step.Meaning, step.Formula, step.Sources = e.Meaning, e.Formula, e.Sources
	}
	step.Missing, step.Absent, step.Reason = r.Missing, r.Absent, InUnits(r.Reason, a.units)
	inputs, listed := r.Inputs(), map[string]bool{}
	for _, in := range inputs {
		listed[in.Path] = true
		if in.Derived == nil {
			step.Inputs = append(step.Inputs, a.fact(in))
		}
	}
	for _, path := range r.Missing {
		if !listed[path] && !missingBelow(inputs, path) {
			step.Inputs = append(step.Inputs, &Step{Path: path, Text: NotKnown, Missing: []string{path}, Above: a.shown[path]})
			a.shown[path] = true
		}
	}
	for _, in := range inputs {
		if in.Derived != nil {
			step.Inputs = append(step.Inputs, a.value(in.Derived))
		}
	}
	return step
}

// head is a derived value by its path and value alone.
func (a *account) head(r *Result) *Step {
	step := &Step{Path: r.Path, Text: NotKnown, entry: r.Entry}
	if step.Path == "" {
		step.Path = r.Name
	}
	if !r.Known() {
		return step
	}
	step.Text = ValueText(r.Value(), a.units)
	step.Value, step.Dimension = plainValue(r.Value())
	if r.bounded == nil {
		return step
	}
	span := a.session.Span(r)
	step.Text = span.text(a.units)
	if len(span) > 1 {
		low, high := span.Ends()
		step.Value, step.Between = nil, []float64{low, high}
		for _, b := range r.Bounds() {
			step.Bounds = append(step.Bounds, InUnits(b.Why, a.units))
		}
	}
	return step
}

// fact is the step of a stated or assumed fact.
func (a *account) fact(in Input) *Step {
	step := &Step{Path: in.Path, Text: FactText(in.Value, a.written[in.Path], a.units), Assumed: in.Assumed, Above: a.shown[in.Path]}
	a.shown[in.Path] = true
	step.Value, step.Dimension = plainValue(in.Value)
	if !in.Assumed && !in.Place.IsZero() {
		step.Place = &in.Place
	}
	return step
}

// together are the other values of the part, at the same point, that were read
// off the same solved system.
func (a *account) together(e *Entry, part any, r *Result) []*Step {
	system := solved(r)
	if system == nil {
		return nil
	}
	var out []*Step
	for _, other := range a.session.index.Of(e.On) {
		if other == e || other.PerPoint != e.PerPoint {
			continue
		}
		if o := a.session.Evaluate(other, part, r.Point); o.Known() && solved(o) == system {
			out = append(out, a.head(o))
		}
	}
	return out
}

// solved is the memo that all of a result was read off; nil when it was not.
func solved(r *Result) *Result {
	if len(r.reads) == 0 {
		return nil
	}
	m := memoOf(r.reads[0])
	if m == nil || slices.ContainsFunc(r.reads, func(x reading) bool { return memoOf(x) != m }) {
		return nil
	}
	return m
}

// plainValue is a value without its Go type, for JSON.
func plainValue(v any) (plain any, dimension string) {
	switch x := v.(type) {
	case quantity.Value:
		return x.SI(), x.Dimension().String()
	case interface {
		QuantityDimension() quantity.Dimension
		SI() float64
	}:
		return x.SI(), x.QuantityDimension().String()
	}
	rv := reflect.ValueOf(v)
	switch rv.Kind() {
	case reflect.String:
		return rv.String(), ""
	case reflect.Invalid:
		return nil, ""
	}
	return v, ""
}
