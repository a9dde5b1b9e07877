package vocabulary

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// Slip is a part of an expression that compiles and cannot be right, with its place in the text of its program.
type Slip struct {
	Program *Program
	Fault
}

// Slips looks through an expression as it is evaluated in a world: conditions that always come out one way, constants that
// cannot be worked out, places in a list nobody asked for, rows that a table lacks, divisors that may be zero.
func (r *Reach) Slips(w *World, p *Program) []Slip {
	if p == nil || w == nil {
		return nil
	}
	c := &slipping{reach: r, base: w, seen: map[exprKey]bool{}}
	c.walk(w, frame{prog: p}, p.tree.Expr())
	return c.found
}

// slipping is one expression being looked through.
type slipping struct {
	reach *Reach
	// base is the world of the whole expression: a condition is held against that, not against those beside it.
	base  *World
	seen  map[exprKey]bool
	found []Slip
}

func (c *slipping) say(f frame, e ast.Expr, format string, args ...any) {
	line, column := f.prog.Start(e)
	c.found = append(c.found, Slip{f.prog, Fault{line, column, fmt.Sprintf(format, args...)}})
}

// walk looks through a part that is evaluated in the world here.
func (c *slipping) walk(here *World, f frame, e ast.Expr) {
	if c.reach.spent() {
		return
	}
	before := len(c.found)
	if isConstant(f, e) {
		c.constant(f, e)
	} else {
		c.parts(here, f, e)
	}
	if len(c.found) == before {
		c.oneWay(f, e)
	}
}

func (c *slipping) parts(here *World, f frame, e ast.Expr) {
	switch e.Kind() {
	case ast.IdentKind:
		if p := c.reach.let(f, e.AsIdent()); p != nil {
			c.walk(here, frame{prog: p}, p.tree.Expr())
		}
	case ast.SelectKind:
		c.walk(here, f, e.AsSelect().Operand())
	case ast.ListKind:
		for _, x := range e.AsList().Elements() {
			c.walk(here, f, x)
		}
	case ast.ComprehensionKind:
		loop := e.AsComprehension()
		c.walk(here, f, loop.IterRange())
		inner := c.reach.into(f, loop)
		kind, body := macroOf(loop)
		if body != nil {
			c.walk(here, inner, body)
		}
		if kind == "map" {
			c.mapped(here, inner, loop)
		}
	case ast.CallKind:
		c.call(here, f, e)
	}
}

// mapped walks what map makes of each item.
func (c *slipping) mapped(here *World, f frame, loop ast.ComprehensionExpr) {
	step := loop.LoopStep().AsCall()
	if step.FunctionName() == operators.Conditional {
		here = c.narrowed(here, f, step.Args()[0], true)
		step = step.Args()[1].AsCall()
	}
	if args := step.Args(); len(args) == 2 {
		c.walk(here, f, args[1])
	}
}

// narrowed is the world where a condition comes out as told, or the same when it never does: that is told elsewhere.
func (c *slipping) narrowed(here *World, f frame, e ast.Expr, want bool) *World {
	if out := c.reach.assume(here, f, e, want); out != nil {
		return out
	}
	return here
}

func (c *slipping) call(here *World, f frame, e ast.Expr) {
	call := e.AsCall()
	args := call.Args()
	switch name := call.FunctionName(); name {
	case operators.LogicalAnd, operators.LogicalOr:
		// Either side may stand first: what one rules out of the other is never held against it.
		c.walk(c.narrowed(here, f, args[1], name == operators.LogicalAnd), f, args[0])
		c.walk(c.narrowed(here, f, args[0], name == operators.LogicalAnd), f, args[1])
		return
	case operators.Conditional:
		c.walk(here, f, args[0])
		c.walk(c.narrowed(here, f, args[0], true), f, args[1])
		c.walk(c.narrowed(here, f, args[0], false), f, args[2])
		return
	case operators.Index:
		c.index(here, f, e)
	case operators.Divide, operators.Modulo:
		c.division(here, f, e, args[len(args)-1])
	}
	if call.IsMemberFunction() {
		c.walk(here, f, call.Target())
	}
	for _, a := range args {
		c.walk(here, f, a)
	}
	c.overflow(here, f, e)
}

// index wants of a place in a list that the list is asked for its length, of a table that it has a row for every word.
func (c *slipping) index(here *World, f frame, e ast.Expr) {
	args := e.AsCall().Args()
	if t := c.reach.table(f, args[0]); t != nil {
		c.row(here, f, t, args[1])
		return
	}
	if f.prog.tree.GetType(args[0].ID()).Kind() != types.ListKind {
		return
	}
	size, at := c.reach.sizeOf(here, f, args[0]), c.reach.extent(here, f, args[1])
	list := f.prog.said(args[0])
	switch {
	case at.low < 0:
		c.say(f, args[1], "a place in a list counts from 0")
	case math.IsInf(at.high, 0):
		c.say(f, args[1], "this may lie beyond the end of %s: say exists, all or filter", list)
	case at.high >= size.low:
		c.say(f, e, "%s may be shorter: ask size(%s) > %s first, before && or in applies, or say exists, all or filter", list, list, plain(at.high))
	}
}

