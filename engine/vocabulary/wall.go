package vocabulary

import (
	"errors"
	"fmt"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/overloads"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"
	"github.com/google/cel-go/interpreter"
)

// The second wall: what costs() let through is counted while it runs too. It stands only around expressions that go
// through lists, join texts or match patterns; any other costs no more than its length.

// maxRun is the most steps one evaluation may take. CEL counts a little otherwise than the estimate does.
const maxRun = 2 * MaxSteps

// Meter counts the steps that rules of others take for one design. It belongs to one goroutine.
type Meter struct{ left int64 }

// NewMeter lets so many steps through.
func NewMeter(steps int64) *Meter { return &Meter{steps} }

// Spend takes steps; false when there are none left.
func (m *Meter) Spend(steps uint64) bool {
	if m.left > 0 {
		m.left -= int64(min(steps, maxRun))
	}
	return m.left > 0
}

// Metered are names whose evaluations are counted.
type Metered interface{ Meter() *Meter }

// ErrCost is the error of an expression that took too many steps or made too much.
type ErrCost struct{ Why string }

// Error says what was too much.
func (e ErrCost) Error() string { return e.Why }

// Costly returns what stopped an evaluation that cost too much.
func Costly(v ref.Val) (ErrCost, bool) {
	var e ErrCost
	x, ok := v.(*types.Err)
	return e, ok && errors.As(x, &e)
}

// Spent is the value of an evaluation for which no steps are left.
func Spent() ref.Val { return types.WrapErr(errSpent) }

var (
	errSteps = ErrCost{fmt.Sprintf("it took more than %d steps", maxRun)}
	errMade  = ErrCost{fmt.Sprintf("it made a text or list longer than %d", maxMade)}
	errSpent = ErrCost{"with the rules of local packs before it, it takes more steps than are allowed for a design"}
)

// metered evaluates and counts.
func (p *Program) metered(m *Meter, vars cel.Activation) ref.Val {
	if !m.Spend(1) {
		return Spent()
	}
	v, details, err := p.prog.Eval(vars)
	if details != nil && details.ActualCost() != nil {
		m.Spend(*details.ActualCost())
	} else {
		m.Spend(p.Steps)
	}
	return stopped(v, err)
}

// stopped is the value of an evaluation, or what stopped it.
func stopped(v ref.Val, err error) ref.Val {
	var cancelled interpreter.EvalCancelledError
	switch {
	case errors.As(err, &cancelled):
		return types.WrapErr(errSteps)
	case err != nil && (v == nil || !types.IsUnknownOrError(v)):
		return types.WrapErr(err)
	}
	return v
}

// walled reports whether an expression can cost more than its length.
func walled(tree *ast.AST) bool {
	found := false
	ast.PreOrderVisit(tree.Expr(), ast.NewExprVisitor(func(e ast.Expr) {
		switch e.Kind() {
		case ast.ComprehensionKind:
			found = true
		case ast.CallKind:
			found = found || makes(tree, e) || e.AsCall().FunctionName() == overloads.Matches
		}
	}))
	return found
}

// Longest is how long a text or list that it gives can be.
func (p *Program) Longest() uint64 {
	if p.size == nil {
		return 0
	}
	return p.size.n
}

// makes reports whether a call joins texts or lists.
func makes(tree *ast.AST, e ast.Expr) bool {
	if e.Kind() != ast.CallKind || e.AsCall().FunctionName() != operators.Add {
		return false
	}
	switch tree.GetType(e.ID()).Kind() {
	case types.StringKind, types.BytesKind, types.ListKind, types.DynKind:
		return true
	}
	return false
}

// wall are the options that count steps.
func wall(tree *ast.AST) []cel.ProgramOption {
	if !walled(tree) {
		return nil
	}
	return []cel.ProgramOption{cel.CostTracking(actual{}), cel.CostLimit(maxRun)}
}

// actual counts what a call cost: all that CEL's own count would ask the size of for.
type actual struct{}

// CallCost counts what was gone through.
func (actual) CallCost(function, _ string, args []ref.Val, _ ref.Val) *uint64 {
	steps := uint64(1)
	for _, a := range args {
		switch x := a.(type) {
		case types.String:
			n := uint64(len(x))
			if function == overloads.Matches {
				n *= maxPatternParts / copiedAStep
			}
			steps += n / readAStep
		case types.Bytes:
			steps += uint64(len(x)) / readAStep
		case traits.MutableLister: // what map and filter gather in, an item at a time
		case traits.Lister:
			if n, ok := x.Size().(types.Int); ok && function == operators.Add {
				steps += uint64(n)
			}
		}
	}
	if function == operators.In && len(args) == 2 {
		if items, ok := ItemsOf(args[1]); ok {
			steps += uint64(len(items))
		}
	}
	return &steps
}

// addition joins two texts or lists itself: CEL keeps a joined list as the two it was joined of, and a list joined with
// itself again and again is soon gone through for ever.
type addition struct {
	interpreter.InterpretableCall
	left, right interpreter.InterpretableV2
}

// Exec joins.
func (a *addition) Exec(frame *interpreter.ExecutionFrame) ref.Val {
	left := a.left.Exec(frame)
	right := a.right.Exec(frame)
	for _, v := range []ref.Val{left, right} {
		if types.IsUnknownOrError(v) {
			return v
		}
	}
	one, ok := ItemsOf(left)
	two, also := ItemsOf(right)
	if !ok || !also {
		return plainSum(left, right)
	}
	if len(one)+len(two) > maxMade {
		return types.WrapErr(errMade)
	}
	return listOf(append(one[:len(one):len(one)], two...))
}

// plainSum joins texts, or adds what turned out to be numbers.
func plainSum(left, right ref.Val) ref.Val {
	long := 0
	for _, v := range []ref.Val{left, right} {
		switch x := v.(type) {
		case types.String:
			long += len(x)
		case types.Bytes:
			long += len(x)
		}
	}
	if long > maxMade {
		return types.WrapErr(errMade)
	}
	if x, ok := left.(traits.Adder); ok {
		return x.Add(right)
	}
	return types.MaybeNoSuchOverloadErr(right)
}

// Eval joins.
func (a *addition) Eval(names interpreter.Activation) ref.Val {
	return a.Exec(interpreter.AsFrame(names))
}
