package ignition

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
)

func value(t *testing.T) func(v float64, err error) float64 {
	return func(v float64, err error) float64 {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

func refused(t *testing.T, err error) {
	t.Helper()
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

// First-order RL circuit (circuit textbooks): 12 V, 3.0 ohm, 8 mH, points with 30 degrees of dwell in 45, eight cylinders.
func TestPointsIgnitionBySpeed(t *testing.T) {
	// The exact figures at 2.00 and 10.0 ms.
	assert.InEpsilon(t, 2.1105, value(t)(CoilCurrent(12, 3, 8e-3, 2e-3)), 2e-3)
	assert.InEpsilon(t, 17.82e-3, value(t)(CoilEnergy(8e-3, 2.1105)), 2e-3)
	assert.InEpsilon(t, 3.9059, value(t)(CoilCurrent(12, 3, 8e-3, 10e-3)), 2e-3)
	assert.InEpsilon(t, 61.03e-3, value(t)(CoilEnergy(8e-3, 3.9059)), 2e-3)
	// E = L I^2 / 2: 8 mH at 4 A stores 64 mJ, 5 mH at 6 A 90 mJ.
	assert.InEpsilon(t, 64e-3, value(t)(CoilEnergy(8e-3, 4)), 1e-9)
	assert.InEpsilon(t, 90e-3, value(t)(CoilEnergy(5e-3, 6)), 1e-9)
}

// Voltage divider: 1.5 ohm ballast and 1.5 ohm coil at 13.5 V; dwell 30 of 45 degrees.
func TestBallast(t *testing.T) {
	assert.InDelta(t, 6.75, value(t)(BallastVolts(13.5, 1.5, 1.5)), 1e-12)
	assert.InDelta(t, 9.0, value(t)(MeanCoilVolts(13.5, 1.5, 1.5, 30.0/45)), 1e-12)
	assert.Equal(t, 13.5, value(t)(MeanCoilVolts(13.5, 1.5, 1.5, 0)))
	_, err := MeanCoilVolts(13.5, 1.5, 1.5, 30)
	refused(t, err)
}

// Geometry: 10 to 45 degrees of advance, eight cylinders, 25 mm rotor radius, 8 mm tip and 5 mm terminal.
func TestRotorPhasing(t *testing.T) {
	p, err := RotorPhasing(degrees(10), degrees(45), 0.5)
	require.NoError(t, err)
	assert.InDelta(t, degrees(27.5), p.Middle, 1e-12)
	assert.InDelta(t, degrees(8.75), p.Misalignment, 1e-12)
	limit := value(t)(OverlapLimit(25e-3, 8e-3, 5e-3))
	assert.InDelta(t, degrees(14.90), limit, degrees(0.05))
	assert.Less(t, p.Misalignment, limit)
	_, err = RotorPhasing(degrees(45), degrees(10), 0.5)
	refused(t, err)
	_, err = RotorPhasing(10, 45, 0.5) // degrees for radians
	refused(t, err)
	_, err = RotorPhasing(degrees(10), degrees(45), 0)
	refused(t, err)
	// A two-stroke engine's distributor turns with the crank, so the same range swings the rotor twice as far.
	p, err = RotorPhasing(degrees(10), degrees(45), 1)
	require.NoError(t, err)
	assert.InDelta(t, degrees(17.5), p.Misalignment, 1e-12)
}

func TestCoilRefusals(t *testing.T) {
	for name, call := range map[string]func() (float64, error){
		"no resistance":  func() (float64, error) { return CoilCurrent(12, 0, 8e-3, 1e-3) },
		"millihenries":   func() (float64, error) { return CoilCurrent(12, 3, 80, 1e-3) },
		"time backwards": func() (float64, error) { return CoilCurrent(12, 3, 8e-3, -1) },
		"not a number":   func() (float64, error) { return CoilEnergy(8e-3, math.NaN()) },
	} {
		t.Run(name, func(t *testing.T) {
			_, err := call()
			refused(t, err)
		})
	}
}
