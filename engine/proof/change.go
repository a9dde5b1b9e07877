package proof

import (
	"math"
	"slices"
	"strconv"
	"time"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/vocabulary"
	"plumbline/schema/quantity"
)

// change is one small mistake that could be in an expression.
type change struct {
	// text is the whole expression with the mistake, what says the mistake.
	text, what string
	at         ast.Expr
}

// shifts are how far numbers are moved.
var shifts = []struct {
	by   float64
	what string
}{{1.05, " + 5 %"}, {0.95, " - 5 %"}}

// changer finds the changes of one expression.
type changer struct {
	*spot
	vocabulary *vocabulary.Vocabulary
	make       ast.ExprFactory
	found      []change
}

// changes lists the mistakes that could be in an expression: another
// comparison, a number moved by five percent (a whole number by one, a date by
// a year), a clause dropped, && for || and || for &&, a condition negated, a
// word replaced by another the fact can have.
func (s *spot) changes(v *vocabulary.Vocabulary) []change {
	c := &changer{spot: s, vocabulary: v, make: ast.NewExprFactory()}
	c.walk(s.tree.Root(), s.vars, s.condition, false)
	return c.found
}

// put notes the change of a part into another.
func (c *changer) put(e, other ast.Expr) {
	c.add(e, other, c.tree.Text(e)+" -> "+c.tree.Text(other))
}

func (c *changer) add(e, other ast.Expr, what string) {
	c.found = append(c.found, change{c.tree.With(e, other), c.of + ": " + what, e})
}

// walk visits a part of the expression: condition says that it is true or
// false, negated that a ! stands before it.
func (c *changer) walk(e ast.Expr, vars []vocabulary.Variable, condition, negated bool) {
	switch e.Kind() {
	case ast.LiteralKind:
		c.number(e, e, e.AsLiteral())
	case ast.SelectKind:
		c.negate(e, condition, negated)
		c.walk(e.AsSelect().Operand(), vars, false, false)
	case ast.IdentKind:
		c.negate(e, condition, negated)
	case ast.ListKind:
		for _, x := range e.AsList().Elements() {
			c.walk(x, vars, false, false)
		}
	case ast.CallKind:
		c.call(e, vars, condition, negated)
	}
}

func (c *changer) negate(e ast.Expr, condition, negated bool) {
	if condition && !negated {
		c.put(e, c.make.NewCall(0, operators.LogicalNot, e))
	}
}

func (c *changer) call(e ast.Expr, vars []vocabulary.Variable, condition, negated bool) {
	call := e.AsCall()
	function, args := call.FunctionName(), call.Args()
	if item, asked, value := vocabulary.Body(e); item != "" {
		c.negate(e, condition, negated)
		c.walk(call.Target(), vars, false, false)
		inner := append(slices.Clone(vars), c.item(item, call.Target(), vars)...)
		if asked != nil {
			c.walk(asked, inner, true, false)
		}
		if value != nil {
			c.walk(value, inner, false, false)
		}
		return
	}
	switch {
	case function == operators.LogicalAnd, function == operators.LogicalOr:
		c.chain(e, function, vars)
		return
	case function == operators.LogicalNot:
		c.put(e, args[0])
		c.walk(args[0], vars, true, true)
		return
	case function == operators.Conditional:
		c.walk(args[0], vars, true, false)
		c.walk(args[1], vars, condition, false)
		c.walk(args[2], vars, condition, false)
		return
	case vocabulary.IsComparison(function):
		c.comparison(e, vars, negated)
	case function == "q", function == "date":
		c.literalText(e, function, args[0])
		return
	case function == operators.Index:
		c.walk(args[0], vars, false, false)
		return // which row or item is no number to move
	case len(args) == 1 && args[0].Kind() == ast.LiteralKind && !call.IsMemberFunction():
		if _, ok := quantity.UnitByCEL(function); ok {
			c.unit(e, args[0])
			return
		}
		c.negate(e, condition, negated)
	default:
		c.negate(e, condition, negated)
	}
	if call.IsMemberFunction() {
		c.walk(call.Target(), vars, false, false)
	}
	for _, a := range args {
		c.walk(a, vars, false, false)
	}
}

// chain drops each operand of && or ||, and swaps the two.
func (c *changer) chain(e ast.Expr, function string, vars []vocabulary.Variable) {
	operands := vocabulary.Chain(e)
	for i, x := range operands {
		rest := slices.Delete(slices.Clone(operands), i, i+1)
		c.add(e, c.join(function, rest), "without "+c.tree.Text(x)+" in "+c.tree.Text(e))
	}
	other := operators.LogicalAnd
	if function == operators.LogicalAnd {
		other = operators.LogicalOr
	}
	c.put(e, c.join(other, operands))
	for _, x := range operands {
		c.walk(x, vars, true, false)
	}
}

func (c *changer) join(function string, operands []ast.Expr) ast.Expr {
	out := operands[0]
	for _, x := range operands[1:] {
		out = c.make.NewCall(0, function, out, x)
	}
	return out
}

// comparison changes the operator, and the words compared with.
func (c *changer) comparison(e ast.Expr, vars []vocabulary.Variable, negated bool) {
	function, l, r := e.AsCall().FunctionName(), e.AsCall().Args()[0], e.AsCall().Args()[1]
	for _, other := range otherComparisons(function, negated) {
		c.put(e, c.make.NewCall(0, other, l, r))
	}
	if function == operators.In {
		c.negate(e, true, negated)
	}
	switch {
	case function == operators.In && r.Kind() == ast.ListKind:
		c.words(e, r.AsList().Elements(), c.wordsOf(l, vars))
	case isText(r):
		c.words(e, []ast.Expr{r}, c.wordsOf(l, vars))
	case isText(l):
		c.words(e, []ast.Expr{l}, c.wordsOf(r, vars))
	}
}

