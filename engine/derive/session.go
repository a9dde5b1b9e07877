package derive

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Options are what a session may be told beside the design.
type Options struct {
	// Assumptions maps a fact's path, list indices written [], to the value
	// used while the fact is not stated. The value has the fact's Go type.
	Assumptions map[string]any
	// Overrides maps a derived value's path to a quantity.Value, float64, bool
	// or string that replaces its computation; used by cases of rules.
	Overrides map[string]any
}

// Session evaluates the derived values of one design. It is not safe for
// concurrent use; make one per goroutine.
type Session struct {
	design  *schema.Design
	options Options
	memo    map[memoKey]*Result
	active  map[memoKey]bool
	index   *Index
}

type memoKey struct {
	name  string
	on    uintptr
	point Point
}

// Result is what became of one derived value.
type Result struct {
	Entry *Entry
	Name  string
	Path  string
	Point Point
	value any
	// Missing lists the facts that keep it unknown.
	Missing []string
	// Absent is the part that the design says is not there.
	Absent string
	// Reason says why the value is out of reach although no fact is missing.
	Reason string
	// Assumed lists the facts that were assumed.
	Assumed []string
	inputs  []Input
	// shared are the memos it was read from; their inputs are its own.
	shared []*Result
}

// Inputs are the facts and values it was computed from, each once.
func (r *Result) Inputs() []Input {
	var out []Input
	listed, visited := map[string]bool{}, map[*Result]bool{}
	var collect func(*Result)
	collect = func(r *Result) {
		if visited[r] {
			return
		}
		visited[r] = true
		for _, in := range r.inputs {
			if !listed[in.Path] {
				listed[in.Path] = true
				out = append(out, in)
			}
		}
		for _, memo := range r.shared {
			collect(memo)
		}
	}
	collect(r)
	return out
}

// Known reports whether there is a value.
func (r *Result) Known() bool {
	return len(r.Missing) == 0 && r.Absent == "" && r.Reason == ""
}

// Value is a quantity.Value, float64, bool or string; nil when not known.
func (r *Result) Value() any {
	if !r.Known() {
		return nil
	}
	return r.value
}

// NewSession starts the evaluation of one design.
func NewSession(d *schema.Design, o Options) *Session {
	return &Session{design: d, options: o, memo: map[memoKey]*Result{}, active: map[memoKey]bool{}, index: All()}
}

// Design is the design under evaluation.
func (s *Session) Design() *schema.Design { return s.design }

// At evaluates a value of the whole design at an operating point.
func (s *Session) At(p Point, name string) *Result { return s.find(s.design, name, p) }

// On evaluates a value of one part, given as a pointer to it.
func (s *Session) On(part any, p Point, name string) *Result { return s.find(part, name, p) }

// Evaluate evaluates an entry on a part.
func (s *Session) Evaluate(e *Entry, part any, p Point) *Result {
	if !e.PerPoint {
		p = NoPoint
	} else if p == NoPoint {
		return &Result{Entry: e, Name: e.Name, Reason: e.Name + " differs by operating point: ask for it at one"}
	}
	k := memoKey{name: e.Name, on: pointer(part), point: p}
	if e.On != "Design" {
		k.name = e.On + "." + e.Name
	}
	if r, ok := s.memo[k]; ok {
		return r
	}
	path := e.Path(partPath(part), p)
	if v, ok := s.options.Overrides[path]; ok {
		r := &Result{Entry: e, Name: e.Name, Path: path, Point: p, value: v}
		s.memo[k] = r
		return r
	}
	r := &Result{Entry: e, Name: e.Name, Path: path, Point: p}
	if !s.enter(k) {
		r.Reason = path + " depends on itself"
		return r
	}
	c := &Calc{session: s, entry: e, on: part, point: p}
	v := e.Compute(c)
	s.leave(k)
	r.Missing, r.Absent, r.Reason, r.Assumed = c.missing, c.absent, c.reason, c.assumed
	r.inputs, r.shared = c.inputs, c.shared
	if !c.Lacks() {
		r.value, r.Reason = e.checked(v)
	}
	s.memo[k] = r
	return r
}

// checked turns what Compute returned into the entry's type; a value that is
// not finite or not of the type is out of reach.
func (e *Entry) checked(v any) (any, string) {
	switch e.Kind {
	case Quantity:
		f, ok := v.(float64)
		if !ok {
			break
		}
		q, err := quantity.New(f, e.Dimension)
		if err != nil {
			return nil, e.Name + " came out as " + fmt.Sprint(f)
		}
		return q, ""
	case Number:
		if f, ok := v.(float64); ok {
			if math.IsNaN(f) || math.IsInf(f, 0) {
				return nil, e.Name + " came out as " + fmt.Sprint(f)
			}
			return f, ""
		}
	case Truth:
		if b, ok := v.(bool); ok {
			return b, ""
		}
	case Text:
		if t, ok := v.(string); ok {
			return t, ""
		}
	}
	return nil, fmt.Sprintf("%s returned %T, which is not its type", e.Name, v)
}

func (s *Session) find(part any, name string, p Point) *Result {
	on := reflect.TypeOf(part).Elem().Name()
	e := s.index.Find(on, name)
	if e == nil {
		return &Result{Name: name, Reason: "there is no derived value " + on + "." + name}
	}
	return s.Evaluate(e, part, p)
}

func (s *Session) enter(k memoKey) bool {
	if s.active[k] {
		return false
	}
	s.active[k] = true
	return true
}

func (s *Session) leave(k memoKey) { delete(s.active, k) }

func (s *Session) assumption(path string) (any, bool) {
	if len(s.options.Assumptions) == 0 {
		return nil, false
	}
	v, ok := s.options.Assumptions[Generic(path)]
	return v, ok
}

// Assumption returns the value assumed for a fact that is not stated.
func (s *Session) Assumption(path string) (any, bool) { return s.assumption(path) }

// Generic writes a path with its list indices blanked: a[3].b becomes a[].b.
func Generic(path string) string {
	if !strings.Contains(path, "[") {
		return path
	}
	var b strings.Builder
	skip := false
	for _, r := range path {
		switch {
		case r == '[':
			b.WriteByte('[')
			skip = true
		case r == ']':
			b.WriteByte(']')
			skip = false
		case !skip:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func partPath(part any) string {
	if n, ok := part.(interface{ Path() string }); ok {
		return n.Path()
	}
	return ""
}
