package vocabulary

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"

	"plumbline/schema/quantity"
)

// Products and quotients of quantities follow from the exponents of their dimensions. cel-go's checker knows overloads only, and
// there are as many pairs of dimensions as one likes to make, so those that an expression needs are declared when it is met: the
// checker says which pair it lacks, and the expression is checked again. A product that no dimension names is a type of its own,
// quantity(kg m2/s3 A), which compares and adds with its like; a measure, a bound or a sentence holds named ones only.

// factor is one side of a product: a plain number, a named dimension or powers alone.
type factor struct {
	dim    quantity.Dimension
	powers quantity.Powers
}

// isNumber reports whether it is a plain number.
func (f factor) isNumber() bool { return f.dim == quantity.None && f.powers.Plain() }

// typ is its type.
func (f factor) typ() *types.Type {
	switch {
	case f.isNumber():
		return types.DoubleType
	case f.dim != quantity.None:
		return QuantityType(f.dim)
	}
	return types.NewOpaqueType("quantity", types.NewObjectType(f.powers.String()))
}

// words say what it is.
func (f factor) words() string {
	switch {
	case f.isNumber():
		return "a plain number"
	case f.dim != quantity.None:
		return f.dim.Phrase()
	}
	return "a product in " + f.powers.String() + ", which has no name"
}

// name tells it apart in the names of overloads.
func (f factor) name() string { return strings.ReplaceAll(typeKey(f.typ()), " ", "_") }

func factorOf(d quantity.Dimension) (factor, bool) {
	p, ok := d.Powers()
	return factor{d, p}, ok || d == quantity.DimShare
}

// product is what comes out of two; not ok where nothing does. A share scales whatever it meets, as its number does.
func product(op string, a, b factor) (out factor, ok bool) {
	if b.dim == quantity.DimShare && !a.isNumber() {
		if a.dim == quantity.DimShare && op == operators.Divide {
			return factor{}, true
		}
		return a, true
	}
	if a.dim == quantity.DimShare {
		a = factor{}
		if op == operators.Multiply {
			return b, true
		}
	}
	p, ok := a.powers.Times(b.powers)
	if op == operators.Divide {
		p, ok = a.powers.Over(b.powers)
	}
	if !ok {
		return factor{}, false
	}
	return factor{p.Named(), p}, true
}

// newProduct is a quantity of some powers: of the dimension they have, a plain number where none is left.
func newProduct(si float64, p quantity.Powers) ref.Val {
	switch d := p.Named(); {
	case p.Plain():
		return finite(si)
	case d != quantity.None:
		return newQuantity(si, d)
	}
	if n, bad := finite(si).(*types.Err); bad {
		return n
	}
	return Quantity{si: si, powers: p}
}

// sides are the factor and number of a value.
func sides(v ref.Val) (f factor, si float64, ok bool) {
	if q, is := v.(Quantity); is {
		if d := q.Of.Dimension(); d != quantity.None {
			f, ok = factorOf(d)
			return f, q.SI(), ok
		}
		return factor{powers: q.powers}, q.si, true
	}
	si, ok = number(v)
	return factor{}, si, ok
}

func multiply(a, b ref.Val) ref.Val {
	if q, is := a.(Quantity); is { // also of those that have no powers
		if n, plain := number(b); plain {
			return q.with(q.SI() * n)
		}
	}
	if n, plain := number(a); plain {
		if q, is := b.(Quantity); is {
			return q.with(n * q.SI())
		}
	}
	return combine(operators.Multiply, a, b)
}

func divide(a, b ref.Val) ref.Val {
	by, plain := number(b)
	o, sized := b.(Quantity)
	switch {
	case plain && by == 0:
		return types.NewErr("division by zero")
	case sized && o.SI() == 0:
		return types.NewErr("division by a zero %s", o.Of.Dimension())
	}
	if q, is := a.(Quantity); is {
		if plain {
			return q.with(q.SI() / by)
		}
		if sized && q.like(o) {
			return finite(q.SI() / o.SI())
		}
	}
	return combine(operators.Divide, a, b)
}

