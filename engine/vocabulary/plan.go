package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"
	"github.com/google/cel-go/parser"
)

// plan makes a checked expression ready to run. Chains of names, which most of
// the work of rules consists of, are looked up beforehand; units and lists of
// constants are worked out beforehand. The chain is the whole expression, if
// it is nothing else.
func (v *Vocabulary) plan(tree *ast.AST, more ...cel.ProgramOption) (cel.Program, *chain, error) {
	p := &planning{shapes: v.shapes, tree: tree, nodes: map[int64]ast.Expr{}, joins: map[int64]bool{}, scales: map[int64]bool{}}
	ast.PreOrderVisit(p.tree.Expr(), ast.NewExprVisitor(func(e ast.Expr) {
		switch {
		case e.Kind() == ast.SelectKind:
			p.nodes[e.ID()] = e
		case makes(tree, e) && !gathers(e):
			p.joins[e.ID()] = true
		case scales(tree, e):
			p.scales[e.ID()] = true
		}
	}))
	prog, err := v.base.PlanProgram(tree, append(more, cel.CustomDecoratorV2(p.decorate), cel.EvalOptions(cel.OptOptimize))...)
	if err != nil {
		return nil, nil, err
	}
	whole, _ := p.chain(p.tree.Expr())
	return prog, whole, nil
}

// planning is one expression being made ready.
type planning struct {
	shapes shapes
	tree   *ast.AST
	// nodes are the selections of the expression.
	nodes map[int64]ast.Expr
	// joins are the sums of texts and lists, scales the products whose first side is a plain number.
	joins, scales map[int64]bool
}

// gathers reports whether a sum is the one by which map and filter gather their items.
func gathers(e ast.Expr) bool {
	first := e.AsCall().Args()[0]
	return first.Kind() == ast.IdentKind && (first.AsIdent() == parser.AccumulatorName || first.AsIdent() == parser.HiddenAccumulatorName)
}

// decorate replaces one step of cel-go's plan by a faster one of the same result.
func (p *planning) decorate(i interpreter.InterpretableV2) (interpreter.InterpretableV2, error) {
	switch x := i.(type) {
	case *chainStep:
		// A longer chain is planned as the shorter one with one more name.
		return p.attribute(x.InterpretableAttribute), nil
	case interpreter.InterpretableAttribute:
		return p.attribute(x), nil
	case interpreter.InterpretableCall:
		if p.joins[x.ID()] && x.Function() == operators.Add && len(x.Args()) == 2 {
			return &addition{x, x.Args()[0], x.Args()[1]}, nil
		}
		if p.scales[x.ID()] && len(x.Args()) == 2 {
			return &scaling{x, x.Args()[0], x.Args()[1]}, nil
		}
		if args := x.Args(); len(args) == 1 && strings.HasPrefix(x.Function(), literalPrefix) {
			if _, constant := args[0].(interpreter.InterpretableConst); constant {
				return interpreter.NewConstValue(x.ID(), x.Eval(interpreter.EmptyActivation())), nil
			}
		}
	}
	return i, nil
}

func (p *planning) attribute(a interpreter.InterpretableAttribute) interpreter.InterpretableV2 {
	if c, ok := p.chain(p.nodes[a.ID()]); ok {
		return &chainStep{a, c}
	}
	return a
}

// chain looks a chain of names up in the types of the parts.
func (p *planning) chain(e ast.Expr) (*chain, bool) {
	c := &chain{}
	for e != nil && e.Kind() == ast.SelectKind && !e.AsSelect().IsTestOnly() {
		s := e.AsSelect()
		shape := p.shapes[p.tree.GetType(s.Operand().ID()).TypeName()]
		if shape == nil || shape.fields[s.FieldName()] == nil {
			return nil, false
		}
		c.fields = append(c.fields, shape.fields[s.FieldName()])
		e = s.Operand()
	}
	if e == nil || e.Kind() != ast.IdentKind || len(c.fields) == 0 {
		return nil, false
	}
	c.root = e.AsIdent()
	slices.Reverse(c.fields)
	return c, true
}

// chain is a name and the fields followed from it.
type chain struct {
	root   string
	fields []*field
}

// follow gives the value at the end; not ok when the name leads to no part.
func (c *chain) follow(names cel.Activation) (v ref.Val, ok bool) {
	start, _ := names.ResolveName(c.root)
	o, ok := start.(*object)
	if !ok {
		return nil, false
	}
	for i, f := range c.fields {
		if i > 0 {
			if o, ok = v.(*object); !ok {
				return v, types.IsUnknown(v)
			}
		}
		if o.absent != "" && f.name != "fitted" {
			return types.WrapErr(ErrAbsent{o.absent}), true
		}
		v = o.read(f)
	}
	return v, true
}

// value is follow for a chain that is a whole expression. A fault of the
// program becomes an error value, as in cel-go.
func (c *chain) value(names cel.Activation) (v ref.Val, ok bool) {
	defer func() {
		if r := recover(); r != nil {
			v, ok = types.WrapErr(fmt.Errorf("internal error: %v", r)), true
		}
	}()
	return c.follow(names)
}

// chainStep is a chain within an expression. What is no plain chain of parts
// goes cel-go's own way.
type chainStep struct {
	interpreter.InterpretableAttribute
	chain *chain
}

// Exec gives the chain's value.
func (s *chainStep) Exec(frame *interpreter.ExecutionFrame) ref.Val {
	if v, ok := s.chain.follow(frame); ok && !types.IsError(v) {
		return v
	}
	return s.InterpretableAttribute.Exec(frame)
}

// Attr is what a choice, a ? b : c, takes its branches from.
func (s *chainStep) Attr() interpreter.Attribute {
	return &chainAttribute{s.InterpretableAttribute.Attr(), s.chain}
}

// chainAttribute is a chain as a branch of a choice.
type chainAttribute struct {
	interpreter.Attribute
	chain *chain
}

// AddQualifier gives the attribute a further name, which the chain lacks.
func (a *chainAttribute) AddQualifier(q interpreter.Qualifier) (interpreter.Attribute, error) {
	a.chain = nil
	return a.Attribute.AddQualifier(q)
}

// Resolve gives the chain's value.
func (a *chainAttribute) Resolve(names interpreter.Activation) (any, error) {
	if a.chain != nil {
		if v, ok := a.chain.follow(names); ok && !types.IsError(v) {
			return v, nil
		}
	}
	return a.Attribute.Resolve(names)
}

// Eval gives the chain's value.
func (s *chainStep) Eval(names interpreter.Activation) ref.Val {
	return s.Exec(interpreter.AsFrame(names))
}
