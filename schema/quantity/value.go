package quantity

import (
	"fmt"
	"math"
)

// Value is a quantity: a number in SI units and its dimension. It is immutable and comparable with ==.
// The zero Value was never constructed; IsZero reports it.
type Value struct {
	si  float64
	dim Dimension
}

// New returns the quantity of si (in SI units) in dimension d. NaN, infinities and invalid dimensions are refused;
// minus zero becomes zero, so that equal quantities are equal values.
func New(si float64, d Dimension) (Value, error) {
	if !d.Valid() {
		return Value{}, fmt.Errorf("dimension %d is not a dimension", uint8(d))
	}
	if math.IsNaN(si) || math.IsInf(si, 0) {
		return Value{}, fmt.Errorf("%v is not %s; a finite number is expected", si, d.kind().phrase)
	}
	return Value{si + 0, d}, nil
}

// MustNew is New for constants and tests; it panics where New returns an error.
func MustNew(si float64, d Dimension) Value {
	v, err := New(si, d)
	if err != nil {
		panic(err)
	}
	return v
}

// SI returns the number in SI units.
func (v Value) SI() float64 { return v.si }

// Dimension returns the dimension, None for the zero Value.
func (v Value) Dimension() Dimension { return v.dim }

// IsZero reports whether the value was never constructed. A quantity of nothing, such as 0 psi, is not zero in this sense.
func (v Value) IsZero() bool { return v.dim == None }

// In returns the number in the named unit, which may be spelt in any way Parse accepts.
// Errors: a unit of another dimension, an unknown unit, a unit without an inverse (the SAE wire sizes).
func (v Value) In(unit string) (float64, error) {
	if v.IsZero() {
		return 0, fmt.Errorf("a quantity never stated has no number in %s", unit)
	}
	u, ok := units().find(unitKey(plainText(unit)), v.dim)
	if !ok {
		return 0, fmt.Errorf("%s is not a unit of %s; write %s", clip(unit), v.dim, v.dim.unitList())
	}
	return u.number(v.si)
}

// String returns the metric rendering.
func (v Value) String() string { return v.Format(Metric) }
