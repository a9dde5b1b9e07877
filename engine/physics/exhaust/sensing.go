package exhaust

import (
	"math"

	"plumbline/engine/physics/domain"
)

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
