package fluid

import (
	"fmt"
	"slices"

	"plumbline/engine/physics/domain"
)

// PumpKind is the working principle, which sets how a pump follows its speed.
type PumpKind string

// The kinds of pump.
const (
	PositiveDisplacement PumpKind = "positive_displacement" // roller cell, gerotor, vane, diaphragm
	Turbine              PumpKind = "turbine"               // side channel, centrifugal
)

// CurvePoint is one point of a pump's data: the flow and current at a pressure
// rise from inlet to outlet. Current is zero on every point where it is not
// stated.
type CurvePoint struct {
	Pressure float64 // Pa
	Flow     float64 // m3/s
	Current  float64 // A
}

// Curve is a pump at one voltage, straight between its points. Make it with
// NewCurve.
type Curve struct {
	kind       PumpKind
	voltage    float64
	resistance float64
	ideal      float64
	points     []CurvePoint

	// extension is set for a curve that goes on beyond its points; low to high
	// and currentLow to currentHigh are then where flow and current are printed.
	extension                          *Extension
	low, high, currentLow, currentHigh float64
	// guessed are the points whose speed ratio the affinity laws do not cover.
	// stopped: the motor does not turn.
	guessed []bool
	stopped bool
}

// CurveData is what NewCurve makes a Curve of.
type CurveData struct {
	Kind    PumpKind
	Voltage float64 // V, at which the points hold
	// Resistance is the ohms of the motor's winding and brushes, 0 if unknown.
	Resistance float64
	// IdealFlow is the flow of a positive displacement pump without leakage,
	// m3/s at Voltage. 0 takes the largest flow of the points.
	IdealFlow float64
	Points    []CurvePoint
}

// NewCurve checks pump data and sorts its points by pressure. There must be two
// points or more, at different pressures, none negative; flow must not rise
// with pressure; current must be stated on all points or on none. Straight
// lines between points read low on a curve that sags outward, as pump curves do.
func NewCurve(data CurveData) (Curve, error) {
	if data.Kind != PositiveDisplacement && data.Kind != Turbine {
		return Curve{}, &domain.UnknownName{Table: "the list of pump kinds", Name: string(data.Kind),
			Known: []string{string(PositiveDisplacement), string(Turbine)}}
	}
	if err := domain.First(
		domain.CheckPositive("curve voltage", data.Voltage, "V"),
		domain.CheckNotNegative("motor resistance", data.Resistance, "ohm"),
		domain.CheckNotNegative("ideal flow", data.IdealFlow, "m3/s"),
	); err != nil {
		return Curve{}, err
	}
	if len(data.Points) < 2 {
		return Curve{}, &BadCurve{TooFewPoints, fmt.Sprintf("pump curve: it has %d points, and two are the least: one below and one above the working pressure", len(data.Points))}
	}
	points := slices.Clone(data.Points)
	slices.SortStableFunc(points, func(a, b CurvePoint) int {
		switch {
		case a.Pressure < b.Pressure:
			return -1
		case a.Pressure > b.Pressure:
			return 1
		}
		return 0
	})
	if err := checkPoints(points); err != nil {
		return Curve{}, err
	}
	ideal := data.IdealFlow
	if ideal == 0 {
		ideal = points[0].Flow
	}
	if err := domain.Check("largest flow of the curve", points[0].Flow, 0, ideal, "m3/s"); err != nil {
		return Curve{}, err
	}
	return Curve{kind: data.Kind, voltage: data.Voltage, resistance: data.Resistance, ideal: ideal, points: points}, nil
}

// What can be wrong with the points of a pump's curve.
const (
	Sound         = "sound"
	TooFewPoints  = "too_few_points"
	CurrentOnSome = "current_on_some_points"
	PressureTwice = "one_pressure_twice"
	FlowRises     = "flow_rises_with_pressure"
	NoFlow        = "no_flow_at_all"
)

const (
	kilo          = 1000
	litresPerHour = 3.6e6 // in one m3/s
)

// BadCurve says what is wrong with the points of a pump's curve.
type BadCurve struct {
	// Fault is one of the words above.
	Fault string
	text  string
}

// Error says what of the curve cannot be.
func (e *BadCurve) Error() string { return e.text }

