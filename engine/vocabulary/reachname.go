package vocabulary

import (
	"maps"
	"math"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// table is the table a name stands for.
func (r *Reach) table(f frame, e ast.Expr) *table {
	name, _ := Dotted(e)
	t, _ := r.fixed[name].(*table)
	return t
}

// let is the expression a name of the rule stands for; nil for other names.
func (r *Reach) let(f frame, name string) *Program {
	if _, is := f.items[name]; is {
		return nil
	}
	return r.names[name]
}

// macroOf tells which of all, exists, filter and their like a loop is, and the condition on its items.
func macroOf(c ast.ComprehensionExpr) (kind string, body ast.Expr) {
	if c.LoopStep().Kind() != ast.CallKind {
		return "", nil
	}
	step := c.LoopStep().AsCall()
	args := step.Args()
	switch {
	case step.FunctionName() == operators.LogicalAnd:
		return "all", args[1]
	case step.FunctionName() == operators.LogicalOr:
		return "exists", args[1]
	case step.FunctionName() == operators.Conditional && c.AccuInit().Kind() == ast.LiteralKind:
		return "exists_one", args[0]
	case step.FunctionName() == operators.Conditional:
		grown := args[1].AsCall()
		if len(grown.Args()) == 2 && grown.Args()[1].Kind() == ast.ListKind {
			if x := grown.Args()[1].AsList().Elements(); len(x) == 1 && x[0].Kind() == ast.IdentKind && x[0].AsIdent() == c.IterVar() {
				return "filter", args[0]
			}
		}
		return "map", args[0]
	}
	return "map", nil
}

// into is the frame of the body of a loop.
func (r *Reach) into(f frame, c ast.ComprehensionExpr) frame {
	out := frame{prog: f.prog, items: maps.Clone(f.items)}
	if out.items == nil {
		out.items = map[string]item{}
	}
	key := ""
	if of := r.key(f, c.IterRange()); of != "" {
		key = "each of " + of + " as " + c.IterVar() // two loops over one list go their own ways
	}
	out.items[c.IterVar()] = item{key: key, from: r.extent(nil, f, c.IterRange())}
	return out
}

// assumeList narrows the world to where all or one of a list meets a condition.
func (r *Reach) assumeList(w *World, f frame, c ast.ComprehensionExpr, want bool) *World {
	kind, body := macroOf(c)
	one := kind == "exists" || kind == "exists_one"
	if kind != "all" && !one || want != one {
		return w // an empty list makes it so, whatever the condition
	}
	if r.assume(w, r.into(f, c), body, want) == nil {
		return nil
	}
	of := r.key(f, c.IterRange())
	if of == "" {
		return w
	}
	return w.with(sizeKey(of), r.sizeOf(w, f, c.IterRange()).meet(wholes(1, math.Inf(1))))
}

func sizeKey(of string) string { return "size(" + of + ")" }

// key is the text by which a part is known wherever it is written; empty for what has none.
func (r *Reach) key(f frame, e ast.Expr) string {
	at := exprKey{f.prog, e.ID()}
	if key, ok := r.keys[at]; ok {
		return key
	}
	if r.spent() {
		return ""
	}
	key := r.makeKey(f, e)
	if len(key) > 400 {
		key = ""
	}
	r.keys[at] = key
	return key
}

func (r *Reach) makeKey(f frame, e ast.Expr) string {
	switch e.Kind() {
	case ast.IdentKind:
		name := e.AsIdent()
		if x, is := f.items[name]; is {
			return x.key
		}
		if p := r.let(f, name); p != nil {
			return r.key(frame{prog: p}, p.tree.Expr())
		}
		if name == "at" {
			return "design.at"
		}
		return name
	case ast.LiteralKind:
		if text, ok := e.AsLiteral().(types.String); ok {
			return "'" + string(text) + "'"
		}
		n, ok := number(e.AsLiteral())
		if !ok {
			return ""
		}
		return plain(n)
	case ast.SelectKind:
		if of := r.key(f, e.AsSelect().Operand()); of != "" {
			return of + "." + e.AsSelect().FieldName()
		}
	case ast.CallKind:
		c := e.AsCall()
		args := c.Args()
		if c.IsMemberFunction() {
			args = append([]ast.Expr{c.Target()}, args...)
		}
		parts := make([]string, len(args))
		for i, a := range args {
			if parts[i] = r.key(f, a); parts[i] == "" {
				return ""
			}
		}
		return c.FunctionName() + "(" + strings.Join(parts, ", ") + ")"
	}
	return ""
}
