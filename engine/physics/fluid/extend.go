package fluid

import (
	"math"
	"slices"
)

// Ends says where between its two ends each quantity is taken that a pump's
// data leave open: 0 is the least it can be, 1 the most.
type Ends struct {
	Flow, Current, Speed float64
}

// Extension is what is known of a pump outside the points of its curve.
type Extension struct {
	// DeadHead is the pressure rise at which it delivers nothing, Pa, 0 if
	// unknown.
	DeadHead float64
	// RatedPressure and RatedFlow are one more point, Pa and m3/s, without
	// current; a RatedFlow of 0 is none. Inside the curve it is not read.
	RatedPressure, RatedFlow float64
	Ends                     Ends
}

const (
	// lowestRise is where an extended curve begins, Pa: fuel that falls to the
	// pump and on cannot push harder than this.
	lowestRise = -1e5
	// highestRise is where it ends at the latest, Pa, while the dead-head
	// pressure is unknown: no fuel pump for a throttle body closes higher.
	highestRise = 2e6
	// dropShare is the share of a pressure within which a relief valve opens.
	dropShare = 1e-6
)

// Extended returns the curve with points beyond both ends, each between bounds,
// at the share of the way from the least to the most that the Ends give.
//
// Flow never rises with pressure, and its fall grows with pressure (the curve
// sags outward). So below the first point the flow is at least that of the
// first point and at most the straight line on from the first two; between the
// last point and the dead head it is at least the straight line between them
// and at most that on from the last two; beyond the dead head it is nothing.
// With no dead head it is at least nothing. A dead head below the last point
// contradicts it: the curve then ends at the last point. One that asks for a
// curve sagging inward swaps the two lines.
//
// The current beyond the points lies between that of the nearest point and the
// straight line on from the nearest two, and is never negative.
//
// AtVoltage moves the bounds with the points. Where the speed ratio lies under
// MinSpeedRatio it is between the law's and one that falls twice as fast, over MaxSpeedRatio between
// that and the law's.
//
// Source: practice, the shape of pump curves; U.S. and SI handbooks draw it so.
func (c Curve) Extended(x Extension) Curve {
	printed := c.points
	out := c
	out.extension = &x
	out.low, out.high = printed[0].Pressure, printed[len(printed)-1].Pressure
	out.currentLow, out.currentHigh = out.low, out.high
	points := withRating(printed, &x)
	out.low, out.high = points[0].Pressure, points[len(points)-1].Pressure
	points = append([]CurvePoint{below(points, x.Ends.Flow)}, append(points, beyond(points, &x)...)...)
	for i := range points {
		p := &points[i]
		if p.Pressure < out.currentLow || p.Pressure > out.currentHigh {
			p.Current = currentBeyond(printed, p.Pressure, x.Ends.Current)
		}
	}
	out.points = points
	return out
}

// withRating adds the rated point where it lies outside the curve, held
// between the bounds the curve sets there.
func withRating(printed []CurvePoint, x *Extension) []CurvePoint {
	first, last := printed[0], printed[len(printed)-1]
	points := append(make([]CurvePoint, 0, len(printed)+6), printed...)
	switch {
	case x.RatedFlow <= 0:
	case x.RatedPressure < first.Pressure:
		most := lineThrough(first, printed[1], x.RatedPressure)
		rated := CurvePoint{Pressure: x.RatedPressure, Flow: min(max(x.RatedFlow, first.Flow), most)}
		points = append([]CurvePoint{rated}, points...)
	case x.RatedPressure > last.Pressure && (x.DeadHead == 0 || x.RatedPressure < x.DeadHead):
		low, high := beyondAt(printed, x, x.RatedPressure)
		if high > 0 {
			points = append(points, CurvePoint{Pressure: x.RatedPressure, Flow: min(max(x.RatedFlow, low), high)})
		}
	}
	return points
}

// below is the point an extended curve begins with.
func below(points []CurvePoint, share float64) CurvePoint {
	least := points[0].Flow
	most := lineThrough(points[0], points[1], lowestRise)
	return CurvePoint{Pressure: lowestRise, Flow: blend(least, most, share)}
}

// beyondAt returns the bounds of the flow at a pressure above the last point
// and below the dead head.
func beyondAt(points []CurvePoint, x *Extension, pressure float64) (low, high float64) {
	last := points[len(points)-1]
	on := max(lineThrough(points[len(points)-2], last, pressure), 0)
	if x.DeadHead == 0 {
		return 0, on
	}
	closing := lineThrough(last, CurvePoint{Pressure: x.DeadHead}, pressure)
	return min(on, closing), max(on, closing)
}

