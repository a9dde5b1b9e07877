package vocabulary

import (
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
)

// Lean says which way an expression goes when a name in it grows: a number
// grows or shrinks, a condition comes true more easily or less.
type Lean int

// The leans. Both is also said of what cannot be told.
const (
	Still Lean = 0
	Up    Lean = 1
	Down  Lean = 2
	Both  Lean = Up | Down
)

// Opposite swaps up and down.
func (l Lean) Opposite() Lean {
	switch l {
	case Up:
		return Down
	case Down:
		return Up
	}
	return l
}

// Lean finds which way the expression goes; of tells it for names such as
// limit.flow_reserve, and is asked the longest name first. Products and
// quotients are of figures above zero, as limits and physical sizes are.
func (t *Tree) Lean(of func(name string) Lean) Lean { return lean(t.root, of) }

func lean(e ast.Expr, of func(string) Lean) Lean {
	if name, ok := Dotted(e); ok {
		return of(name)
	}
	switch e.Kind() {
	case ast.SelectKind:
		if row := e.AsSelect().Operand(); row.Kind() == ast.CallKind && row.AsCall().FunctionName() == operators.Index {
			if name, ok := Dotted(row.AsCall().Args()[0]); ok && strings.HasPrefix(name, "table.") {
				// A cell of a table is told by table and column; the key must stand still.
				return of(name+"."+e.AsSelect().FieldName()) | still(lean(row.AsCall().Args()[1], of))
			}
		}
		return still(lean(e.AsSelect().Operand(), of))
	case ast.CallKind:
		return leanCall(e.AsCall(), of)
	case ast.ListKind:
		out := Still
		for _, x := range e.AsList().Elements() {
			out |= still(lean(x, of))
		}
		return out
	}
	return Still
}

// still keeps what does not move and says Both of the rest.
func still(l Lean) Lean {
	if l == Still {
		return Still
	}
	return Both
}

// leans of the arguments of calls: u goes with the call, d against it, b both ways.
var leans = map[string]string{
	operators.Add: "uu", operators.Subtract: "ud", operators.Negate: "d", operators.Multiply: "uu", operators.Divide: "ud",
	operators.Less: "du", operators.LessEquals: "du", operators.Greater: "ud", operators.GreaterEquals: "ud",
	operators.LogicalAnd: "uu", operators.LogicalOr: "uu", operators.LogicalNot: "d",
	operators.Conditional: "buu",
	"within":              "bbu", "smaller": "uu", "larger": "uu", "rise": "du", "difference": "ud", unitTimes: "uu",
}

func leanCall(c ast.CallExpr, of func(string) Lean) Lean {
	ways, args := leans[c.FunctionName()], c.Args()
	if c.IsMemberFunction() {
		// The list of all and exists must stand still; the condition on its items counts.
		out := still(lean(c.Target(), of))
		for i, a := range args {
			l := lean(a, of)
			if i != len(args)-1 || c.FunctionName() != "all" && c.FunctionName() != "exists" {
				l = still(l)
			}
			out |= l
		}
		return out
	}
	out := Still
	for i, a := range args {
		l, way := lean(a, of), byte('b')
		if i < len(ways) {
			way = ways[i]
		}
		switch way {
		case 'd':
			l = l.Opposite()
		case 'b':
			l = still(l)
		}
		out |= l
	}
	return out
}

// Dotted is the name of an identifier or a chain of selects.
func Dotted(e ast.Expr) (string, bool) {
	switch e.Kind() {
	case ast.IdentKind:
		return e.AsIdent(), true
	case ast.SelectKind:
		if name, ok := Dotted(e.AsSelect().Operand()); ok {
			return name + "." + e.AsSelect().FieldName(), true
		}
	case ast.CallKind:
		return figureOf(e.AsCall())
	}
	return "", false
}
