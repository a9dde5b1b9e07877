package sensor

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// ThrottleShare returns the throttle opening (0 to 1) by the sensor voltage (V) between the voltages at
// closed and at wide open: (V - Vclosed)/(Vopen - Vclosed). The open voltage may be the lower one. A
// voltage outside the two is refused: the sensor then needs setting or learning again.
func ThrottleShare(volts, closed, open float64) (float64, error) {
	if err := checkThrottle(closed, open); err != nil {
		return 0, err
	}
	if err := domain.Check("throttle sensor voltage", volts, math.Min(closed, open), math.Max(closed, open), "V"); err != nil {
		return 0, err
	}
	return (volts - closed) / (open - closed), nil
}

// ThrottleVoltage returns the inverse of ThrottleShare, in V.
func ThrottleVoltage(share, closed, open float64) (float64, error) {
	if err := checkThrottle(closed, open); err != nil {
		return 0, err
	}
	if err := domain.Check("throttle opening", share, 0, 1, ""); err != nil {
		return 0, err
	}
	return closed + share*(open-closed), nil
}

func checkThrottle(closed, open float64) error {
	err := domain.First(domain.Check("throttle sensor voltage at closed", closed, 0, 100, "V"),
		domain.Check("throttle sensor voltage at wide open", open, 0, 100, "V"))
	if err != nil {
		return err
	}
	if math.Abs(open-closed) < 1e-3 {
		return fmt.Errorf("throttle sensor gives %g V closed and %g V open: give two voltages that differ", closed, open)
	}
	return nil
}

// LinearPressure is a pressure sensor whose voltage is a straight line between two points.
type LinearPressure struct {
	LowVolts, HighVolts       float64 // V
	LowPressure, HighPressure float64 // Pa absolute
}

func (s LinearPressure) check() error {
	err := domain.First(domain.Check("upper voltage of the pressure sensor", s.HighVolts, 1e-3, 100, "V"),
		domain.Check("lower voltage of the pressure sensor", s.LowVolts, 0, s.HighVolts-1e-3, "V"),
		domain.Check("upper pressure of the sensor", s.HighPressure, 1, 1e8, "Pa"))
	if err != nil {
		return err
	}
	return domain.Check("lower pressure of the sensor", s.LowPressure, 0, s.HighPressure-1, "Pa")
}

// slope returns Pa per V.
func (s LinearPressure) slope() float64 {
	return (s.HighPressure - s.LowPressure) / (s.HighVolts - s.LowVolts)
}

// Pressure returns the absolute pressure (Pa) for a voltage (V) between the two points.
func (s LinearPressure) Pressure(volts float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := domain.Check("pressure sensor voltage", volts, s.LowVolts, s.HighVolts, "V"); err != nil {
		return 0, err
	}
	return s.LowPressure + (volts-s.LowVolts)*s.slope(), nil
}

// Voltage returns the inverse of Pressure, in V.
func (s LinearPressure) Voltage(pressure float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := domain.Check("absolute pressure at the sensor", pressure, s.LowPressure, s.HighPressure, "Pa"); err != nil {
		return 0, err
	}
	return s.LowVolts + (pressure-s.LowPressure)/s.slope(), nil
}

// GroundError returns the pressure (Pa) a ground offset (V, -1 to 1) adds to the reading: the offset
// times the slope of the sensor.
func (s LinearPressure) GroundError(offset float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := domain.Check("sensor ground offset", offset, -1, 1, "V"); err != nil {
		return 0, err
	}
	return offset * s.slope(), nil
}
