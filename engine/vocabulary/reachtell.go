package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/schema/quantity"
)

// always says that a condition comes out one way, and why.
func (r *Reach) always(w *World, f frame, e ast.Expr, way bool) string {
	out := fmt.Sprintf("%s is always %v", f.prog.said(e), way)
	if why := r.tell(w, f, e); why != "" {
		out += ": " + why
	}
	return out + "; say what can come out both ways, or leave it out"
}

// tell says what the facts of an expression can be in a world.
func (r *Reach) tell(w *World, f frame, e ast.Expr) string {
	var out []string
	add := func(text string) {
		if text != "" && !slices.Contains(out, text) && len(out) < 3 {
			out = append(out, text)
		}
	}
	var visit func(f frame, e ast.Expr)
	visit = func(f frame, e ast.Expr) {
		if r.spent() {
			return
		}
		switch e.Kind() {
		case ast.IdentKind:
			if p := r.let(f, e.AsIdent()); p != nil {
				visit(frame{prog: p}, p.tree.Expr())
			} else if v, ok := r.fixed[e.AsIdent()]; ok && r.table(f, e) == nil {
				add(fmt.Sprintf("%s is %v", e.AsIdent(), valueText(v)))
			}
		case ast.SelectKind:
			if text := r.tellOne(w, f, e); text != "" {
				add(text)
				return
			}
			visit(f, e.AsSelect().Operand())
		case ast.CallKind:
			if e.AsCall().IsMemberFunction() {
				visit(f, e.AsCall().Target())
			}
			for _, a := range e.AsCall().Args() {
				visit(f, a)
			}
		case ast.ComprehensionKind:
			visit(f, e.AsComprehension().IterRange())
			if _, body := macroOf(e.AsComprehension()); body != nil {
				visit(r.into(f, e.AsComprehension()), body)
			}
		}
	}
	visit(f, e)
	return strings.Join(out, "; ")
}

// tellOne says what one fact can be in a world.
func (r *Reach) tellOne(w *World, f frame, e ast.Expr) string {
	x, name := r.extent(w, f, e), f.prog.said(e)
	t := f.prog.tree.GetType(e.ID())
	switch {
	case !x.anyWord && len(x.words) == 1:
		return name + " is " + x.words[0] + " here"
	case t.Kind() == types.BoolKind:
		return ""
	case !x.anyWord:
		return name + " is one of " + someOf(x.words)
	case x.bounded():
		return name + " lies between " + r.amount(x.low, t) + " and " + r.amount(x.high, t)
	}
	return ""
}

// amount writes a number of a type.
func (r *Reach) amount(si float64, t *types.Type) string {
	if d := DimensionOf(t); d != quantity.None {
		if v, err := quantity.New(si, d); err == nil {
			return v.FormatDigits(quantity.Metric, 4)
		}
	}
	return plain(si)
}

func valueText(v ref.Val) string {
	if q, ok := v.(Quantity); ok {
		return q.String()
	}
	return fmt.Sprint(v.Value())
}

// someOf lists words, the first few of many.
func someOf(list []string) string {
	const most = 6
	if len(list) > most {
		return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
	}
	return strings.Join(list, ", ")
}
