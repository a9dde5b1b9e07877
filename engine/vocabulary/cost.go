package vocabulary

import (
	"fmt"
	"math"
	"math/bits"
	"regexp"
	"regexp/syntax"
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/overloads"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/schema"
)

// The sizes and steps an expression may have. A step is one node evaluated once, about a tenth of a microsecond.
const (
	// MaxSteps is the most an expression may cost, however its lists and texts turn out.
	MaxSteps = 200_000
	// maxMade is the longest text or list an expression may make.
	maxMade = 20_000
	// maxPattern is the longest regular expression, in bytes, maxPatternParts what it may be made of.
	maxPattern, maxPatternParts = 100, 1000
	// numberText is the longest text of a number or a day.
	numberText = 40
)

// bulk is how large a value can be: the bytes of a text or the items of a list or table, and of those the largest.
// CEL's own estimate forgets what a name stands for and what lies in a list; this one carries both.
type bulk struct {
	n    uint64
	item *bulk
}

// String tells bulks apart.
func (x *bulk) String() string {
	if x == nil {
		return ""
	}
	return fmt.Sprintf("%d[%s]", x.n, x.item)
}

func (x *bulk) inside() *bulk {
	if x == nil || x.item == nil {
		return &bulk{}
	}
	return x.item
}

// union is as large as either.
func union(a, b *bulk) *bulk {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return &bulk{max(a.n, b.n), union(a.item, b.item)}
}

func plus(x ...uint64) uint64 {
	var sum uint64
	for _, n := range x {
		if sum += n; sum < n {
			return math.MaxUint64
		}
	}
	return sum
}

func product64(a, b uint64) uint64 {
	if high, low := bits.Mul64(a, b); high == 0 {
		return low
	}
	return math.MaxUint64
}

// bulkOf is the largest a value of a type can be that comes from the design.
func bulkOf(t *types.Type, words []string) *bulk {
	switch t.Kind() {
	case types.StringKind, types.BytesKind:
		if len(words) == 0 {
			return &bulk{n: schema.MaxTextBytes}
		}
		longest := 0
		for _, w := range words {
			longest = max(longest, len(w))
		}
		return &bulk{n: uint64(longest)}
	case types.ListKind:
		return &bulk{schema.MaxItems, bulkOf(t.Parameters()[0], words)}
	case types.MapKind:
		return &bulk{maxMade, &bulk{n: schema.MaxTextBytes}} // the rows of a table
	}
	return &bulk{}
}

// costing goes through a checked expression and sums up its steps.
type costing struct {
	in    *inspection
	scope map[string]*bulk
	// largest is the longest text or list made, large where.
	largest uint64
	large   ast.Expr
}

// costs notes what an expression costs at most and how large its value is, and refuses what is too much.
func (in *inspection) costs(vars []Variable) (steps uint64, size *bulk) {
	c := &costing{in: in, scope: map[string]*bulk{}}
	for _, x := range vars {
		if c.scope[x.Name] = x.size; x.size == nil {
			c.scope[x.Name] = bulkOf(x.Type, x.Words)
		}
	}
	steps, size = c.cost(in.tree.Expr())
	if c.largest > maxMade {
		in.fault(c.large, "what is made here may be %d long, more than the %d allowed: join or repeat less", c.largest, maxMade)
	}
	if steps > MaxSteps {
		in.faults = append(in.faults, Fault{1, 1, fmt.Sprintf("the expression may cost %d steps, more than the %d allowed: nest fewer lists", steps, MaxSteps)})
	}
	return steps, size
}

// made notes the size of a text or list that the expression makes.
func (c *costing) made(e ast.Expr, x *bulk) *bulk {
	if x.n > c.largest {
		c.largest, c.large = x.n, e
	}
	return x
}

func (c *costing) typeOf(e ast.Expr) *types.Type { return c.in.tree.GetType(e.ID()) }

