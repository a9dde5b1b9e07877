package vocabulary

import (
	"fmt"
	"math"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/parser"

	"plumbline/schema/quantity"
)

// Tree is an expression as it is written: units, all, exists and their like
// still stand as calls, so that its text can be written back.
type Tree struct {
	root ast.Expr
	info *ast.SourceInfo
}

// ParseTree parses an expression that compiles.
func ParseTree(text string) (*Tree, error) {
	p, err := parser.NewParser()
	if err != nil {
		return nil, err
	}
	parsed, errs := p.Parse(common.NewTextSource(text))
	if len(errs.GetErrors()) > 0 {
		return nil, fmt.Errorf("%s", errs.ToDisplayString())
	}
	return &Tree{parsed.Expr(), parsed.SourceInfo()}, nil
}

// Root is the whole expression.
func (t *Tree) Root() ast.Expr { return t.root }

// Text writes a part of the expression on one line.
func (t *Tree) Text(e ast.Expr) string {
	text, err := parser.Unparse(e, t.info, parser.WrapOnColumn(math.MaxInt32))
	if err != nil {
		return err.Error()
	}
	if !strings.ContainsAny(text, `'\`) {
		text = strings.ReplaceAll(text, `"`, `'`)
	}
	return text
}

// At is the line and column of a part in the text, from 1.
func (t *Tree) At(e ast.Expr) (line, column int) {
	// An operator stands between its operands: the part begins with the first.
	for e.Kind() == ast.CallKind || e.Kind() == ast.SelectKind {
		switch {
		case e.Kind() == ast.SelectKind:
			e = e.AsSelect().Operand()
		case e.AsCall().IsMemberFunction():
			e = e.AsCall().Target()
		case infix(e.AsCall().FunctionName()):
			e = e.AsCall().Args()[0]
		default:
			at := t.info.GetStartLocation(e.ID())
			return max(1, at.Line()), at.Column() + 1 - callWidth(e)
		}
	}
	at := t.info.GetStartLocation(e.ID())
	return max(1, at.Line()), at.Column() + 1
}

// callWidth is how far before its bracket a call begins.
func callWidth(e ast.Expr) int {
	if name := e.AsCall().FunctionName(); name != operators.LogicalNot && name != operators.Negate {
		return len(name)
	}
	return 0
}

func infix(function string) bool {
	_, binary := operators.FindReverseBinaryOperator(function)
	return binary || function == operators.Conditional || function == operators.Index
}

// With writes the whole expression with one part replaced.
func (t *Tree) With(part, other ast.Expr) string {
	root := ast.NewExprFactory().CopyExpr(t.root)
	find(root, part.ID()).SetKindCase(other)
	return t.Text(root)
}

// find returns the outermost node with an id.
func find(root ast.Expr, id int64) ast.Expr {
	var out ast.Expr
	ast.PreOrderVisit(root, ast.NewExprVisitor(func(e ast.Expr) {
		if out == nil && e.ID() == id {
			out = e
		}
	}))
	return out
}

// Chain lists the operands of && or ||, those of the same operator inside
// them included; nil for other expressions.
func Chain(e ast.Expr) []ast.Expr {
	if e.Kind() != ast.CallKind {
		return nil
	}
	op := e.AsCall().FunctionName()
	if op != operators.LogicalAnd && op != operators.LogicalOr {
		return nil
	}
	var out []ast.Expr
	for _, a := range e.AsCall().Args() {
		if a.Kind() == ast.CallKind && a.AsCall().FunctionName() == op {
			out = append(out, Chain(a)...)
		} else {
			out = append(out, a)
		}
	}
	return out
}

// IsComparison says whether a function is an operator that compares.
func IsComparison(function string) bool {
	switch function {
	case operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals, operators.Equals, operators.NotEquals, operators.In:
		return true
	}
	return false
}