func combine(op string, a, b ref.Val) ref.Val {
	x, m, okA := sides(a)
	y, n, okB := sides(b)
	out, ok := product(op, x, y)
	if !okA || !okB || !ok {
		return types.WrapErr(errMixed)
	}
	si := m * n
	if op == operators.Divide {
		si = m / n
	}
	if out.dim != quantity.None {
		return newQuantity(si, out.dim)
	}
	return newProduct(si, out.powers)
}

// maxProducts is how many pairs of dimensions the expressions of all packs may multiply or divide; a large library has some dozen.
const maxProducts = 150

// operandPattern finds the operands in what the checker says of a pair that it does not know.
var (
	pairPattern     = regexp.MustCompile(`found no matching overload for '(_[*/]_)' applied to '\((.+), (.+)\)'`)
	quantityPattern = regexp.MustCompile(`^quantity\((.+)\)$`)
)

// factorIn reads an operand as the checker writes its type.
func factorIn(text string) (factor, bool) {
	if text == "double" || text == "int" {
		return factor{}, true
	}
	m := quantityPattern.FindStringSubmatch(text)
	if m == nil {
		return factor{}, false
	}
	if d := dimensionNamed(m[1]); d != quantity.None {
		return factorOf(d)
	}
	p, err := quantity.ParsePowers(m[1])
	return factor{powers: p}, err == nil
}

// pairIn is the pair that a message says is not known, and what it comes out as; not ok where it is none.
func pairIn(message string) (op string, a, b, out factor, whole [2]bool, ok bool) {
	m := pairPattern.FindStringSubmatch(message)
	if m == nil {
		return "", a, b, out, whole, false
	}
	a, okA := factorIn(m[2])
	b, okB := factorIn(m[3])
	if !okA || !okB || a.isNumber() && b.isNumber() {
		return m[1], a, b, out, whole, false
	}
	out, ok = product(m[1], a, b)
	return m[1], a, b, out, [2]bool{m[2] == "int", m[3] == "int"}, ok
}

// meet declares the products that an expression lacks; false where it lacks none that can be.
func (v *Vocabulary) meet(iss *cel.Issues, key string) (declared bool, err error) {
	var more []cel.EnvOption
	for _, e := range iss.Errors() {
		op, a, b, out, whole, ok := pairIn(e.Message)
		if !ok {
			continue
		}
		id := strings.Trim(op, "_") + "_" + a.name() + "_" + b.name()
		if whole[0] {
			id += "_whole"
		}
		if v.products[id] {
			declared = true // by another expression, since this one's names were gathered
			continue
		}
		if len(v.products) >= maxProducts {
			return false, Faults{{e.Location.Line(), e.Location.Column() + 1, fmt.Sprintf("the packs multiply and divide more than %d pairs of dimensions; this one more is too many", maxProducts)}}
		}
		left := a.typ()
		if whole[0] {
			left = types.IntType
		}
		v.products[id], declared = true, true
		more = append(more, cel.Function(op, cel.Overload(id, []*types.Type{left, b.typ()}, out.typ())))
	}
	if len(more) > 0 {
		wide, err := v.wide.Extend(more...)
		if err != nil {
			return false, Faults{{1, 1, err.Error()}}
		}
		v.wide = wide
	}
	if declared {
		delete(v.envs, key)
	}
	return declared, nil
}

// scaling is a product or quotient whose first side is a plain number: cel-go asks that side, which knows numbers only.
type scaling struct {
	interpreter.InterpretableCall
	left, right interpreter.InterpretableV2
}

// Exec multiplies or divides.
func (s *scaling) Exec(frame *interpreter.ExecutionFrame) ref.Val {
	left := s.left.Exec(frame)
	right := s.right.Exec(frame)
	for _, v := range []ref.Val{left, right} {
		if types.IsUnknownOrError(v) {
			return v
		}
	}
	if s.Function() == operators.Divide {
		return divide(left, right)
	}
	return multiply(left, right)
}

// scales reports whether a call has a plain number before a quantity.
func scales(tree *ast.AST, e ast.Expr) bool {
	if e.Kind() != ast.CallKind || e.AsCall().FunctionName() != operators.Multiply && e.AsCall().FunctionName() != operators.Divide {
		return false
	}
	args := e.AsCall().Args()
	return len(args) == 2 && tree.GetType(args[0].ID()).TypeName() != "quantity" && tree.GetType(args[1].ID()).TypeName() == "quantity"
}