func (c *costing) cost(e ast.Expr) (uint64, *bulk) {
	switch e.Kind() {
	case ast.LiteralKind:
		return 1, bulkOfValue(e.AsLiteral())
	case ast.IdentKind:
		if x := c.scope[e.AsIdent()]; x != nil {
			return 1, x
		}
		return 1, bulkOf(c.typeOf(e), nil)
	case ast.SelectKind:
		steps, _ := c.cost(e.AsSelect().Operand())
		return plus(steps, 1), c.field(e)
	case ast.ListKind:
		steps, out := uint64(1), &bulk{n: uint64(e.AsList().Size())}
		for _, x := range e.AsList().Elements() {
			n, size := c.cost(x)
			steps, out.item = plus(steps, n), union(out.item, size)
		}
		if writtenOut(e) {
			steps = 1 // made once, when the pack loads
		}
		return steps, out
	case ast.ComprehensionKind:
		return c.comprehension(e)
	case ast.CallKind:
		return c.call(e)
	}
	return 1, &bulk{}
}

// writtenOut reports whether a list is one of constants.
func writtenOut(e ast.Expr) bool {
	return e.Kind() == ast.ListKind && !slices.ContainsFunc(e.AsList().Elements(), func(x ast.Expr) bool { return x.Kind() != ast.LiteralKind })
}

// bulkOfValue is the bulk of a constant.
func bulkOfValue(v ref.Val) *bulk {
	switch x := v.(type) {
	case types.String:
		return &bulk{n: uint64(len(x))}
	case types.Bytes:
		return &bulk{n: uint64(len(x))}
	case *table:
		key := 0
		for k := range x.rows {
			key = max(key, len(k))
		}
		return &bulk{uint64(len(x.rows)), &bulk{n: uint64(key)}}
	}
	return &bulk{}
}

func (c *costing) field(e ast.Expr) *bulk {
	if sh := c.in.v.shapes[c.typeOf(e.AsSelect().Operand()).TypeName()]; sh != nil {
		if f := sh.fields[e.AsSelect().FieldName()]; f != nil {
			if f.longest > 0 {
				return &bulk{n: uint64(f.longest)}
			}
			return bulkOf(f.typ, f.words)
		}
	}
	return bulkOf(c.typeOf(e), nil)
}

// comprehension is what all, exists, map, filter and their like become.
func (c *costing) comprehension(e ast.Expr) (uint64, *bulk) {
	x := e.AsComprehension()
	begin, list := c.cost(x.IterRange())
	init, accu := c.cost(x.AccuInit())
	outer, hidden := c.scope[x.IterVar()], c.scope[x.AccuVar()]
	c.scope[x.IterVar()], c.scope[x.AccuVar()] = list.inside(), accu
	while, _ := c.cost(x.LoopCondition())
	step, one := c.cost(x.LoopStep())
	out := accu
	if c.typeOf(x.AccuInit()).Kind() == types.ListKind {
		out = c.made(e, &bulk{product64(list.n, one.n), one.item})
	}
	c.scope[x.AccuVar()] = out
	end, size := c.cost(x.Result())
	c.scope[x.IterVar()], c.scope[x.AccuVar()] = outer, hidden
	return plus(begin, init, product64(list.n, plus(while, step)), end), size
}

// How many bytes of a text are held against another in the time of a step, or read, or copied, which also takes memory.
const comparedAStep, readAStep, copiedAStep = 1000, 100, 10

