package circuit

import (
	"math"

	"plumbline/engine/physics/domain"
)

// Limits of what this package takes for a road vehicle's low-voltage circuit.
// They keep typing slips (mm for m, degC for K) out of a result.
const (
	maxAmps   = 1e5  // A
	maxVolts  = 1e4  // V
	maxLength = 1e4  // m
	minArea   = 1e-9 // m2, 0.001 mm2
	maxArea   = 1e-2 // m2, 10 000 mm2
	maxOhms   = 1e9  // ohm
	maxWatts  = 1e6  // W
)

// zeroCelsius is 0 degC in kelvin.
const zeroCelsius = 273.15

// CelsiusToKelvin returns the absolute temperature of t degC, in K.
func CelsiusToKelvin(t float64) float64 { return t + zeroCelsius }

func checkAmps(name string, v float64) error { return domain.Check(name, v, 0, maxAmps, "A") }

func checkLoadAmps(name string, v float64) error {
	return domain.Check(name, v, domain.Smallest, maxAmps, "A")
}

func checkLength(name string, v float64) error { return domain.Check(name, v, 0, maxLength, "m") }

func checkArea(name string, v float64) error { return domain.Check(name, v, minArea, maxArea, "m2") }

// atLeast says whether a is b or more, give or take a relative 1e-12 for a conversion of units.
func atLeast(a, b float64) bool { return a >= b-1e-12*math.Abs(b) }

// near says whether a and b agree within the relative tolerance.
func near(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*math.Max(math.Abs(a), math.Abs(b))
}
