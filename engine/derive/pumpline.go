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
	base := pumpCurve(c)
	if c.Lacks() {
		return PumpLine{}
	}
	volts := base.Voltage()
	if p != NoPoint {
		real, known := s.At(p, "pump_voltage").Value().(quantity.Value)
		if !known {
			return PumpLine{}
		}
		volts = real.SI()
	}
	moved, err := base.AtVoltage(volts)
	if err != nil || moved.Stopped() {
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
