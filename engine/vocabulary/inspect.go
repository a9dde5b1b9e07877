package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/document"
)

// inspection is what the checks beyond CEL's own found.
type inspection struct {
	v     *Vocabulary
	tree  *ast.AST
	words []string
	facts []string
	// fields are those read, by their type.
	fields []string
	names  []string
	faults Faults
	// known words of names in scope: variables and list items.
	scope map[string][]string
	// bound maps list items to the path of their list.
	bound map[string]string
	// guards are the parts whose `fitted` is read, guarded those that need it.
	guards, guarded []string
}

// inspect walks a checked expression: spellings of words, no equality on
// quantities or fractions, and what it mentions.
func (v *Vocabulary) inspect(tree *cel.Ast, vars []Variable) *inspection {
	in := &inspection{v: v, tree: tree.NativeRep(), scope: map[string][]string{}, bound: map[string]string{}}
	for _, x := range vars {
		in.scope[x.Name] = x.Words
	}
	root := in.tree.Expr()
	in.walk(root)
	in.words = in.wordsOf(root)
	slices.Sort(in.facts)
	in.facts = slices.Compact(in.facts)
	slices.Sort(in.fields)
	in.fields = slices.Compact(in.fields)
	slices.Sort(in.names)
	in.names = slices.Compact(in.names)
	return in
}

func (in *inspection) fault(e ast.Expr, format string, args ...any) {
	line, column := 1, 1
	if loc := in.tree.SourceInfo().GetStartLocation(e.ID()); loc.Line() > 0 {
		line, column = loc.Line(), loc.Column()+1
	}
	in.faults = append(in.faults, Fault{line, column, fmt.Sprintf(format, args...)})
}

func (in *inspection) walk(e ast.Expr) {
	switch e.Kind() {
	case ast.IdentKind:
		in.names = append(in.names, e.AsIdent())
	case ast.SelectKind:
		if path, ok := in.path(e); ok {
			in.facts = append(in.facts, path)
		}
		in.guard(e.AsSelect())
		operand := in.tree.GetType(e.AsSelect().Operand().ID()).TypeName()
		operand = strings.TrimPrefix(operand[strings.LastIndexByte(operand, '.')+1:], maybePrefix)
		in.fields = append(in.fields, operand+"."+e.AsSelect().FieldName())
		in.walk(e.AsSelect().Operand())
	case ast.CallKind:
		call := e.AsCall()
		in.call(e, call)
		if call.IsMemberFunction() {
			in.walk(call.Target())
		}
		for _, a := range call.Args() {
			in.walk(a)
		}
	case ast.ListKind:
		for _, x := range e.AsList().Elements() {
			in.walk(x)
		}
	case ast.MapKind, ast.StructKind:
		in.fault(e, "rules do not build maps or messages")
	case ast.ComprehensionKind:
		c := e.AsComprehension()
		in.walk(c.IterRange())
		outer, had := in.scope[c.IterVar()]
		in.scope[c.IterVar()] = in.wordsOf(c.IterRange())
		if path, ok := in.path(c.IterRange()); ok {
			in.bound[c.IterVar()] = path + "[]"
		}
		in.walk(c.LoopCondition())
		in.walk(c.LoopStep())
		in.walk(c.Result())
		if had {
			in.scope[c.IterVar()] = outer
		}
	}
}

// guard notes reads of parts that may be none.
func (in *inspection) guard(s ast.SelectExpr) {
	sh := in.v.shapes[in.tree.GetType(s.Operand().ID()).TypeName()]
	if sh == nil || !sh.optional {
		return
	}
	path, ok := in.path(s.Operand())
	if !ok {
		return
	}
	if s.FieldName() == "fitted" {
		in.guards = append(in.guards, path)
	} else {
		in.guarded = append(in.guarded, path)
	}
}

