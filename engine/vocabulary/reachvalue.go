package vocabulary

import (
	"math"
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/schema"
)

// extent is what a part of an expression can come out as in a world; nil asks of it anywhere.
func (r *Reach) extent(w *World, f frame, e ast.Expr) extent {
	if r.spent() {
		return anything()
	}
	out := r.widest(w, f, e)
	if w != nil {
		if known, ok := w.known[r.key(f, e)]; ok {
			out = out.meet(known)
		}
	}
	return out
}

// widest is what a part can come out as by itself.
func (r *Reach) widest(w *World, f frame, e ast.Expr) extent {
	switch e.Kind() {
	case ast.LiteralKind:
		return valueExtent(e.AsLiteral())
	case ast.IdentKind:
		name := e.AsIdent()
		if x, is := f.items[name]; is {
			return itemExtent(x.from, f, e)
		}
		if p := r.let(f, name); p != nil {
			return r.extent(w, frame{prog: p}, p.tree.Expr())
		}
		if v, ok := r.fixed[name]; ok {
			return valueExtent(v)
		}
	case ast.SelectKind:
		return r.selected(w, f, e)
	case ast.CallKind:
		return r.called(w, f, e)
	case ast.ComprehensionKind:
		c := e.AsComprehension()
		if kind, _ := macroOf(c); kind == "filter" {
			return r.extent(w, f, c.IterRange())
		}
	}
	return typeExtent(f.prog.tree.GetType(e.ID()))
}

// itemExtent is that of an item of a list of facts, whose words and range the list has.
func itemExtent(of extent, f frame, e ast.Expr) extent {
	if of.anyWord && !of.bounded() {
		return typeExtent(f.prog.tree.GetType(e.ID()))
	}
	return of
}

// typeExtent is what a value of a type can be when nothing else is known.
func typeExtent(t *types.Type) extent {
	switch t.Kind() {
	case types.BoolKind:
		return eitherWay()
	case types.IntKind:
		return wholes(math.Inf(-1), math.Inf(1))
	}
	return anything()
}

// valueExtent is that of a constant.
func valueExtent(v ref.Val) extent {
	switch x := v.(type) {
	case types.Int:
		return wholes(float64(x), float64(x))
	case types.Double:
		return numbers(float64(x), float64(x))
	case types.String:
		return word(string(x))
	case types.Bool:
		return truth(bool(x))
	case types.Timestamp:
		return numbers(float64(x.Unix()), float64(x.Unix()))
	case Quantity:
		return numbers(x.SI(), x.SI())
	}
	return anything()
}

// selected is a field of a part or a cell of a row.
func (r *Reach) selected(w *World, f frame, e ast.Expr) extent {
	s := e.AsSelect()
	if rows, ok := r.rows(w, f, s.Operand()); ok {
		return cellExtent(rows, s.FieldName(), f.prog.tree.GetType(e.ID()))
	}
	sh := f.prog.vocabulary.shapes[f.prog.tree.GetType(s.Operand().ID()).TypeName()]
	if sh == nil || sh.fields[s.FieldName()] == nil {
		if v, ok := Dotted(e); ok && r.fixed[v] != nil {
			return valueExtent(r.fixed[v])
		}
		return typeExtent(f.prog.tree.GetType(e.ID()))
	}
	return sh.fields[s.FieldName()].extent()
}

// extent is what a fact or derived value can be.
func (x *field) extent() extent {
	t := x.typ
	if t.Kind() == types.ListKind {
		t = t.Parameters()[0]
	}
	switch {
	case len(x.words) > 0:
		return words(x.words)
	case x.ranged:
		out := numbers(x.low, x.high)
		out.whole = t.Kind() == types.IntKind
		return out
	}
	return typeExtent(t)
}

// rows are those of a table that a key can lead to.
func (r *Reach) rows(w *World, f frame, e ast.Expr) ([]*object, bool) {
	if e.Kind() == ast.IdentKind {
		if p := r.let(f, e.AsIdent()); p != nil {
			return r.rows(w, frame{prog: p}, p.tree.Expr())
		}
	}
	t, key := r.lookup(f, e)
	if t == nil {
		return nil, false
	}
	asked := r.extent(w, f, key)
	var out []*object
	for name, row := range t.rows {
		if asked.anyWord || slices.Contains(asked.words, name) {
			out = append(out, row.(*object))
		}
	}
	return out, true
}