// otherComparisons are the operators written instead: with or without
// equality, and the opposite, unless a ! before it gives that one.
func otherComparisons(function string, negated bool) []string {
	edge := map[string]string{
		operators.Less: operators.LessEquals, operators.LessEquals: operators.Less,
		operators.Greater: operators.GreaterEquals, operators.GreaterEquals: operators.Greater,
	}
	opposite := map[string]string{
		operators.Less: operators.GreaterEquals, operators.LessEquals: operators.Greater,
		operators.Greater: operators.LessEquals, operators.GreaterEquals: operators.Less,
		operators.Equals: operators.NotEquals, operators.NotEquals: operators.Equals,
	}
	var out []string
	if o, ok := edge[function]; ok {
		out = append(out, o)
	}
	if o, ok := opposite[function]; ok && !negated {
		out = append(out, o)
	}
	return out
}

func isText(e ast.Expr) bool {
	if e.Kind() != ast.LiteralKind {
		return false
	}
	_, ok := e.AsLiteral().(types.String)
	return ok
}

// words replaces each literal word by the next one the fact can have that is
// not compared with already.
func (c *changer) words(e ast.Expr, literals []ast.Expr, words []string) {
	var used []string
	for _, x := range literals {
		if isText(x) {
			used = append(used, string(x.AsLiteral().(types.String)))
		}
	}
	for _, x := range literals {
		if !isText(x) {
			continue
		}
		at := slices.Index(words, string(x.AsLiteral().(types.String)))
		for i := 1; at >= 0 && i < len(words); i++ {
			if w := words[(at+i)%len(words)]; !slices.Contains(used, w) {
				other := c.make.NewLiteral(0, types.String(w))
				c.add(x, other, c.tree.Text(x)+" -> "+c.tree.Text(other)+" in "+c.tree.Text(e))
				break
			}
		}
	}
}

// wordsOf lists the words an expression can be.
func (c *changer) wordsOf(e ast.Expr, vars []vocabulary.Variable) []string {
	p, err := c.vocabulary.Compile(c.tree.Text(e), vars)
	if err != nil {
		return nil
	}
	return p.Words
}

// item is the name that stands for each item of a list.
func (c *changer) item(name string, list ast.Expr, vars []vocabulary.Variable) []vocabulary.Variable {
	p, err := c.vocabulary.Compile(c.tree.Text(list), vars)
	if err != nil || p.Type.Kind() != types.ListKind {
		return nil
	}
	return []vocabulary.Variable{{Name: name, Type: p.Type.Parameters()[0], Words: p.Words}}
}

// number moves a number written in the expression.
func (c *changer) number(e, named ast.Expr, v ref.Val) {
	switch n := v.(type) {
	case types.Int:
		for _, by := range []types.Int{1, -1} {
			c.put(e, c.make.NewLiteral(0, n+by))
		}
	case types.Double:
		if n == 0 {
			return // five percent of nothing is nothing
		}
		for _, s := range shifts {
			c.add(e, c.make.NewLiteral(0, types.Double(rounded(float64(n)*s.by))), c.tree.Text(named)+s.what)
		}
	}
}

// unit moves the number of psi(100).
func (c *changer) unit(e, arg ast.Expr) {
	switch n := arg.AsLiteral().(type) {
	case types.Int:
		c.number(arg, e, types.Double(n))
	case types.Double:
		c.number(arg, e, n)
	}
}

// literalText moves a quantity or a day written as a text.
func (c *changer) literalText(e ast.Expr, function string, arg ast.Expr) {
	if !isText(arg) {
		return
	}
	text := string(arg.AsLiteral().(types.String))
	if function == "date" {
		day, err := time.Parse(time.DateOnly, text)
		for _, years := range []int{1, -1} {
			if err == nil {
				c.put(e, c.make.NewCall(0, "date", c.make.NewLiteral(0, types.String(day.AddDate(years, 0, 0).Format(time.DateOnly)))))
			}
		}
		return
	}
	v, err := quantity.ParseAny(text)
	if err != nil {
		return
	}
	for _, s := range shifts {
		switch moved := shifted(vocabulary.Value(v), s.by).(type) {
		case types.Double:
			c.add(e, c.make.NewLiteral(0, moved), c.tree.Text(e)+s.what)
		case vocabulary.Quantity:
			c.add(e, c.make.NewCall(0, vocabulary.LiteralFunction(v.Dimension()), c.make.NewLiteral(0, types.Double(moved.Of.SI()))), c.tree.Text(e)+s.what)
		}
	}
}

// freezing is 0 degC: percents of a temperature are counted from there.
const freezing = 273.15

// shifted is a number or quantity times a factor; nil when that changes nothing.
func shifted(v ref.Val, by float64) ref.Val {
	switch x := v.(type) {
	case types.Double:
		if x != 0 {
			return types.Double(rounded(float64(x) * by))
		}
	case vocabulary.Quantity:
		zero := 0.0
		if x.Of.Dimension() == quantity.DimTemperature {
			zero = freezing
		}
		si := zero + (x.Of.SI()-zero)*by
		if moved, err := quantity.New(si, x.Of.Dimension()); err == nil && math.Abs(si-x.Of.SI()) > 1e-12*math.Abs(x.Of.SI()) {
			return vocabulary.Value(moved)
		}
	}
	return nil
}

// rounded keeps six digits, so that texts stay short.
func rounded(f float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 6, 64), 64)
	if err != nil {
		return f
	}
	return out
}
