package quantity

import (
	"math"
	"strconv"
)

// Column writes values that stand one below the other and are compared: in the unit of the largest, all with the same number of
// decimals, as many as a gauge or meter can show. Pressures of ten and more of their unit get one, millivolts none, all else so
// many that the largest has four digits, at most two. It never prints in both systems.
func Column(us bool, values ...Value) []string {
	out := make([]string, len(values))
	if len(values) == 0 {
		return out
	}
	largest := values[0]
	for _, v := range values {
		if v.dim != largest.dim {
			return Row(systemOf(us), values...)
		}
		if math.Abs(v.si) > math.Abs(largest.si) {
			largest = v
		}
	}
	choice := largest.dim.shown(us, math.Abs(largest.si))
	if largest.dim == DimPressure && math.Abs(largest.si) < 1e3 {
		choice = largest.dim.customary(us) // the gauge is the same
	}
	u, ok := UnitByCEL(choice.cel)
	if !ok || largest.dim == DimWireSize || largest.dim == DimTemperature {
		return Row(systemOf(us), values...)
	}
	label := u.Symbol
	if choice.label != "" {
		label = choice.label
	}
	places := -1
	for _, v := range append([]Value{largest}, values...) {
		n, err := u.shown(v.si, 9)
		if err != nil {
			return Row(systemOf(us), values...)
		}
		if places < 0 {
			places = placesFor(largest.dim, choice.cel, math.Abs(n))
		}
	}
	for i, v := range values {
		n, _ := u.shown(v.si, 9)
		text := strconv.FormatFloat(n, 'f', places, 64)
		if zero, err := strconv.ParseFloat(text, 64); err == nil && zero == 0 {
			text = strconv.FormatFloat(0, 'f', places, 64)
		}
		out[i] = text + " " + label
	}
	return out
}

// placesFor are the decimals of a column whose largest number is n.
func placesFor(d Dimension, unit string, n float64) int {
	switch {
	case n >= 1000, unit == "mV", n >= 100 && d == DimVolume:
		return 0
	case n >= 100, n >= 10 && d == DimPressure:
		return 1
	}
	return 2
}

func systemOf(us bool) System {
	if us {
		return US
	}
	return Metric
}

// Axis is the unit that a scale is marked in whose largest value is one in SI: its symbol, and how much one of it is in SI. A
// dimension that is printed without a unit, and temperature, which does not begin at nothing, have none.
func Axis(us bool, d Dimension, largest float64) (symbol string, one float64) {
	if d == DimTemperature || d == DimWireSize || d == DimRatio || d == DimDashSize {
		return "", 1
	}
	choice := d.shown(us, math.Abs(largest))
	u, ok := UnitByCEL(choice.cel)
	if !ok {
		return "", 1
	}
	v, err := u.Value(1)
	if err != nil {
		return "", 1
	}
	if choice.label != "" {
		return choice.label, v.SI()
	}
	return u.Symbol, v.SI()
}
