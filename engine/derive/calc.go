package derive

import (
	"cmp"
	"reflect"
	"slices"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

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
	broken  error
	assumed []string
	bounds  []Bound
	// base is where its reads begin in those of the session.
	base int
}

// Design is the design under evaluation.
func (c *Calc) Design() *schema.Design { return c.session.design }

// Point is the operating point of this evaluation.
func (c *Calc) Point() Point { return c.point }

// Part returns the part the entry belongs to; T must be its schema type.
func Part[T any](c *Calc) *T { return c.on.(*T) }

// Get reads a fact, or its assumption. When neither is there the fact is noted
// as missing, or the one that would decide what is assumed, and the zero value
// returned: ask c.Lacks before computing.
func Get[T any](c *Calc, f *schema.Fact[T]) T {
	v, missing := take(c, f)
	if missing != "" {
		c.missing = appendNew(c.missing, missing)
	}
	return v
}

// Try reads a fact that may stay unstated without making the value unknown.
// Use it only where a stated value can never turn a known result into another
// known result: otherwise the law that more facts never change a finding breaks.
func Try[T any](c *Calc, f *schema.Fact[T]) (T, bool) {
	v, missing := take(c, f)
	return v, missing == ""
}

// take reads a fact or its assumption and notes what it read; missing is the fact that keeps it from a value.
func take[T any](c *Calc, f *schema.Fact[T]) (v T, missing string) {
	if v, ok := f.Get(); ok {
		c.session.reads = append(c.session.reads, f)
		return v, ""
	}
	if f.Ranged() { // what is stated is not assumed otherwise
		c.session.reads = append(c.session.reads, f)
		return v, f.Path()
	}
	a, found := c.session.assumption(f.Path())
	for _, fact := range a.by {
		c.session.reads = append(c.session.reads, fact)
	}
	if v, ok := a.value.(T); found && ok {
		c.session.reads = append(c.session.reads, &assumed{fact: f, value: v})
		c.assumed = appendNew(c.assumed, f.Path())
		return v, ""
	}
	return v, cmp.Or(a.missing, f.Path())
}

// SI reads a quantity fact in SI units.
func SI[D quantity.Dim](c *Calc, f *schema.Fact[quantity.Of[D]]) float64 {
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

// named is the first item of a list that bears a name; nil for none. One that is named so stands however much of the list
// nobody has named yet; that there is none is unknown of an open list.
func named[T any](c *Calc, l *schema.List[T], name string, of func(*T) *schema.Fact[string]) *T {
	for i := range l.Items {
		if Get(c, of(&l.Items[i])) == name {
			return &l.Items[i]
		}
	}
	Items(c, l)
	return nil
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
// once per session, number, part and point. The result keeps what its own
// reading lacked.
func Memo[T any](c *Calc, key string, number int, part any, p Point, compute func(c *Calc) T) T {
	s, k := c.session, memoKey{name: key, number: number, on: pointer(part), point: p}
	m, ok := s.memos[k]
	switch {
	case !ok:
		m = s.room.result()
		*m = Result{Name: key, computing: true}
		s.memos[k] = m
		sub := s.begin(nil, part, p)
		m.value = compute(sub)
		s.end(sub, m)
	case m.computing:
		m = &Result{Name: key, Reason: key + " depends on itself"}
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
	if r.bounded != nil {
		c.bounds = JoinBounds(c.bounds, r.bounded.bounds)
	}
	c.session.reads = append(c.session.reads, r)
}

func (c *Calc) take(r *Result) any {
	c.absorb(r)
	return r.value
}

func (c *Calc) number(r *Result) float64 {
	c.absorb(r)
	switch v := r.value.(type) {
	case float64:
		return v
	case quantity.Value:
		return v.SI()
	}
	return r.quantity.SI()
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

func pointer(part any) uintptr { return reflect.ValueOf(part).Pointer() }
