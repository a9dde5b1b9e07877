package exhaust

import (
	"math"

	"plumbline/engine/physics/domain"
)

func checkLambda(name string, lambda float64) error {
	return domain.Check(name, lambda, 0.4, 10, "1")
}

func checkAdded(share float64) error {
	return domain.Check("added air over engine air", share, 0, 10, "1")
}

// DilutedLambda returns what a sensor reads when air, as a share x of the engine's
// air, joins the exhaust before it: lambda (1 + x). Domain: 0.4 <= lambda <= 10, 0
// <= x <= 10. Source: mass balance of air.
func DilutedLambda(lambda, share float64) (float64, error) {
	if err := domain.First(checkLambda("lambda", lambda), checkAdded(share)); err != nil {
		return 0, err
	}
	return lambda * (1 + share), nil
}

// TrueLambda returns the lambda in the cylinders when the sensor reads, or closed
// loop holds, a lambda with air added as a share x of the engine's air: lambda/(1
// + x). Domain and source as DilutedLambda.
func TrueLambda(reading, share float64) (float64, error) {
	if err := domain.First(checkLambda("lambda reading", reading), checkAdded(share)); err != nil {
		return 0, err
	}
	return reading / (1 + share), nil
}

// InjectedLambda returns what a sensor reads when a mass flow of air is injected
// into the exhaust of an engine burning a mass flow of fuel, both kg/s: lambda +
// air/(fuel AFRst). Domain: 0.4 <= lambda <= 10; air >= 0; fuel > 0; 1 <= AFRst <=
// 60. Source: mass balance of air.
func InjectedLambda(lambda, injectedAir, fuel, stoichiometric float64) (float64, error) {
	if err := domain.First(
		checkLambda("lambda", lambda),
		domain.CheckNotNegative("injected air", injectedAir, "kg/s"),
		domain.CheckPositive("fuel flow", fuel, "kg/s"),
		domain.Check("stoichiometric air-fuel ratio", stoichiometric, 1, 60, "1"),
	); err != nil {
		return 0, err
	}
	return lambda + injectedAir/(fuel*stoichiometric), nil
}

// ClockAngle returns the angle, rad, clockwise from 12 o'clock of a position on a
// clock dial in hours: 30 degrees an hour. Domain: 0 to 12. Source: geometry.
func ClockAngle(hours float64) (float64, error) {
	if err := domain.Check("clock position", hours, 0, 12, "h"); err != nil {
		return 0, err
	}
	return hours * math.Pi / 6, nil
}

// Elevation returns the angle, rad, of a sensor's axis above the horizontal on a
// horizontal pipe, from its angle in rad clockwise from 12 o'clock: 90 degrees
// less the smaller way round to 12. Negative means the sensor hangs. Domain: 0 to
// a full turn. Source: geometry.
func Elevation(clockAngle float64) (float64, error) {
	if err := domain.Check("angle from 12 o'clock", clockAngle, 0, 2*math.Pi, "rad"); err != nil {
		return 0, err
	}
	return math.Pi/2 - min(clockAngle, 2*math.Pi-clockAngle), nil
}