// row wants a row for every word that a key can be.
func (c *slipping) row(here *World, f frame, t *table, key ast.Expr) {
	asked, name := c.reach.extent(here, f, key), t.name[strings.LastIndexByte(t.name, '.')+1:]
	if asked.anyWord {
		c.say(f, key, "this can be any text, and table.%s has no row for most: ask %s in table.%s first, before && or in applies", name, f.prog.said(key), name)
		return
	}
	var missing []string
	for _, w := range asked.words {
		if t.rows[w] == nil {
			missing = append(missing, w)
		}
	}
	if len(missing) == 0 {
		return
	}
	if asked.one() {
		c.say(f, key, "table.%s has no row %s%s", name, missing[0], near(missing[0], sortedKeys(t.rows)))
		return
	}
	c.say(f, key, "table.%s has no row for %s, which %s may be: write %s, or ask %s in table.%s first, before && or in applies",
		name, someOf(missing), f.prog.said(key), rowsFor(len(missing)), f.prog.said(key), name)
}

func rowsFor(n int) string {
	if n == 1 {
		return "the row"
	}
	return "the rows"
}

// division wants a divisor that cannot be zero, as far as that is known.
func (c *slipping) division(here *World, f frame, e, by ast.Expr) {
	x := c.reach.extent(here, f, by)
	switch known := !math.IsInf(x.low, 0) || !math.IsInf(x.high, 0); {
	case x.low == 0 && x.high == 0:
		c.say(f, by, "this divides by zero")
	case known && x.low <= 0 && x.high >= 0 && !isConstant(f, by):
		text := f.prog.said(by)
		c.say(f, by, "%s may be zero (%s), and nothing is divided by zero: ask first whether it is, before && or in applies", text, c.reach.tell(here, f, by))
	}
}

// greatest are the largest numbers an operation may give, by whether they are whole.
const (
	greatestWhole  = 1 << 62
	greatestNumber = 1e300
)

// overflow refuses arithmetic that leaves the numbers there are.
func (c *slipping) overflow(here *World, f frame, e ast.Expr) {
	name := e.AsCall().FunctionName()
	if arithmetic[name] == nil || f.prog.tree.GetType(e.ID()).Kind() == types.BoolKind {
		return
	}
	x := c.reach.extent(here, f, e)
	size := max(math.Abs(x.low), math.Abs(x.high))
	inputs := e.AsCall().Args()
	if slices.ContainsFunc(inputs, func(a ast.Expr) bool { return !c.reach.extent(here, f, a).bounded() }) {
		return
	}
	if x.anyWord && (x.whole && size > greatestWhole || size > greatestNumber) && name != operators.Divide {
		c.say(f, e, "this may grow beyond any number that can be reckoned with")
	}
}

// isConstant reports whether a part names nothing.
func isConstant(f frame, e ast.Expr) bool {
	constant := true
	ast.PreOrderVisit(e, ast.NewExprVisitor(func(x ast.Expr) {
		constant = constant && x.Kind() != ast.IdentKind && x.Kind() != ast.ComprehensionKind
	}))
	return constant
}

// dayPattern is what a day looks like, whether there is such a one or not.
var dayPattern = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

// constant works a constant out and tells why it cannot be.
func (c *slipping) constant(f frame, e ast.Expr) {
	if e.Kind() != ast.CallKind {
		return
	}
	if v := evalConstant(f.prog, e); v != nil && types.IsError(v) {
		text := strings.TrimPrefix(fmt.Sprint(v), "no such overload: ")
		if e.AsCall().FunctionName() == "date" {
			text = "a day is written date('2026-01-31')"
			if arg := e.AsCall().Args()[0]; arg.Kind() == ast.LiteralKind {
				if day, is := arg.AsLiteral().(types.String); is && dayPattern.MatchString(string(day)) {
					text = "there is no day " + string(day)
				}
			}
		}
		c.say(f, e, "this cannot be worked out: %s", text)
	}
}

// evalConstant works out a part that names nothing; nil when it cannot be planned.
func evalConstant(p *Program, e ast.Expr) ref.Val {
	part := ast.NewCheckedAST(ast.NewAST(e, p.tree.SourceInfo()), p.tree.TypeMap(), p.tree.ReferenceMap())
	prog, _, err := p.vocabulary.plan(part)
	if err != nil {
		return types.WrapErr(err)
	}
	v, _, err := prog.Eval(map[string]any{})
	if err != nil && v == nil {
		return types.WrapErr(err)
	}
	return v
}

// oneWay refuses a condition that comes out one way whatever the design states.
func (c *slipping) oneWay(f frame, e ast.Expr) {
	if f.prog.tree.GetType(e.ID()).Kind() != types.BoolKind || e.Kind() == ast.LiteralKind || e.Kind() == ast.IdentKind {
		return
	}
	if e.Kind() == ast.CallKind {
		switch e.AsCall().FunctionName() {
		case operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot, operators.Conditional:
			return // told of their parts, or of the whole
		}
	}
	at := exprKey{f.prog, e.ID()}
	if c.seen[at] {
		return
	}
	c.seen[at] = true
	if isConstant(f, e) {
		if v := evalConstant(f.prog, e); v != nil && types.IsBool(v) {
			c.say(f, e, "%s is always %v: leave it out", f.prog.said(e), v)
		}
		return
	}
	for _, way := range []bool{true, false} {
		if c.reach.assume(c.base, f, e, way) == nil && !c.reach.spent() {
			c.say(f, e, "%s", c.reach.always(c.base, f, e, !way))
			return
		}
	}
}
