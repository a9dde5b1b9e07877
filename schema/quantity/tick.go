package quantity

import "math"

// Ticks are the values, not above and not below v, that Format writes as they are: those a meter or tape with as many digits
// shows. Both are v where it is one itself, as a plain text is read; and where no number is written, as of a dash size.
func (v Value) Ticks(s System) (below, above Value) {
	c, ok := v.scale(s)
	if !ok {
		return v, v
	}
	return c.value(v, math.Floor(c.at/c.step+slack)*c.step), c.value(v, math.Ceil(c.at/c.step-slack)*c.step)
}

// Tick is the next value above v, or below it, that Format writes as it is; v where no number is written.
func (v Value) Tick(s System, up bool) Value {
	c, ok := v.scale(s)
	switch {
	case !ok:
		return v
	case up:
		return c.value(v, (math.Floor(c.at/c.step+slack)+1)*c.step)
	}
	return c.value(v, (math.Ceil(c.at/c.step-slack)-1)*c.step)
}

// slack is how far from a tick, as a share of a step, a value is still on it.
const slack = 1e-6

// printedScale is the scale a value is printed on: its number in the unit, and how much the last digit is.
type printedScale struct {
	unit     Unit
	at, step float64
}

func (v Value) scale(s System) (printedScale, bool) {
	if v.dim == None || v.dim == DimDashSize {
		return printedScale{}, false
	}
	if v.dim == DimRatio {
		return printedScale{at: v.si, step: lastDigit(v.si)}, true
	}
	shown := v.dim.shown(s != Metric, v.si)
	u, ok := UnitByCEL(shown.cel)
	if !ok {
		return printedScale{}, false
	}
	n, err := u.shown(v.si, 3)
	if err != nil {
		return printedScale{}, false
	}
	c := printedScale{unit: u, at: n, step: lastDigit(n)}
	switch {
	case v.dim == DimTemperature:
		c.step = 0.1
	case n == 0:
		one, _ := u.number(v.dim.usually())
		c.step = lastDigit(one)
	case shown.cel == "inch" && math.Abs(n) < 1:
		c.step = 0.001
	}
	return c, true
}

// usually is a small value of a dimension, in SI units, for the first step away from nothing.
func (d Dimension) usually() float64 {
	switch d {
	case DimLength:
		return 1e-3
	case DimPressure, DimAbsolutePressure:
		return 1e3
	case DimResistance:
		return 1e-3
	case DimShare:
		return 1e-2
	case DimFlow:
		return 1e-6
	}
	return 1
}

// lastDigit is how much one in the last printed digit is: three digits, four when the first is 1, whole numbers up to 9999 in full.
func lastDigit(n float64) float64 {
	a := math.Abs(n)
	if a == 0 {
		return 0.01
	}
	exponent := math.Floor(math.Log10(a * (1 + 1e-12)))
	digits := 3.0
	if a*(1+1e-12) < 2*math.Pow(10, exponent) {
		digits = 4
	}
	step := math.Pow(10, exponent-digits+1)
	if step > 1 && a < 1e4 {
		return 1
	}
	return step
}

// value is a number on the scale; v itself where there is none such.
func (c printedScale) value(v Value, n float64) Value {
	n = math.Round(n/c.step) * c.step
	if v.dim == DimRatio {
		return Value{si: n, dim: DimRatio}
	}
	if places := -int(math.Floor(math.Log10(c.step) + 0.5)); places >= 0 {
		shift := math.Pow(10, float64(places))
		n = math.Round(n*shift) / shift
	}
	out, err := c.unit.Value(n)
	if err != nil {
		return v
	}
	return out
}
