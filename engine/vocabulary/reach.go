package vocabulary

import (
	"maps"
	"math"
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// Reach tells what the expressions of one rule can come out as, whatever a design
// states: from the ranges of the facts, the words they may be, and the figures of the
// pack. It never rules out what can happen; of what it cannot follow it says that all can.
type Reach struct {
	fixed map[string]ref.Val
	// names are those the rule gives: its lets, and the programs they stand for.
	names map[string]*Program
	// keys are the texts of expressions met before.
	keys  map[exprKey]string
	steps int
}

// maxReachSteps bounds the work for one rule, three times what the longest of the library takes; when it is used up all can happen.
const maxReachSteps = 15_000

type exprKey struct {
	prog *Program
	id   int64
}

// NewReach begins with the limits and tables of a pack.
func NewReach(fixed map[string]ref.Val) *Reach {
	return &Reach{fixed: fixed, names: map[string]*Program{}, keys: map[exprKey]string{}}
}

// Let makes a name known that the rule gives to an expression.
func (r *Reach) Let(name string, p *Program) { r.names[name] = p }

// World is what is known of the expressions where one is evaluated: an extent for
// the text of each. A World is never changed, only narrowed into another; nil is the
// one that cannot be.
type World struct {
	known map[string]extent
}

// Everywhere is the world of which nothing is known.
func Everywhere() *World { return &World{} }

// with narrows what is known of a text; nil when nothing is left.
func (w *World) with(key string, e extent) *World {
	if e.empty() {
		return nil
	}
	if key == "" {
		return w
	}
	out := &World{known: maps.Clone(w.known)}
	if out.known == nil {
		out.known = map[string]extent{}
	}
	out.known[key] = e
	return out
}

// either is the world of which only that is known that two have in common.
func either(a, b *World) *World {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	out := &World{known: map[string]extent{}}
	for key, x := range a.known {
		if y, ok := b.known[key]; ok {
			out.known[key] = x.hull(y)
		}
	}
	return out
}

// frame is an expression being followed: its program, and the names it gives to items of lists.
type frame struct {
	prog  *Program
	items map[string]item
}

// item is a name for each item of a list.
type item struct {
	key  string
	from extent
}

// Assume narrows the world to where a condition comes out as told; nil when it never does.
func (r *Reach) Assume(w *World, p *Program, outcome bool) *World {
	if w == nil || p == nil {
		return w
	}
	return r.assume(w, frame{prog: p}, p.tree.Expr(), outcome)
}

// Each narrows the world to the items of the list a rule judges, when the list is a choice of another.
func (r *Reach) Each(w *World, name string, p *Program) *World {
	f, e := frame{prog: p}, p.tree.Expr()
	for e.Kind() == ast.ComprehensionKind {
		c := e.AsComprehension()
		kind, body := macroOf(c)
		if kind != "filter" {
			break
		}
		inner := f
		inner.items = map[string]item{c.IterVar(): {key: name}}
		if out := r.assume(w, inner, body, true); out != nil {
			w = out
		}
		e = c.IterRange()
	}
	return w
}

func (r *Reach) spent() bool {
	r.steps++
	return r.steps > maxReachSteps
}

// assume narrows the world to where a part of an expression comes out as told.
func (r *Reach) assume(w *World, f frame, e ast.Expr, want bool) *World {
	if r.spent() {
		return w
	}
	switch e.Kind() {
	case ast.IdentKind:
		if p := r.let(f, e.AsIdent()); p != nil {
			return r.assume(w, frame{prog: p}, p.tree.Expr(), want)
		}
	case ast.ComprehensionKind:
		return r.assumeList(w, f, e.AsComprehension(), want)
	case ast.CallKind:
		if out, ok := r.assumeCall(w, f, e.AsCall(), want); ok {
			return out
		}
	}
	return r.narrow(w, f, e, truth(want))
}

// narrow meets what is known of a part with an extent.
func (r *Reach) narrow(w *World, f frame, e ast.Expr, to extent) *World {
	return w.with(r.key(f, e), r.extent(w, f, e).meet(to))
}

func (r *Reach) assumeCall(w *World, f frame, c ast.CallExpr, want bool) (out *World, ok bool) {
	args := c.Args()
	switch c.FunctionName() {
	case operators.LogicalNot:
		return r.assume(w, f, args[0], !want), true
	case operators.LogicalAnd, operators.LogicalOr:
		if want == (c.FunctionName() == operators.LogicalAnd) {
			// Both come out so: the first once more, for what the second says of it.
			for _, a := range []ast.Expr{args[0], args[1], args[0]} {
				if w = r.assume(w, f, a, want); w == nil {
					return nil, true
				}
			}
			return w, true
		}
		other := r.assume(w, f, args[0], !want)
		if other != nil {
			other = r.assume(other, f, args[1], want)
		}
		return either(r.assume(w, f, args[0], want), other), true
	case operators.Conditional:
		yes, no := r.assume(w, f, args[0], true), r.assume(w, f, args[0], false)
		if yes != nil {
			yes = r.assume(yes, f, args[1], want)
		}
		if no != nil {
			no = r.assume(no, f, args[2], want)
		}
		return either(yes, no), true
	case operators.Equals, operators.NotEquals:
		return r.assumeEqual(w, f, args[0], args[1], want == (c.FunctionName() == operators.Equals)), true
	case operators.In:
		return r.assumeIn(w, f, args[0], args[1], want), true
	case operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals:
		less := c.FunctionName() == operators.Less || c.FunctionName() == operators.LessEquals
		strict := c.FunctionName() == operators.Less || c.FunctionName() == operators.Greater
		if !want {
			less, strict = !less, !strict
		}
		if less {
			return r.assumeLess(w, f, args[0], args[1], strict), true
		}
		return r.assumeLess(w, f, args[1], args[0], strict), true
	case "within":
		a, b, t := r.extent(w, f, args[0]), r.extent(w, f, args[1]), r.extent(w, f, args[2])
		if !want {
			if farthest := max(math.Abs(a.high-b.low), math.Abs(b.high-a.low)); order(farthest, t.low) <= 0 {
				return nil, true
			}
			return w, true
		}
		return r.narrow(w, f, args[0], numbers(b.low-t.high, b.high+t.high)), true
	}
	return nil, false
}

// assumeLess narrows the world to where a is below b, or not above it.
func (r *Reach) assumeLess(w *World, f frame, a, b ast.Expr, strict bool) *World {
	if key := r.key(f, a); key != "" && key == r.key(f, b) {
		if strict {
			return nil // nothing is less than itself
		}
		return w
	}
	x, y := r.extent(w, f, a), r.extent(w, f, b)
	w = r.narrow(w, f, a, numbers(math.Inf(-1), below(y.high, strict, x.whole)))
	if w == nil {
		return nil
	}
	return r.narrow(w, f, b, numbers(above(x.low, strict, y.whole), math.Inf(1)))
}

// below is the greatest number under another, or that one itself.
func below(n float64, strict, whole bool) float64 { return -above(-n, strict, whole) }

// above is the least number over another, or that one itself.
func above(n float64, strict, whole bool) float64 {
	switch {
	case math.IsInf(n, 0) || !strict && !whole:
		return n
	case whole && strict:
		return math.Floor(n) + 1
	case whole:
		return math.Ceil(n)
	case n == 0:
		return math.SmallestNonzeroFloat64
	}
	return n + 3*roundingSlack*math.Abs(n)
}

// assumeEqual narrows the world to where two parts are the same, or differ.
func (r *Reach) assumeEqual(w *World, f frame, a, b ast.Expr, same bool) *World {
	x, y := r.extent(w, f, a), r.extent(w, f, b)
	if same {
		if w = r.narrow(w, f, a, y); w == nil {
			return nil
		}
		return r.narrow(w, f, b, x)
	}
	if key := r.key(f, a); key != "" && key == r.key(f, b) {
		return nil
	}
	if y.one() {
		if w = r.narrowTo(w, f, a, x.without(y)); w == nil {
			return nil
		}
	}
	if x.one() {
		w = r.narrowTo(w, f, b, y.without(x))
	}
	return w
}

// narrowTo says what is known of a part; of a condition, which way it comes out.
func (r *Reach) narrowTo(w *World, f frame, e ast.Expr, to extent) *World {
	if to.empty() {
		return nil
	}
	if f.prog.tree.GetType(e.ID()).Kind() == types.BoolKind && len(to.words) == 1 {
		return r.assume(w, f, e, to.words[0] == "true")
	}
	return w.with(r.key(f, e), to)
}

// assumeIn narrows the world to where something is one of a list, or none of it.
func (r *Reach) assumeIn(w *World, f frame, a, list ast.Expr, want bool) *World {
	all, ok := r.itemsOf(w, f, list)
	if !ok {
		return w
	}
	x := r.extent(w, f, a)
	if !want {
		for _, one := range all {
			if one.one() {
				x = x.without(one)
			}
		}
		return w.with(r.key(f, a), x)
	}
	var union extent
	for i, one := range all {
		if i == 0 {
			union = one
		} else {
			union = union.hull(one)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return w.with(r.key(f, a), x.meet(union))
}

// itemsOf lists the items of a list that is written out, or the keys of a table.
func (r *Reach) itemsOf(w *World, f frame, list ast.Expr) ([]extent, bool) {
	if t := r.table(f, list); t != nil {
		var out []extent
		for _, key := range slices.Sorted(maps.Keys(t.rows)) {
			out = append(out, word(key))
		}
		return out, true
	}
	if list.Kind() != ast.ListKind {
		return nil, false
	}
	var out []extent
	for _, x := range list.AsList().Elements() {
		out = append(out, r.extent(w, f, x))
	}
	return out, true
}