func checkPoints(points []CurvePoint) error {
	stated := points[0].Current > 0
	for i, p := range points {
		if err := domain.First(
			domain.CheckNotNegative("curve pressure", p.Pressure, "Pa"),
			domain.CheckNotNegative("curve flow", p.Flow, "m3/s"),
			domain.CheckNotNegative("curve current", p.Current, "A"),
		); err != nil {
			return err
		}
		if (p.Current > 0) != stated {
			return &BadCurve{CurrentOnSome, fmt.Sprintf("pump curve: state the current on every point or on none; at %.4g kPa it is %.4g A", p.Pressure/kilo, p.Current)}
		}
		if i == 0 {
			continue
		}
		before := points[i-1]
		if p.Pressure == before.Pressure {
			return &BadCurve{PressureTwice, fmt.Sprintf("pump curve: two points at %.4g kPa: keep one", p.Pressure/kilo)}
		}
		if p.Flow > before.Flow {
			return &BadCurve{FlowRises, fmt.Sprintf("pump curve: flow rises from %.4g L/h at %.4g kPa to %.4g L/h at %.4g kPa: it must not rise with pressure",
				before.Flow*litresPerHour, before.Pressure/kilo, p.Flow*litresPerHour, p.Pressure/kilo)}
		}
	}
	if points[0].Flow == 0 {
		return &BadCurve{NoFlow, fmt.Sprintf("pump curve: flow is zero at the lowest pressure, %.4g kPa: give a point with flow", points[0].Pressure/kilo)}
	}
	return nil
}

// Voltage returns the voltage the curve holds at, V.
func (c Curve) Voltage() float64 { return c.voltage }

// Points returns a copy of the points, by rising pressure.
func (c Curve) Points() []CurvePoint { return slices.Clone(c.points) }

// PressureRange returns the lowest and highest pressure of the points, Pa.
func (c Curve) PressureRange() (low, high float64) {
	return c.points[0].Pressure, c.points[len(c.points)-1].Pressure
}

// FlowRange returns the least and greatest flow of the points, m3/s.
func (c Curve) FlowRange() (low, high float64) {
	return c.points[len(c.points)-1].Flow, c.points[0].Flow
}

// Flow returns the flow, m3/s, at a pressure rise in Pa, by straight lines
// between the points. Error: *domain.RangeError outside them; an extended curve
// gives nothing above its last point.
func (c Curve) Flow(pressure float64) (float64, error) {
	if c.extension != nil && (c.stopped || pressure > c.points[len(c.points)-1].Pressure) {
		return 0, nil
	}
	return c.read("pump pressure", pressure, func(p *CurvePoint) float64 { return p.Flow })
}

// Current returns the current, A, at a pressure rise in Pa. Error:
// *domain.RangeError outside the points, or an error if the data state none. An
// extended curve holds the current of its last point above it.
func (c Curve) Current(pressure float64) (float64, error) {
	if !c.hasCurrent() {
		return 0, fmt.Errorf("pump curve: no current stated: give the current at each point")
	}
	if last := c.points[len(c.points)-1]; c.extension != nil && pressure > last.Pressure {
		return last.Current, nil
	}
	return c.read("pump pressure", pressure, func(p *CurvePoint) float64 { return p.Current })
}

// PressureAt returns the highest pressure rise, Pa, at which the pump still
// gives a flow in m3/s. Error: *domain.RangeError outside the points.
func (c Curve) PressureAt(flow float64) (float64, error) {
	low, high := c.FlowRange()
	if err := domain.Check("pump flow", flow, low, high, "m3/s"); err != nil {
		return 0, err
	}
	for i := len(c.points) - 1; i > 0; i-- {
		a, b := c.points[i-1], c.points[i]
		if flow == b.Flow {
			return b.Pressure, nil
		}
		if flow < a.Flow {
			return a.Pressure + (b.Pressure-a.Pressure)*(a.Flow-flow)/(a.Flow-b.Flow), nil
		}
	}
	return c.points[0].Pressure, nil
}

// hasCurrent reports whether the data state the current.
func (c Curve) hasCurrent() bool {
	return slices.ContainsFunc(c.points, func(p CurvePoint) bool { return p.Current > 0 })
}

func (c Curve) read(quantity string, pressure float64, value func(*CurvePoint) float64) (float64, error) {
	low, high := c.PressureRange()
	if err := domain.Check(quantity, pressure, low, high, "Pa"); err != nil {
		return 0, err
	}
	// The slack of the check at the ends is held at the end points.
	i := 1
	for i < len(c.points)-1 && pressure >= c.points[i].Pressure {
		i++
	}
	a, b := &c.points[i-1], &c.points[i]
	switch {
	case pressure <= a.Pressure:
		return value(a), nil
	case pressure >= b.Pressure:
		return value(b), nil
	}
	low, high = value(a), value(b)
	return low + (high-low)/(b.Pressure-a.Pressure)*(pressure-a.Pressure), nil
}
