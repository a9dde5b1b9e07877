package derive

import (
	"fmt"
	"math"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Result is what became of one derived value.
type Result struct {
	Entry *Entry
	Name  string
	Path  string
	Point Point
	// Missing lists the facts that keep it unknown.
	Missing []string
	// Absent is the part that the design says is not there.
	Absent string
	// Reason says why the value is out of reach although no fact is missing.
	Reason string
	// Assumed lists the facts that were assumed.
	Assumed []string
	// Fault is what broke while a value of a pack was computed: a slip of the pack.
	Fault error

	// A computed quantity is in quantity, any other value in value.
	value    any
	quantity quantity.Value
	reads    []reading
	// bounded is set where a bound was met.
	bounded *bounded
	// computing is true while its own computation runs.
	computing bool
	// marks are those of the facts it rests on, once asked for.
	marks  uint64
	marked bool
}

// Input is one thing a derived value was computed from.
type Input struct {
	Path    string
	Value   any
	Place   schema.Place
	Assumed bool
	Derived *Result
}

// reading is what was read: a schema.Reading (a stated fact), an *assumed or a
// *Result. A memo is a result without a path: what it read counts as read by
// its reader.
type reading any

// assumed is a fact that is not stated, with the value assumed.
type assumed struct {
	fact  schema.Reading
	value any
}

// inputOf writes out a reading that is not a memo.
func inputOf(r reading) Input {
	switch r := r.(type) {
	case *Result:
		return Input{Path: r.Path, Value: r.Value(), Derived: r}
	case *assumed:
		return Input{Path: r.fact.Path(), Value: r.value, Place: r.fact.Place(), Assumed: true}
	}
	fact := r.(schema.Reading)
	return Input{Path: fact.Path(), Value: fact.Any(), Place: fact.Place()}
}

// memoOf is the memo that was read, or nil.
func memoOf(r reading) *Result {
	if m, ok := r.(*Result); ok && m.Path == "" {
		return m
	}
	return nil
}

// Inputs are the facts and values it was computed from, each once: its own
// first, then those of the memos it read.
func (r *Result) Inputs() []Input {
	var out []Input
	listed, visited := map[string]bool{}, map[*Result]bool{}
	var collect func(*Result)
	collect = func(r *Result) {
		if visited[r] {
			return
		}
		visited[r] = true
		for _, in := range r.reads {
			if memoOf(in) != nil {
				continue
			}
			if input := inputOf(in); !listed[input.Path] {
				listed[input.Path] = true
				out = append(out, input)
			}
		}
		for _, in := range r.reads {
			if m := memoOf(in); m != nil {
				collect(m)
			}
		}
	}
	collect(r)
	return out
}

// Known reports whether there is a value.
func (r *Result) Known() bool {
	return len(r.Missing) == 0 && r.Absent == "" && r.Reason == "" && r.Fault == nil
}

// Value is a quantity.Value, float64, bool or string; nil when not known.
func (r *Result) Value() any {
	switch {
	case !r.Known():
		return nil
	case r.value == nil && r.Entry != nil && r.Entry.Kind == Quantity:
		return r.quantity
	}
	return r.value
}

// set takes what Compute returned as a value of the entry's type; one that is
// not finite or not of the type is out of reach, and the reason is returned.
func (r *Result) set(v any) (reason string) {
	e := r.Entry
	switch e.Kind {
	case Quantity:
		f, ok := v.(float64)
		if !ok {
			break
		}
		q, err := quantity.New(f, e.Dimension)
		if err != nil {
			return e.Name + " came out as " + fmt.Sprint(f)
		}
		r.quantity = q
		return ""
	case Number:
		if f, ok := v.(float64); ok {
			if math.IsNaN(f) || math.IsInf(f, 0) {
				return e.Name + " came out as " + fmt.Sprint(f)
			}
			r.value = v
			return ""
		}
	case Truth:
		if _, ok := v.(bool); ok {
			r.value = v
			return ""
		}
	case Text:
		if _, ok := v.(string); ok {
			r.value = v
			return ""
		}
	}
	return fmt.Sprintf("%s returned %T, which is not its type", e.Name, v)
}