func (c *costing) call(e ast.Expr) (uint64, *bulk) {
	call := e.AsCall()
	args := call.Args()
	if call.IsMemberFunction() {
		args = append([]ast.Expr{call.Target()}, args...)
	}
	steps, sizes := uint64(1), make([]*bulk, len(args))
	var each []uint64
	for i, a := range args {
		n, size := c.cost(a)
		sizes[i] = size
		each = append(each, n)
		steps = plus(steps, n)
	}
	switch call.FunctionName() {
	case operators.Add:
		long := plus(sizes[0].n, sizes[1].n)
		out := c.made(e, &bulk{long, union(sizes[0].item, sizes[1].item)})
		if kind := c.typeOf(e).Kind(); kind == types.StringKind || kind == types.BytesKind {
			long /= copiedAStep
		}
		return plus(steps, long), out
	case operators.Conditional:
		return plus(1, each[0], max(each[1], each[2])), union(sizes[1], sizes[2])
	case operators.Index:
		return steps, sizes[0].inside()
	case operators.Equals, operators.NotEquals, operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals:
		return plus(steps, c.compared(args[0], sizes[0], sizes[1])), &bulk{}
	case operators.In:
		if writtenOut(args[1]) {
			return plus(steps, sizes[0].n/comparedAStep), &bulk{} // looked up, not searched
		}
		return plus(steps, product64(sizes[1].n, 1+sizes[0].n/comparedAStep)), &bulk{}
	case overloads.Matches:
		parts := uint64(maxPatternParts)
		if p := pattern(args[1]); p != nil {
			parts = uint64(len(p.Inst))
		}
		return plus(steps, product64(sizes[0].n+1, parts)/copiedAStep), &bulk{}
	case overloads.TypeConvertString, overloads.TypeConvertBytes:
		return plus(steps, sizes[0].n/copiedAStep), &bulk{n: max(sizes[0].n, numberText)}
	case overloads.TypeConvertDyn:
		return steps, sizes[0]
	case "sum", "least", "greatest":
		return plus(steps, sizes[0].n), &bulk{}
	case seenFunction:
		return plus(each...), sizes[len(sizes)-1] // watching is not the rule's cost
	}
	for i, a := range args {
		if c.typeOf(a).Kind() == types.StringKind {
			steps = plus(steps, sizes[i].n/readAStep)
		}
	}
	return steps, bulkOf(c.typeOf(e), nil)
}

// compared is the cost of holding one value against another, beside the step itself.
func (c *costing) compared(e ast.Expr, a, b *bulk) uint64 {
	if c.typeOf(e).Kind() == types.ListKind {
		return product64(min(a.n, b.n), 1+a.inside().n/comparedAStep)
	}
	return min(a.n, b.n) / comparedAStep
}

// pattern is a regular expression written out, compiled; nil when it is not one.
func pattern(e ast.Expr) *syntax.Prog {
	if e.Kind() != ast.LiteralKind {
		return nil
	}
	text, ok := e.AsLiteral().(types.String)
	if !ok || len(text) > maxPattern {
		return nil
	}
	r, err := syntax.Parse(string(text), syntax.Perl)
	if err != nil {
		return nil
	}
	p, err := syntax.Compile(r.Simplify())
	if err != nil {
		return nil
	}
	return p
}

// bounded refuses what has no bound that a reader could see: patterns put together while the rule runs or larger than a
// line of them, lists in lists held against each other, and values whose type is not known.
func (in *inspection) bounded(e ast.Expr, c ast.CallExpr) {
	switch c.FunctionName() {
	case overloads.Matches:
		if len(c.Args()) == 0 {
			return
		}
		last := c.Args()[len(c.Args())-1]
		text, _ := last.AsLiteral().(types.String)
		p := pattern(last)
		if _, err := regexp.Compile(string(text[:min(len(text), maxPattern)])); p == nil && last.Kind() == ast.LiteralKind && len(text) <= maxPattern && err != nil {
			in.fault(last, "%v", err)
		} else if p == nil || len(p.Inst) > maxPatternParts {
			in.fault(last, "a pattern is a text written out, at most %d bytes long and without large repeats", maxPattern)
		}
	case operators.Equals, operators.NotEquals, operators.In:
		for _, a := range c.Args() {
			if t := in.tree.GetType(a.ID()); t.Kind() == types.ListKind && (t.Parameters()[0].Kind() == types.ListKind || t.Parameters()[0].Kind() == types.DynKind && !(a.Kind() == ast.ListKind && a.AsList().Size() == 0)) {
				in.fault(e, "lists in lists, and lists of different things, are not compared; compare their items")
				return
			}
		}
	case overloads.TypeConvertDyn, overloads.TypeConvertType:
		in.fault(e, "rules have no %s(): what a value is must be known when the pack loads", c.FunctionName())
	}
}
