package derive

import (
	"math"

	"plumbline/engine/physics/fluid"
	"plumbline/schema/quantity"
)

// PumpLine is a pump's curve at one voltage, to be drawn.
type PumpLine struct {
	// Printed are the points of its sheet, moved to the voltage by the law of its kind; pressure in Pa, flow in m3/s, by rising pressure.
	Printed []fluid.CurvePoint
	// Beyond are points behind the last of them, down to no flow: between bounds, since nobody printed them.
	Beyond []fluid.CurvePoint
}

// PumpLine is the pump's curve at the voltage that it gets at an operating point; with NoPoint at the voltage it was printed for. It
// is empty while the curve or that voltage is not known.
func (s *Session) PumpLine(p Point) PumpLine {
	c := s.begin(nil, s.design, NoPoint)
	defer s.end(c, &Result{})
	moved, ok := asPrinted(c), true
	if p != NoPoint {
		moved, ok = pumpCurveAt(c, p)
	}
	if !ok || c.Lacks() {
		return PumpLine{}
	}
	var out PumpLine
	low, high := moved.PrintedRange()
	for _, point := range moved.Points() {
		switch {
		case point.Pressure < math.Max(low, 0)*(1-1e-9):
		case point.Pressure <= high*(1+1e-9):
			out.Printed = append(out.Printed, point)
		default:
			out.Beyond = append(out.Beyond, point)
		}
	}
	return out
}

// asPrinted is the curve as it stands on its sheet: neither voltage nor motor nor kind matter there.
func asPrinted(c *Calc) fluid.Curve {
	points := curvePoints(c)
	if c.Lacks() {
		return fluid.Curve{}
	}
	curve, err := fluid.NewCurve(fluid.CurveData{Voltage: 1, Kind: fluid.PositiveDisplacement, Points: points})
	if err != nil {
		c.Unreachable(err)
		return curve
	}
	deadHead, _ := Try(c, &c.Design().Pump.DeadHeadPressure)
	return curve.Extended(fluid.Extension{DeadHead: deadHead.SI()})
}

// pumpCurveAt is the curve at the voltage of an operating point; false while that is not known, or where the pump stands still.
func pumpCurveAt(c *Calc, p Point) (fluid.Curve, bool) {
	base := pumpCurve(c)
	volts, known := c.session.At(p, "pump_voltage").Value().(quantity.Value)
	if c.Lacks() || !known {
		return fluid.Curve{}, false
	}
	moved, err := base.AtVoltage(volts.SI())
	return moved, err == nil && !moved.Stopped()
}
