package domain

import (
	"fmt"
	"math"
	"strconv"
)

// RangeError says that a value lies outside the closed range a formula or
// table is good for. Low may be -Inf and High +Inf for a range open on a side.
type RangeError struct {
	Quantity  string
	Value     float64
	Low, High float64
	Unit      string
}

// Error names the quantity, its value and the range it must lie in.
func (e *RangeError) Error() string {
	unit := e.Unit
	if unit != "" && unit != "1" {
		unit = " " + unit
	} else {
		unit = ""
	}
	value := number(e.Value) + unit
	switch {
	case math.IsInf(e.Low, -1) && math.IsInf(e.High, 1):
		return fmt.Sprintf("%s is %s: give a finite number", e.Quantity, value)
	case math.IsInf(e.High, 1):
		if e.Low == Smallest {
			return fmt.Sprintf("%s is %s: give a finite value of more than 0%s", e.Quantity, value, unit)
		}
		return fmt.Sprintf("%s is %s: give a finite value of at least %s%s", e.Quantity, value, number(e.Low), unit)
	case math.IsInf(e.Low, -1):
		return fmt.Sprintf("%s is %s: give a finite value of at most %s%s", e.Quantity, value, number(e.High), unit)
	}
	return fmt.Sprintf("%s is %s: give a value from %s to %s%s",
		e.Quantity, value, number(e.Low), number(e.High), unit)
}

// NotConverged reports an iteration that ended before its tolerance was met,
// with the state it ended in. Residual is in the unit of the equation solved.
type NotConverged struct {
	Method     string
	Iterations int
	Low, High  float64
	Last       float64
	Residual   float64
	Reason     string
}

// Error names the method, why it stopped and the state it stopped in.
func (e *NotConverged) Error() string {
	return fmt.Sprintf("%s did not converge after %d iterations (%s): last value %s in [%s, %s], residual %s",
		e.Method, e.Iterations, e.Reason, number(e.Last), number(e.Low), number(e.High), number(e.Residual))
}

// rounding is the relative slack at the ends of a range, so that a value printed
// as the limit is inside after a conversion of units.
const rounding = 1e-12

// Check returns a *RangeError unless v is finite and low <= v <= high, give or
// take a relative 1e-12 for rounding.
func Check(name string, v, low, high float64, unit string) error {
	if math.IsNaN(v) || math.IsInf(v, 0) || v < low-rounding*math.Abs(low) || v > high+rounding*math.Abs(high) {
		return &RangeError{Quantity: name, Value: v, Low: low, High: high, Unit: unit}
	}
	return nil
}

// Smallest is the least value CheckPositive accepts: the smallest normal
// float64, so that 1/v is finite.
const Smallest = 2.2250738585072014e-308

// CheckPositive returns a *RangeError unless v is finite and greater than zero.
func CheckPositive(name string, v float64, unit string) error {
	return Check(name, v, Smallest, math.Inf(1), unit)
}

// CheckNotNegative returns a *RangeError unless v is finite and at least zero.
func CheckNotNegative(name string, v float64, unit string) error {
	return Check(name, v, 0, math.Inf(1), unit)
}

// CheckFinite returns a *RangeError if v is NaN or infinite.
func CheckFinite(name string, v float64, unit string) error {
	return Check(name, v, math.Inf(-1), math.Inf(1), unit)
}

// First returns the first error that is not nil, so that a function can check
// all its arguments in one place.
func First(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func number(v float64) string {
	return strconv.FormatFloat(v, 'g', 6, 64)
}