// lookup is the table and key of a part that looks up a row.
func (r *Reach) lookup(f frame, e ast.Expr) (*table, ast.Expr) {
	if e.Kind() != ast.CallKind || e.AsCall().FunctionName() != operators.Index {
		return nil, nil
	}
	args := e.AsCall().Args()
	return r.table(f, args[0]), args[1]
}

// cellExtent is what the cells of a column can be.
func cellExtent(rows []*object, column string, t *types.Type) extent {
	var out extent
	first := true
	for _, row := range rows {
		v, ok := row.row[column]
		if !ok {
			continue // no figure: what reads it stays open
		}
		if first {
			out, first = valueExtent(v), false
		} else {
			out = out.hull(valueExtent(v))
		}
	}
	if first {
		return typeExtent(t)
	}
	return out
}

// sizeOf is how long a list can be.
func (r *Reach) sizeOf(w *World, f frame, list ast.Expr) extent {
	out := wholes(0, schema.MaxItems)
	if list.Kind() == ast.ListKind {
		n := float64(len(list.AsList().Elements()))
		out = wholes(n, n)
	}
	if of := r.key(f, list); of != "" && w != nil {
		if known, ok := w.known[sizeKey(of)]; ok {
			out = out.meet(known)
		}
	}
	return out
}

// called is what a function or operator gives.
func (r *Reach) called(w *World, f frame, e ast.Expr) extent {
	c := e.AsCall()
	t := f.prog.tree.GetType(e.ID())
	out := typeExtent(t)
	if t.Kind() == types.BoolKind {
		return out // conditions are asked by assume
	}
	args := c.Args()
	if c.IsMemberFunction() {
		args = append([]ast.Expr{c.Target()}, args...)
	}
	at := func(i int) extent { return r.extent(w, f, args[i]) }
	switch name := c.FunctionName(); {
	case name == operators.Conditional:
		return r.choice(w, f, args)
	case name == operators.Subtract && r.key(f, args[0]) != "" && r.key(f, args[0]) == r.key(f, args[1]):
		return numbers(0, 0)
	case name == "size" && f.prog.tree.GetType(args[0].ID()).Kind() == types.ListKind:
		return r.sizeOf(w, f, args[0])
	case len(name) > len(literalPrefix) && name[:len(literalPrefix)] == literalPrefix, name == "double":
		out = at(0)
		out.whole = false
		return out
	case name == "int" && t.Kind() == types.IntKind:
		x := at(0)
		return wholes(math.Floor(x.low), math.Ceil(x.high))
	case name == "date":
		if v := evalConstant(f.prog, e); v != nil {
			return valueExtent(v)
		}
		return out
	default:
		if sums := arithmetic[name]; sums != nil && (len(args) == 2 || name == operators.Negate || name == "size_of_change") {
			x := at(0)
			y := x
			if len(args) == 2 {
				y = at(1)
			}
			result := sums(x, y)
			if t.Kind() == types.IntKind {
				result = wholes(math.Floor(result.low), math.Ceil(result.high))
			}
			return result
		}
	}
	return out
}

// arithmetic says what comes out of two numbers.
var arithmetic = map[string]func(a, b extent) extent{
	operators.Add: extent.plus, operators.Subtract: extent.minus, operators.Multiply: extent.times, operators.Divide: extent.over,
	operators.Negate: func(a, _ extent) extent { return a.negated() },
	"difference":     extent.minus,
	"rise":           func(a, b extent) extent { return b.minus(a) },
	unitTimes:        extent.times,
	"smaller":        func(a, b extent) extent { return numbers(min(a.low, b.low), min(a.high, b.high)) },
	"larger":         func(a, b extent) extent { return numbers(max(a.low, b.low), max(a.high, b.high)) },
	"size_of_change": func(a, _ extent) extent {
		if a.low <= 0 && a.high >= 0 {
			return numbers(0, max(-a.low, a.high))
		}
		return corners(math.Abs(a.low), math.Abs(a.high))
	},
}

// choice is what c ? a : b can give.
func (r *Reach) choice(w *World, f frame, args []ast.Expr) extent {
	if w == nil {
		w = Everywhere()
	}
	yes, no := r.assume(w, f, args[0], true), r.assume(w, f, args[0], false)
	switch {
	case yes == nil && no == nil:
		return anything()
	case no == nil:
		return r.extent(yes, f, args[1])
	case yes == nil:
		return r.extent(no, f, args[2])
	}
	return r.extent(yes, f, args[1]).hull(r.extent(no, f, args[2]))
}