// path writes a chain of selects as rules write it: design.pump.place, or
// run.bore for a variable.
func (in *inspection) path(e ast.Expr) (string, bool) {
	switch e.Kind() {
	case ast.IdentKind:
		if p, ok := in.bound[e.AsIdent()]; ok {
			return p, true
		}
		return e.AsIdent(), true
	case ast.SelectKind:
		base, ok := in.path(e.AsSelect().Operand())
		return base + "." + e.AsSelect().FieldName(), ok
	case ast.CallKind:
		if c := e.AsCall(); c.FunctionName() == operators.Index {
			base, ok := in.path(c.Args()[0])
			return base + "[]", ok
		}
	}
	return "", false
}

// wordsOf lists the spellings an expression can have, when that is known.
func (in *inspection) wordsOf(e ast.Expr) []string {
	switch e.Kind() {
	case ast.IdentKind:
		return in.scope[e.AsIdent()]
	case ast.SelectKind:
		s := e.AsSelect()
		t := in.tree.GetType(s.Operand().ID())
		if sh := in.v.shapes[t.TypeName()]; sh != nil {
			if f := sh.fields[s.FieldName()]; f != nil {
				return f.words
			}
		}
	case ast.CallKind:
		if c := e.AsCall(); c.FunctionName() == operators.Conditional {
			return in.wordsOf(c.Args()[1])
		}
	}
	return nil
}

func (in *inspection) call(e ast.Expr, c ast.CallExpr) {
	in.bounded(e, c)
	switch c.FunctionName() {
	case operators.Equals, operators.NotEquals:
		l, r := c.Args()[0], c.Args()[1]
		in.noEquality(e, l)
		in.spelling(l, r)
		in.spelling(r, l)
	case operators.In:
		l, r := c.Args()[0], c.Args()[1]
		in.noEquality(e, l)
		if r.Kind() == ast.ListKind {
			for _, x := range r.AsList().Elements() {
				in.spelling(l, x)
			}
		} else {
			in.spelling(r, l)
		}
	case operators.Index:
		if path, ok := in.path(c.Args()[0]); ok && derive.ViewAt(path) != nil {
			in.fault(e, "nothing has a fixed place in %s: it gathers several lists; say exists, all or filter", path)
		} else if ok && schema.MayBeOpen(path) {
			in.fault(e, "nothing has a fixed place in %s: a piece that nobody named may come before; say exists, all or filter", path)
		}
	case operators.Add, operators.Subtract:
		t := in.tree.GetType(e.ID())
		for _, d := range []string{"Temperature", "AbsolutePressure"} {
			if t.TypeName() == "quantity" && len(t.Parameters()) == 1 && t.Parameters()[0].TypeName() == d {
				hint := map[string]string{"Temperature": "rise(from, to)", "AbsolutePressure": "difference(a, b)"}[d]
				in.fault(e, "two values of %s are not added or subtracted; say %s", strings.ToLower(d), hint)
			}
		}
	}
}

func (in *inspection) noEquality(e, operand ast.Expr) {
	t := in.tree.GetType(operand.ID())
	switch {
	case t.TypeName() == "quantity":
		in.fault(e, "quantities are never exactly equal; say within(a, b, tolerance)")
	case t.Kind() == types.DoubleKind:
		in.fault(e, "fractions are never exactly equal; say within(a, b, tolerance)")
	}
}

// spelling checks a literal word against the words the other side can have.
func (in *inspection) spelling(side, literal ast.Expr) {
	words := in.wordsOf(side)
	if words == nil || literal.Kind() != ast.LiteralKind {
		return
	}
	text, ok := literal.AsLiteral().(types.String)
	if !ok || slices.Contains(words, string(text)) {
		return
	}
	hint := ""
	if near := document.Nearest(string(text), words); near != "" {
		hint = fmt.Sprintf("; did you mean '%s'?", near)
	}
	in.fault(literal, "'%s' is not a word this fact can have%s (words: %s)", string(text), hint, strings.Join(words, ", "))
}
