package mechanics

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
)

func checkLever(radius, swing float64) error {
	return domain.First(domain.Check("lever radius", radius, 1e-3, 1, "m"),
		domain.Check("lever swing", swing, 0, math.Pi, "rad"))
}

// CamTravel returns the cable (m) a cam or quadrant takes up over a swing (rad, 0 to pi): radius times
// swing. Source: geometry.
func CamTravel(radius, swing float64) (float64, error) {
	if err := checkLever(radius, swing); err != nil {
		return 0, err
	}
	return radius * swing, nil
}

// PinTravel returns the straight distance (m) a pin on a lever moves over a swing (rad, 0 to pi), the
// chord: 2 radius sin(swing/2). Source: geometry.
func PinTravel(radius, swing float64) (float64, error) {
	if err := checkLever(radius, swing); err != nil {
		return 0, err
	}
	return 2 * radius * math.Sin(swing/2), nil
}

// PinMoment returns the moment (N m) of a rod or cable force (N) on a lever pin: force radius sin(angle),
// with the angle (rad, 0 to pi) between the rod and the lever. At 0 and pi the linkage is on centre
// and the moment is nothing.
func PinMoment(force, radius, angle float64) (float64, error) {
	err := domain.First(domain.Check("linkage force", force, 0, 1e4, "N"),
		domain.Check("lever radius", radius, 1e-3, 1, "m"),
		domain.Check("angle between rod and lever", angle, 0, math.Pi, "rad"))
	if err != nil {
		return 0, err
	}
	return force * radius * math.Sin(angle), nil
}

// SpringTorque returns the torque (N m) of a torsion return spring: preload (N m) at closed plus rate
// (N m/rad) times opening (rad, 0 to pi/2).
func SpringTorque(preload, rate, opening float64) (float64, error) {
	err := domain.First(domain.Check("spring preload", preload, 0, 100, "N m"),
		domain.Check("spring rate", rate, 0, 100, "N m/rad"),
		domain.Check("throttle opening", opening, 0, math.Pi/2, "rad"))
	if err != nil {
		return 0, err
	}
	return preload + rate*opening, nil
}

// TorqueWithOneLost returns the closing torque (N m) left when the strongest of two or more return
// springs breaks. Each must close the throttle alone with two springs, so this is what to hold against friction
// (principle of 49 CFR 571.124 S5.1).
func TorqueWithOneLost(torques ...float64) (float64, error) {
	if len(torques) < 2 {
		return 0, fmt.Errorf("number of return springs is %d: give the torque of at least 2", len(torques))
	}
	sum, strongest := 0.0, 0.0
	for _, torque := range torques {
		if err := domain.Check("closing torque of a spring", torque, 0, 100, "N m"); err != nil {
			return 0, err
		}
		sum += torque
		strongest = math.Max(strongest, torque)
	}
	return sum - strongest, nil
}

// PlateProjection returns how far (m) the edge of a throttle plate of a diameter (m) stands below its
// shaft axis at an opening from the closed position square to the bore (rad, 0 to pi/2): D/2 sin(opening),
// D/2 when fully open.
func PlateProjection(diameter, opening float64) (float64, error) {
	err := domain.First(domain.Check("throttle plate diameter", diameter, 1e-3, maxDiameter, "m"),
		domain.Check("throttle opening", opening, 0, math.Pi/2, "rad"))
	if err != nil {
		return 0, err
	}
	return diameter / 2 * math.Sin(opening), nil
}

// StackHeight returns the sum of the heights (m) of stacked parts, each 0 to 2 m.
func StackHeight(parts ...float64) (float64, error) {
	if len(parts) == 0 {
		return 0, fmt.Errorf("height stack is empty: give the height of at least one part")
	}
	sum := 0.0
	for _, part := range parts {
		if err := domain.Check("height of a part", part, 0, 2, "m"); err != nil {
			return 0, err
		}
		sum += part
	}
	return sum, nil
}

// LiquidSlope returns the angle (rad) the surface of a liquid at rest in a tank takes from the level
// under a steady horizontal acceleration (m/s2, 0 to 50): atan(a/g). Source: hydrostatics.
func LiquidSlope(acceleration float64) (float64, error) {
	if err := domain.Check("horizontal acceleration", acceleration, 0, 50, "m/s2"); err != nil {
		return 0, err
	}
	return math.Atan(acceleration / fluid.StandardGravity), nil
}