// beyond are the points behind the last one, down to no flow.
func beyond(points []CurvePoint, x *Extension) []CurvePoint {
	last := points[len(points)-1]
	at := func(pressure float64) CurvePoint {
		low, high := beyondAt(points, x, pressure)
		return CurvePoint{Pressure: pressure, Flow: blend(low, high, x.Ends.Flow)}
	}
	closed := func(pressure float64) CurvePoint { return CurvePoint{Pressure: pressure} }
	if last.Flow == 0 {
		return nil
	}
	if x.DeadHead != 0 && x.DeadHead <= last.Pressure*(1+2*dropShare) {
		return []CurvePoint{closed(last.Pressure * (1 + dropShare))}
	}
	// Where the straight line on from the last two points reaches no flow.
	before := points[len(points)-2]
	end := math.Inf(1)
	if before.Flow > last.Flow {
		end = last.Pressure + last.Flow*(last.Pressure-before.Pressure)/(before.Flow-last.Flow)
	}
	if x.DeadHead == 0 {
		end = min(end, max(highestRise, 1.5*last.Pressure))
		return []CurvePoint{at(last.Pressure * (1 + dropShare)), at(end * (1 - dropShare)), closed(end)}
	}
	if end < x.DeadHead*(1-2*dropShare) {
		return []CurvePoint{at(end), closed(x.DeadHead)}
	}
	return []CurvePoint{at(x.DeadHead * (1 - dropShare)), closed(x.DeadHead)}
}

// currentBeyond is the current at a pressure outside the points.
func currentBeyond(points []CurvePoint, pressure, share float64) float64 {
	near, next := points[0], points[1]
	if pressure > near.Pressure {
		near, next = points[len(points)-1], points[len(points)-2]
	}
	on := near.Current + (next.Current-near.Current)/(next.Pressure-near.Pressure)*(pressure-near.Pressure)
	on = max(on, 0)
	return blend(min(near.Current, on), max(near.Current, on), share)
}

// lineThrough is the flow at a pressure on the straight line through two points.
func lineThrough(a, b CurvePoint, pressure float64) float64 {
	return a.Flow + (b.Flow-a.Flow)/(b.Pressure-a.Pressure)*(pressure-a.Pressure)
}

func blend(least, most, share float64) float64 { return least + share*(most-least) }

// Outside reports what of an extended curve is not known but between bounds at
// a pressure rise, Pa: flow, current, and the speed both follow.
func (c Curve) Outside(rise float64) (flow, current, speed bool) {
	if c.extension == nil {
		return false, false, false
	}
	slack := 1e-9 * math.Abs(rise)
	flow = rise < c.low-slack || rise > c.high+slack
	current = !c.stopped && (rise < c.currentLow-slack || rise > c.currentHigh+slack)
	return flow && !c.stopped, current, c.isGuessed(rise)
}

// isGuessed reports whether the speed at a rise is.
func (c Curve) isGuessed(rise float64) bool {
	if c.stopped {
		return slices.Contains(c.guessed, true)
	}
	for i, guessed := range c.guessed {
		above := i == len(c.points) || i+1 < len(c.points) && c.points[i+1].Pressure < rise
		below := i > 0 && i-1 < len(c.points) && c.points[i-1].Pressure > rise
		if guessed && !above && !below {
			return true
		}
	}
	return false
}

// narrowed keeps a search for the root of a falling function among the printed
// points where it lies there, so that nothing outside them has a part in it.
func (c *Curve) narrowed(low, top float64, f func(float64) (float64, error)) (from, to float64, err error) {
	if c.extension == nil {
		return low, top, nil
	}
	for _, end := range []float64{c.low, c.high} {
		if end <= low || end >= top {
			continue
		}
		at, err := f(end)
		if err != nil {
			return 0, 0, err
		}
		if at >= 0 {
			low = end
		} else {
			top = end
		}
	}
	return low, top, nil
}

// PrintedRange returns the pressures between which the flow of an extended
// curve is printed, moved to its voltage, Pa.
func (c Curve) PrintedRange() (low, high float64) { return c.low, c.high }

// CurrentRange returns those between which its current is.
func (c Curve) CurrentRange() (low, high float64) { return c.currentLow, c.currentHigh }

// StandingCurrent returns the current, A, of a pump that does not turn at the
// curve's voltage: what its winding takes, and no more than it takes turning.
func (c Curve) StandingCurrent() float64 {
	turning := 0.0
	for _, p := range c.points {
		turning = max(turning, p.Current)
	}
	if c.resistance <= 0 {
		return turning
	}
	return min(c.voltage/c.resistance, turning)
}

// Stopped reports whether the pump stands still: its voltage does not turn it
// against any pressure.
func (c Curve) Stopped() bool { return c.stopped }
