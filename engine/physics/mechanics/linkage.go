package mechanics

import (
	"math"

	"plumbline/engine/physics/domain"
)

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
