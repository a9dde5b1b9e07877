package vocabulary

import (
	"cmp"
	"slices"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// cell keeps the value of one field of a part, and what reading it reads: a
// stated fact, an assumed one or a derived value, or nothing.
type cell struct {
	value   ref.Val
	fact    schema.Reading
	assumed bool             // the fact is not stated but assumed
	items   []schema.Reading // of a list of facts
	derived *derive.Result
	// decided has read what decides which part, or which assumption, it is.
	decided *derive.Result
	// turn is the evaluation that noted it last.
	turn int
}

// cells holds the cells of a scope and the lists of them of its parts, both
// cut from larger pieces.
type cells struct {
	free  []cell
	lists []*cell
}

// The sizes of the pieces.
const (
	cellPiece = 128
	listPiece = 1024
)

// list makes a list of n places for cells.
func (r *cells) list(n int) []*cell {
	if len(r.lists) < n {
		r.lists = make([]*cell, max(n, listPiece))
	}
	out := r.lists[:n:n]
	r.lists = r.lists[n:]
	return out
}

// keep gives a cell its place in memory.
func (r *cells) keep(c cell) *cell {
	if len(r.free) == 0 {
		r.free = make([]cell, cellPiece)
	}
	out := &r.free[0]
	r.free = r.free[1:]
	*out = c
	return out
}

// read gives the value of a field. It is opened once; each evaluation that
// reads it notes what it read.
func (o *object) read(f *field) ref.Val {
	if o.scope == nil {
		return f.open(o).value // a row of a table, which all scopes share
	}
	if o.cells == nil {
		o.cells = o.scope.cells.list(len(o.shape.order))
	}
	c := o.cells[f.at]
	if c == nil {
		c = o.scope.cells.keep(f.open(o))
		o.cells[f.at] = c
	}
	o.scope.note(c)
	return c.value
}

// field is read with what stops an evaluation as an error: a part that is
// absent, or a value that is an error itself.
func (o *object) field(f *field) (any, error) {
	if o.absent != "" && f.name != "fitted" {
		return nil, ErrAbsent{o.absent}
	}
	v := o.read(f)
	if e, ok := v.(*types.Err); ok {
		return nil, e
	}
	return v, nil
}

// note keeps what a cell read among the reads of the evaluation, once.
func (s *Scope) note(c *cell) {
	if c.turn == s.turn {
		return
	}
	c.turn = s.turn
	if c.decided != nil {
		s.read.Decided = append(s.read.Decided, c.decided)
	}
	s.read.Facts = append(s.read.Facts, c.items...)
	switch {
	case c.derived != nil:
		s.read.Derived = append(s.read.Derived, c.derived)
		for _, p := range c.derived.Assumed {
			s.noteAssumed(p)
		}
	case c.assumed:
		s.noteAssumed(c.fact.Path())
	case c.fact != nil:
		s.read.Facts = append(s.read.Facts, c.fact)
	}
}

func (s *Scope) noteAssumed(path string) {
	if !slices.Contains(s.read.Assumed, path) {
		s.read.Assumed = append(s.read.Assumed, path)
	}
}

// fact turns a fact into a CEL value.
func (s *Scope) fact(f schema.Reading) cell {
	if f.Known() {
		return cell{value: native(f.Any()), fact: f, turn: -1}
	}
	if f.Ranged() { // what is stated is not assumed otherwise
		return cell{value: unknownFact(f.Path()), fact: f, turn: -1}
	}
	v, missing, by, ok := s.session.AssumptionBy(f.Path())
	if ok {
		return cell{value: native(v), fact: f, assumed: true, decided: by, turn: -1}
	}
	return cell{value: unknownFact(cmp.Or(missing, f.Path())), decided: by, turn: -1}
}

// derivedCell turns the result of a derived value into a CEL value.
func derivedCell(r *derive.Result) cell {
	return cell{value: derivedValue(r), derived: r, turn: -1}
}

func derivedValue(r *derive.Result) ref.Val {
	switch {
	case r.Known():
		return native(r.Value())
	case r.Absent != "":
		return types.WrapErr(ErrAbsent{r.Absent})
	case r.Reason != "":
		return UnknownBecause(r.Path + ": " + r.Reason)
	}
	u := types.NewUnknown(1, types.NewAttributeTrail(r.Missing[0]))
	for _, p := range r.Missing[1:] {
		u = types.MergeUnknowns(u, types.NewUnknown(1, types.NewAttributeTrail(p)))
	}
	return u
}
