package fluid

import (
	"math"
	"slices"
)

// Beside returns the curve of pumps that deliver side by side into one line, each at the voltage of its own curve and behind a
// check valve of its own: at each pressure rise their flows and currents added up. A pump whose curve has ended at that rise
// gives nothing, and neither does one that stands still. What is printed of all of them is printed of it.
//
// Source: continuity; side by side they work against one and the same pressure.
func Beside(pumps ...Curve) Curve {
	if len(pumps) == 1 {
		return pumps[0]
	}
	turning := slices.DeleteFunc(slices.Clone(pumps), Curve.Stopped)
	if len(turning) == 0 {
		return pumps[0]
	}
	out := pumps[0]
	out.stopped, out.ideal, out.points, out.guessed = false, 0, nil, nil
	out.low, out.currentLow = math.Inf(-1), math.Inf(-1)
	out.high, out.currentHigh = math.Inf(1), math.Inf(1)
	begin, end := math.Inf(-1), 0.0
	var rises []float64
	for _, p := range turning {
		first, last := p.PressureRange()
		begin, end = max(begin, first), max(end, last)
		out.ideal += p.ideal
		out.low, out.high = max(out.low, p.low), min(out.high, p.high)
		out.currentLow, out.currentHigh = max(out.currentLow, p.currentLow), min(out.currentHigh, p.currentHigh)
		for _, point := range p.points {
			rises = append(rises, point.Pressure)
		}
	}
	slices.Sort(rises)
	for _, rise := range slices.Compact(rises) {
		if rise < begin || rise > end {
			continue
		}
		point, guessed := CurvePoint{Pressure: rise}, false
		for _, p := range turning {
			flow, err := p.Flow(rise)
			if err != nil { // beyond what is known of a curve that does not go on
				return out
			}
			point.Flow += flow
			if current, err := p.Current(rise); err == nil {
				point.Current += current
			}
			guessed = guessed || p.isGuessed(rise)
		}
		out.points, out.guessed = append(out.points, point), append(out.guessed, guessed)
	}
	return out
}