// Body returns the condition that all, exists, exists_one, filter or map asks
// of each item, the name of the item, and the other expression of map.
func Body(e ast.Expr) (item string, condition, value ast.Expr) {
	if e.Kind() != ast.CallKind || !e.AsCall().IsMemberFunction() {
		return "", nil, nil
	}
	args := e.AsCall().Args()
	if len(args) < 2 || args[0].Kind() != ast.IdentKind {
		return "", nil, nil
	}
	switch e.AsCall().FunctionName() {
	case "all", "exists", "exists_one", "filter":
		return args[0].AsIdent(), args[1], nil
	case "map":
		if len(args) == 3 {
			return args[0].AsIdent(), args[1], args[2]
		}
		return args[0].AsIdent(), nil, args[1]
	}
	return "", nil, nil
}

// Parts lists what can be true or false in the expression: every comparison,
// every operand of && || ! and ?:, what is asked of each item of a list, and
// the whole, if it is a condition. Of !x only x is listed, and true and false
// themselves are not.
func (t *Tree) Parts(condition bool) []ast.Expr {
	var out []ast.Expr
	var walk func(e ast.Expr, condition bool)
	walk = func(e ast.Expr, condition bool) {
		function := ""
		if e.Kind() == ast.CallKind {
			function = e.AsCall().FunctionName()
		}
		if function != operators.LogicalNot && e.Kind() != ast.LiteralKind && (condition || IsComparison(function)) {
			out = append(out, e)
		}
		switch e.Kind() {
		case ast.SelectKind:
			walk(e.AsSelect().Operand(), false)
		case ast.ListKind:
			for _, x := range e.AsList().Elements() {
				walk(x, false)
			}
		case ast.CallKind:
			call := e.AsCall()
			if chain := Chain(e); chain != nil {
				for _, x := range chain {
					walk(x, true)
				}
				return
			}
			if call.IsMemberFunction() {
				walk(call.Target(), false)
			}
			if item, asked, value := Body(e); item != "" {
				if asked != nil {
					walk(asked, true)
				}
				if value != nil {
					walk(value, false)
				}
				return
			}
			for i, a := range call.Args() {
				asks := function == operators.LogicalNot || function == operators.Conditional && (i == 0 || condition)
				walk(a, asks)
			}
		}
	}
	walk(t.root, condition)
	return out
}

// seenFunction is what watched expressions call; rules cannot.
const seenFunction = "seen"

// Watched writes the expression with each of the parts handed to seen, numbered
// from first; only a watching vocabulary compiles it.
func (t *Tree) Watched(parts []ast.Expr, first int) string {
	factory := ast.NewExprFactory()
	root := factory.CopyExpr(t.root)
	for i, p := range parts {
		e := find(root, p.ID())
		e.SetKindCase(factory.NewCall(0, seenFunction, factory.NewLiteral(0, types.Int(first+i)), factory.CopyExpr(e)))
	}
	return t.Text(root)
}

// Watching returns a vocabulary for one goroutine that compiles watched
// expressions: they tell note the number and the value of every part whose
// value is known when they run.
func (v *Vocabulary) Watching(note func(part int, value bool)) (*Vocabulary, error) {
	// Watched texts are longer and nested deeper than what rules may write.
	base, err := v.base.Extend(
		cel.ParserExpressionSizeLimit(4*maxExpressionBytes),
		cel.ParserRecursionLimit(2*maxDepth),
		cel.Function(seenFunction, cel.Overload("seen_part", []*types.Type{types.IntType, types.BoolType}, types.BoolType,
			cel.BinaryBinding(func(part, value ref.Val) ref.Val {
				note(int(part.(types.Int)), value == types.True)
				return value
			}))))
	if err != nil {
		return nil, err
	}
	out := v.Clone()
	out.base, out.wide = base, base
	return out, nil
}

// Fresh returns the vocabulary without the expressions it has compiled; it
// belongs to the same goroutine.
func (v *Vocabulary) Fresh() *Vocabulary {
	return &Vocabulary{base: v.base, wide: v.wide, products: v.products, shapes: v.shapes, envs: v.envs, figures: v.figures, done: map[programKey]*Program{}}
}

// LiteralFunction names the function that makes a quantity of a number in SI units.
func LiteralFunction(d quantity.Dimension) string { return literalFunction(d) }
