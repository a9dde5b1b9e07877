package vocabulary

import (
	"errors"
	"fmt"
	"math"
	"reflect"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"

	"plumbline/schema/quantity"
)

// Quantity is a physical quantity as CEL sees it: an opaque value that compares and adds with its own dimension, scales with
// plain numbers, and multiplies with any other by their exponents. A product that no dimension names has its powers instead.
type Quantity struct {
	Of quantity.Value
	// si and powers are those of a product without a name; Of is empty then.
	si     float64
	powers quantity.Powers
}

// SI is its number in SI units.
func (q Quantity) SI() float64 {
	if q.Of.Dimension() == quantity.None {
		return q.si
	}
	return q.Of.SI()
}

// String writes it with its unit.
func (q Quantity) String() string {
	if q.Of.Dimension() == quantity.None {
		return plain(q.si) + " " + q.powers.String()
	}
	return q.Of.String()
}

// with is a quantity of the same dimension.
func (q Quantity) with(si float64) ref.Val {
	if q.Of.Dimension() == quantity.None {
		return newProduct(si, q.powers)
	}
	return newQuantity(si, q.Of.Dimension())
}

// like reports whether two are of one dimension.
func (q Quantity) like(o Quantity) bool {
	return q.Of.Dimension() == o.Of.Dimension() && q.powers == o.powers
}

// quantityRuntime carries the traits cel-go dispatches operators by.
var quantityRuntime = types.NewObjectType("quantity",
	traits.ComparerType, traits.AdderType, traits.SubtractorType, traits.MultiplierType, traits.DividerType, traits.NegatorType)

// QuantityType is the CEL type of quantities of one dimension.
func QuantityType(d quantity.Dimension) *types.Type {
	return types.NewOpaqueType("quantity", types.NewObjectType(d.Name()))
}

func newQuantity(si float64, d quantity.Dimension) ref.Val {
	v, err := quantity.New(si, d)
	if err != nil {
		return types.NewErr("%s", err)
	}
	return Quantity{Of: v}
}

// ConvertToNative gives the quantity.Value.
func (q Quantity) ConvertToNative(t reflect.Type) (any, error) {
	if t == reflect.TypeFor[quantity.Value]() {
		return q.Of, nil
	}
	return nil, fmt.Errorf("a quantity is no %v", t)
}

// ConvertToType only knows its own type.
func (q Quantity) ConvertToType(t ref.Type) ref.Val {
	if t.TypeName() == quantityRuntime.TypeName() {
		return q
	}
	return types.NewErr("a quantity cannot become %s", t.TypeName())
}

// Equal compares exactly; rules cannot reach it, they say within(a, b, tolerance).
func (q Quantity) Equal(other ref.Val) ref.Val {
	o, ok := other.(Quantity)
	return types.Bool(ok && o.Of == q.Of)
}

// Type is the runtime type; the checked type carries the dimension.
func (q Quantity) Type() ref.Type { return quantityRuntime }

// Value returns the quantity.Value.
func (q Quantity) Value() any { return q.Of }

var errMixed = errors.New("quantities of different dimensions met; this is a fault of the program")

// Compare orders two quantities of one dimension.
func (q Quantity) Compare(other ref.Val) ref.Val {
	o, ok := other.(Quantity)
	if !ok || !q.like(o) {
		return types.WrapErr(errMixed)
	}
	return types.Int(CompareNumbers(q.SI(), o.SI()))
}

// roundingSlack is the relative difference under which two numbers count as
// equal: 48 mm less 47 mm is 1 mm, whatever the last bits say.
const roundingSlack = 1e-9

// CompareNumbers orders two numbers, -1, 0 or 1; a difference no larger than
// arithmetic's own rounding is none.
func CompareNumbers(a, b float64) int {
	switch {
	case math.Abs(a-b) <= roundingSlack*max(math.Abs(a), math.Abs(b)):
		return 0
	case a < b:
		return -1
	}
	return 1
}

// Add sums two quantities of one dimension.
func (q Quantity) Add(other ref.Val) ref.Val {
	o, ok := other.(Quantity)
	if !ok || !q.like(o) {
		return types.WrapErr(errMixed)
	}
	return q.with(q.SI() + o.SI())
}

// Subtract takes one quantity from another of its dimension.
func (q Quantity) Subtract(other ref.Val) ref.Val {
	o, ok := other.(Quantity)
	if !ok || !q.like(o) {
		return types.WrapErr(errMixed)
	}
	return q.with(q.SI() - o.SI())
}

// Multiply scales by a plain number, or gives the product with a quantity.
func (q Quantity) Multiply(other ref.Val) ref.Val { return multiply(q, other) }

// Divide is the quotient by a plain number or a quantity.
func (q Quantity) Divide(other ref.Val) ref.Val { return divide(q, other) }

// Negate turns the sign.
func (q Quantity) Negate() ref.Val { return q.with(-q.SI()) }

func number(v ref.Val) (float64, bool) {
	switch n := v.(type) {
	case types.Double:
		return float64(n), true
	case types.Int:
		return float64(n), true
	}
	return 0, false
}

func finite(f float64) ref.Val {
	if f != f || f > 1e300 || f < -1e300 {
		return types.NewErr("a number came out that is not finite")
	}
	return types.Double(f)
}
