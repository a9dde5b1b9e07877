package derive

import (
	"fmt"
	"reflect"
	"slices"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Point is an operating point: the state a derived value holds for.
type Point int

// The four operating points. NoPoint marks values that hold always.
const (
	NoPoint Point = iota
	Cranking
	Idle
	Cruise
	FullLoad
)

// Points lists the operating points in their usual order.
func Points() []Point { return []Point{Cranking, Idle, Cruise, FullLoad} }

// String gives the point's name in rules: cranking, idle, cruise, full_load.
func (p Point) String() string {
	return [...]string{"", "cranking", "idle", "cruise", "full_load"}[p]
}

// Kind is the type of a derived value: a quantity of some dimension, or a
// plain number, yes/no or word.
type Kind int

// The kinds of derived values.
const (
	Quantity Kind = iota
	Number
	Truth
	Text
)

// Source says where a formula comes from; Kind is law, standard, handbook,
// practice or memory.
type Source struct {
	Kind  string `json:"kind"`
	Title string `json:"title"`
	Where string `json:"where,omitempty"`
}

// Entry is one derived value.
type Entry struct {
	// Name is the last part of the value's path, snake_case.
	Name string
	// On is the schema type the value belongs to: "Design", "Circuit", "Run", ...
	On string
	// PerPoint is true when the value differs by operating point.
	PerPoint bool
	// Kind and, for quantities, Dimension give the type.
	Kind      Kind
	Dimension quantity.Dimension
	// Words lists the values a Text entry can take; empty when free.
	Words []string
	// Meaning is one line, Formula the arithmetic in words or symbols.
	Meaning string
	Formula string
	// Needs names the facts and values it reads, for documentation.
	Needs []string
	// Sources says where the formula comes from.
	Sources []Source
	// Compute returns the value as float64 (SI, or plain number), bool or string.
	// It reads facts and other values only through c. What it returns is
	// discarded when c lacks something.
	Compute func(c *Calc) any
}

// Path gives the value's name as rules write it, for a part at base (such as
// "design.circuits[2]"; empty for the whole design).
func (e *Entry) Path(base string, p Point) string {
	name := e.Name
	if e.PerPoint {
		name = "at." + p.String() + "." + e.Name
	}
	if base == "" || base == "design" {
		if e.PerPoint {
			return name
		}
		return "design." + name
	}
	return base + "." + name
}

// Check reports what is missing or wrong in the entry itself.
func (e *Entry) Check() error {
	switch {
	case e.Name == "" || e.On == "" || e.Meaning == "" || e.Formula == "" || len(e.Sources) == 0 || e.Compute == nil:
		return fmt.Errorf("derived value %s.%s lacks a name, part, meaning, formula, source or function", e.On, e.Name)
	case e.Kind == Quantity && e.Dimension == 0:
		return fmt.Errorf("derived value %s.%s has no dimension", e.On, e.Name)
	}
	return nil
}

// Calc is what a Compute function sees: one part of one design at one point.
type Calc struct {
	session *Session
	entry   *Entry
	// On is a pointer to the part, such as *schema.Circuit.
	on      any
	point   Point
	missing []string
	absent  string
	reason  string
	assumed []string
	inputs  []Input
	shared  []*Result
}

// Input is one thing a derived value was computed from.
type Input struct {
	Path    string
	Value   any
	Place   schema.Place
	Assumed bool
	Derived *Result
}

// Design is the design under evaluation.
func (c *Calc) Design() *schema.Design { return c.session.design }

// Point is the operating point of this evaluation.
func (c *Calc) Point() Point { return c.point }

// Part returns the part the entry belongs to; T must be its schema type.
func Part[T any](c *Calc) *T { return c.on.(*T) }

// Get reads a fact, or its assumption. When neither is there the fact is noted
// as missing and the zero value returned: ask c.Lacks before computing.
func Get[T any](c *Calc, f schema.Fact[T]) T {
	v, ok, assumed := lookup(c.session, f)
	if !ok {
		c.missing = appendNew(c.missing, f.Path())
		return v
	}
	c.inputs = append(c.inputs, Input{Path: f.Path(), Value: v, Place: f.Place(), Assumed: assumed})
	if assumed {
		c.assumed = appendNew(c.assumed, f.Path())
	}
	return v
}

// Try reads a fact that may stay unstated without making the value unknown.
// Use it only where a stated value can never turn a known result into another
// known result: otherwise the law that more facts never change a finding breaks.
func Try[T any](c *Calc, f schema.Fact[T]) (T, bool) {
	v, ok, assumed := lookup(c.session, f)
	if ok {
		c.inputs = append(c.inputs, Input{Path: f.Path(), Value: v, Place: f.Place(), Assumed: assumed})
		if assumed {
			c.assumed = appendNew(c.assumed, f.Path())
		}
	}
	return v, ok
}

// SI reads a quantity fact in SI units.
func SI[D quantity.Dim](c *Calc, f schema.Fact[quantity.Of[D]]) float64 {
	return Get(c, f).SI()
}

// Fitted reads whether an optional part is there; unknown when not stated.
func Fitted[T any](c *Calc, m *schema.Maybe[T]) bool {
	switch m.Presence() {
	case schema.Present:
		return true
	case schema.Absent:
		return false
	}
	c.missing = appendNew(c.missing, m.Path())
	return false
}

// Require reads an optional part the value cannot do without: when it is
// absent the value is absent too.
func Require[T any](c *Calc, m *schema.Maybe[T]) *T {
	if !Fitted(c, m) && m.Presence() == schema.Absent {
		c.absent = m.Path()
	}
	return &m.Part
}

// Items reads a list; unknown when not stated.
func Items[T any](c *Calc, l *schema.List[T]) []T {
	if !l.Known() {
		c.missing = appendNew(c.missing, l.Path())
	}
	return l.Items
}

// Value reads another derived value of the same part at the same point.
func (c *Calc) Value(name string) float64 {
	return c.number(c.session.find(c.on, name, c.point))
}

// ValueAt reads a derived value of the whole design at a point.
func (c *Calc) ValueAt(p Point, name string) float64 {
	return c.number(c.session.find(c.session.design, name, p))
}

// ValueOn reads a derived value of another part (a pointer to it).
func (c *Calc) ValueOn(part any, p Point, name string) float64 {
	return c.number(c.session.find(part, name, p))
}

// TextOn reads a derived word of another part.
func (c *Calc) TextOn(part any, p Point, name string) string {
	v := c.take(c.session.find(part, name, p))
	s, _ := v.(string)
	return s
}

// TruthOn reads a derived yes/no of another part.
func (c *Calc) TruthOn(part any, p Point, name string) bool {
	v := c.take(c.session.find(part, name, p))
	b, _ := v.(bool)
	return b
}

// Lacks reports whether something read so far is missing, absent or out of reach.
func (c *Calc) Lacks() bool { return len(c.missing) > 0 || c.absent != "" || c.reason != "" }

// Miss notes a fact as missing by its path.
func (c *Calc) Miss(path string) { c.missing = appendNew(c.missing, path) }

// Unreachable makes the value unknown for a reason other than a missing fact:
// a curve or table that does not reach, or a solver that did not converge.
func (c *Calc) Unreachable(err error) {
	if err != nil && c.reason == "" {
		c.reason = err.Error()
	}
}

// Memo computes something shared by several entries (such as a solved system)
// once per session, part and point. The result keeps what its own reading lacked.
func Memo[T any](c *Calc, key string, part any, p Point, compute func(c *Calc) T) T {
	k := memoKey{name: "memo:" + key, on: pointer(part), point: p}
	m, ok := c.session.memo[k]
	if !ok {
		sub := &Calc{session: c.session, entry: &Entry{Name: key}, on: part, point: p}
		if c.session.enter(k) {
			v := compute(sub)
			m = &Result{Name: key, value: v, Missing: sub.missing, Absent: sub.absent, Reason: sub.reason, Assumed: sub.assumed, inputs: sub.inputs, shared: sub.shared}
		} else {
			m = &Result{Name: key, Reason: key + " depends on itself"}
		}
		c.session.leave(k)
		c.session.memo[k] = m
	}
	c.absorb(m)
	v, _ := m.value.(T)
	return v
}

func (c *Calc) absorb(r *Result) {
	for _, p := range r.Missing {
		c.missing = appendNew(c.missing, p)
	}
	for _, p := range r.Assumed {
		c.assumed = appendNew(c.assumed, p)
	}
	if c.absent == "" {
		c.absent = r.Absent
	}
	if c.reason == "" {
		c.reason = r.Reason
	}
	if r.Path != "" {
		c.inputs = append(c.inputs, Input{Path: r.Path, Value: r.value, Derived: r})
	} else if !slices.Contains(c.shared, r) {
		c.shared = append(c.shared, r)
	}
}

func (c *Calc) take(r *Result) any {
	c.absorb(r)
	if q, ok := r.value.(quantity.Value); ok {
		return q.SI()
	}
	return r.value
}

func (c *Calc) number(r *Result) float64 {
	f, _ := c.take(r).(float64)
	return f
}

func lookup[T any](s *Session, f schema.Fact[T]) (v T, ok, assumed bool) {
	if v, ok = f.Get(); ok {
		return v, true, false
	}
	if a, found := s.assumption(f.Path()); found {
		if v, ok = a.(T); ok {
			return v, true, true
		}
	}
	return v, false, false
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

func pointer(part any) uintptr { return reflect.ValueOf(part).Pointer() }
