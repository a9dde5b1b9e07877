package fluid

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// The speed ratios over which AtVoltage follows the affinity laws (common
// practice).
const (
	MinSpeedRatio = 0.5
	MaxSpeedRatio = 1.25
)

// SpeedRatio returns the ratio of a direct-current motor's speed at a voltage
// and current to its speed at the rated ones:
//
//	s = (V - I R) / (V0 - I0 R)
//
// With R = 0 it is V/V0, which for a lower voltage and an unchanged current is
// an upper bound on the speed. Domain: V, V0 > 0; I, I0, R >= 0; I R < V and
// I0 R < V0. Source: back-EMF of a permanent-magnet motor; an approximation, as
// brush drop and iron loss are left out.
func SpeedRatio(voltage, current, ratedVoltage, ratedCurrent, resistance float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("voltage", voltage, "V"),
		domain.CheckPositive("rated voltage", ratedVoltage, "V"),
		domain.CheckNotNegative("current", current, "A"),
		domain.CheckNotNegative("rated current", ratedCurrent, "A"),
		domain.CheckNotNegative("motor resistance", resistance, "ohm"),
		domain.CheckPositive("back-EMF", voltage-current*resistance, "V"),
		domain.CheckPositive("rated back-EMF", ratedVoltage-ratedCurrent*resistance, "V"),
	); err != nil {
		return 0, err
	}
	return (voltage - current*resistance) / (ratedVoltage - ratedCurrent*resistance), nil
}

// AtVoltage returns the curve at another voltage, each point moved by the law
// of its kind with the speed ratio s of SpeedRatio:
//
//	positive displacement: p = p0, Q = Q0 - (1-s) Qideal, I = I0
//	turbine:               p = p0 s^2, Q = Q0 s,          I = I0 s^2
//
// The leakage of a positive displacement pump depends on pressure only, and so
// does its current; where its flow falls below zero the curve ends at the
// pressure it can just hold. Qideal taken from the points understates the fall
// by (1-s) times the leakage at the lowest pressure.
//
// Domain: 0.5 <= s <= 1.25 at every point; a stated resistance needs stated
// currents. Source: affinity laws (Crane TP-410, example 7.33) with the
// back-EMF approximation of SpeedRatio.
func (c Curve) AtVoltage(voltage float64) (Curve, error) {
	if err := domain.CheckPositive("pump voltage", voltage, "V"); err != nil {
		return Curve{}, err
	}
	if c.resistance > 0 && c.points[0].Current == 0 {
		return Curve{}, fmt.Errorf("pump curve: a motor resistance needs the current at each point: give it, or leave the resistance out")
	}
	scaled := c
	scaled.voltage = voltage
	scaled.points = make([]CurvePoint, 0, len(c.points))
	for i, p := range c.points {
		s, err := c.speed(p, voltage)
		if err != nil {
			return Curve{}, err
		}
		if err := domain.Check("pump speed ratio", s, MinSpeedRatio, MaxSpeedRatio, "1"); err != nil {
			return Curve{}, fmt.Errorf("pump at %.4g V, data at %.4g V: %w", voltage, c.voltage, err)
		}
		if i == 0 {
			scaled.ideal = c.ideal * s
		}
		var q CurvePoint
		if c.kind == Turbine {
			q = CurvePoint{Pressure: p.Pressure * s * s, Flow: p.Flow * s, Current: p.Current * s * s}
		} else {
			q = CurvePoint{Pressure: p.Pressure, Flow: p.Flow - (1-s)*c.ideal, Current: p.Current}
		}
		scaled.points = append(scaled.points, q)
		if q.Flow < 0 {
			break
		}
	}
	return scaled.trimmed()
}

// speed solves the ratio at one point. The current of a turbine falls with its
// torque, as s^2, which makes a quadratic in s.
func (c Curve) speed(p CurvePoint, voltage float64) (float64, error) {
	s, err := SpeedRatio(voltage, p.Current, c.voltage, p.Current, c.resistance)
	if err != nil || c.kind != Turbine || c.resistance == 0 {
		return s, err
	}
	drop := p.Current * c.resistance
	half := (c.voltage - drop) / 2
	return (math.Sqrt(half*half+drop*voltage) - half) / drop, nil
}

// trimmed ends the curve where its flow reaches zero and checks it anew.
func (c Curve) trimmed() (Curve, error) {
	last := len(c.points) - 1
	if b := c.points[last]; b.Flow < 0 {
		if last == 0 {
			return Curve{}, fmt.Errorf("pump at %.4g V gives no flow at %.6g Pa, the lowest pressure of its curve: give points at lower pressure",
				c.voltage, b.Pressure)
		}
		a := c.points[last-1]
		share := a.Flow / (a.Flow - b.Flow)
		c.points[last] = CurvePoint{
			Pressure: a.Pressure + share*(b.Pressure-a.Pressure),
			Current:  a.Current + share*(b.Current-a.Current),
		}
		if c.points[last].Pressure == a.Pressure {
			c.points = c.points[:last]
		}
	}
	if len(c.points) < 2 {
		return Curve{}, fmt.Errorf("pump at %.4g V gives flow at one point of its curve only: give points at lower pressure", c.voltage)
	}
	if err := checkPoints(c.points); err != nil {
		return Curve{}, fmt.Errorf("pump at %.4g V: %w", c.voltage, err)
	}
	return c, nil
}
