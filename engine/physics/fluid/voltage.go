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

// slowFall is how many times faster than by the affinity laws the speed may fall
// under MinSpeedRatio, where friction takes a growing part of the torque (a
// judgement).
const slowFall = 2

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
	if c.resistance > 0 && !c.hasCurrent() {
		return Curve{}, fmt.Errorf("pump curve: a motor resistance needs the current at each point: give it, or leave the resistance out")
	}
	scaled := c
	scaled.voltage = voltage
	scaled.points = make([]CurvePoint, 0, len(c.points))
	if c.extension != nil {
		scaled.guessed = make([]bool, 0, len(c.points))
	}
	var fastest float64
	for i, p := range c.points {
		s, guessed, err := c.speedAt(p, voltage)
		if err != nil {
			return Curve{}, err
		}
		if i == 0 {
			scaled.ideal = c.ideal * s
		}
		fastest = max(fastest, s)
		q := c.moved(p, s)
		if c.extension != nil {
			scaled.guessed = append(scaled.guessed, guessed)
			q = c.kept(i, q, scaled.points)
			scaled.moveRange(&c, p.Pressure, q.Pressure)
		}
		scaled.points = append(scaled.points, q)
		if q.Flow < 0 {
			break
		}
	}
	if c.extension != nil {
		return scaled.trimmedOpen(fastest), nil
	}
	return scaled.trimmed()
}

// moved is a point at a speed ratio.
func (c Curve) moved(p CurvePoint, s float64) CurvePoint {
	if c.kind == Turbine {
		return CurvePoint{Pressure: p.Pressure * s * s, Flow: p.Flow * s, Current: p.Current * s * s}
	}
	return CurvePoint{Pressure: p.Pressure, Flow: p.Flow - (1-s)*c.ideal, Current: p.Current}
}

// kept keeps a moved point of an extended curve in its place: above those before
// it, and without flow where the relief valve has closed the pump, which it does
// at its pressure at any speed.
func (c Curve) kept(i int, q CurvePoint, before []CurvePoint) CurvePoint {
	if n := len(before); n > 0 && q.Pressure <= before[n-1].Pressure {
		q.Pressure = before[n-1].Pressure + math.Abs(before[n-1].Pressure)*dropShare + pressureTolerance
	}
	if c.points[i].Flow == 0 {
		q.Flow = min(q.Flow, 0)
	}
	return q
}

// moveRange moves the ends of the printed part that lie at a point.
func (c *Curve) moveRange(base *Curve, from, to float64) {
	for _, end := range []struct {
		at   float64
		move *float64
	}{{base.low, &c.low}, {base.high, &c.high}, {base.currentLow, &c.currentLow}, {base.currentHigh, &c.currentHigh}} {
		if end.at == from {
			*end.move = to
		}
	}
}

// speedAt is the speed ratio at a point, within the range of the affinity laws;
// an extended curve has bounds for it outside them, and it is then guessed.
func (c Curve) speedAt(p CurvePoint, voltage float64) (ratio float64, guessed bool, err error) {
	if c.extension == nil {
		s, err := c.speed(p, voltage)
		if err != nil {
			return 0, false, err
		}
		if err := domain.Check("pump speed ratio", s, MinSpeedRatio, MaxSpeedRatio, "1"); err != nil {
			return 0, false, fmt.Errorf("pump at %.4g V, data at %.4g V: %w", voltage, c.voltage, err)
		}
		return s, false, nil
	}
	drop := p.Current * c.resistance
	if drop >= c.voltage {
		if p.Pressure >= c.currentLow && p.Pressure <= c.currentHigh {
			return 0, false, fmt.Errorf("the motor's resistance of %.3g ohm takes all of the %.3g V its curve was printed at, at its %.3g A: one of the three is not so",
				c.resistance, c.voltage, p.Current)
		}
		// More than the motor has: at this pressure it stands still.
		return 0, true, nil
	}
	s := 0.0
	if drop < voltage || c.kind == Turbine {
		if s, err = c.speed(p, voltage); err != nil {
			return 0, false, err
		}
	}
	share := c.extension.Ends.Speed
	switch {
	case s < MinSpeedRatio*(1-1e-12):
		return blend(max(MinSpeedRatio-slowFall*(MinSpeedRatio-s), 0), s, share), true, nil
	case s > MaxSpeedRatio*(1+1e-12):
		return blend(MaxSpeedRatio, s, share), true, nil
	}
	return s, false, nil
}

// speed solves the ratio at one point. The current of a turbine falls with its
// torque, as s^2, which makes a quadratic in s. Friction of brushes and bearings
// does not fall with it, so the ratio is taken no higher than V/V0.
func (c Curve) speed(p CurvePoint, voltage float64) (float64, error) {
	drop := p.Current * c.resistance
	if c.kind != Turbine || drop == 0 {
		return SpeedRatio(voltage, p.Current, c.voltage, p.Current, c.resistance)
	}
	if err := domain.CheckPositive("rated back-EMF", c.voltage-drop, "V"); err != nil {
		return 0, err
	}
	half := (c.voltage - drop) / 2
	return min((math.Sqrt(half*half+drop*voltage)-half)/drop, voltage/c.voltage), nil
}

// trimmedOpen ends an extended curve where its flow reaches zero. A pump whose
// flow is zero everywhere, or that does not turn, is stopped.
func (c Curve) trimmedOpen(fastest float64) Curve {
	last := len(c.points) - 1
	if fastest <= 1e-3 || c.points[0].Flow <= 0 || last == 0 {
		c.stopped = true
		return c
	}
	if b := c.points[last]; b.Flow < 0 {
		a := c.points[last-1]
		share := a.Flow / (a.Flow - b.Flow)
		c.points[last] = CurvePoint{
			Pressure: a.Pressure + share*(b.Pressure-a.Pressure),
			Current:  a.Current + share*(b.Current-a.Current),
		}
		end := c.points[last].Pressure
		if end <= a.Pressure {
			c.points = c.points[:last]
			c.points[last-1].Flow = 0
		}
		// A flow that ends between printed points is known to end there.
		if end <= c.high {
			c.high = math.Inf(1)
		}
	}
	return c
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
