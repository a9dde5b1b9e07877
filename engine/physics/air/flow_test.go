package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/air"
)

func TestThrottleRatings(t *testing.T) {
	drop, err := air.ThrottleDrop(500, air.TwoBarrelRatingDrop, 1.2, 353.5534, 1.2)
	require.NoError(t, err)
	assert.InEpsilon(t, air.FourBarrelRatingDrop, drop, 1e-6)

	// White, Fluid Mechanics, section 9.3: air chokes at 0.528 of the pressure before it, here of 101.325 kPa. A body or an
	// opening far too small is told by that drop, not by none.
	drop, err = air.ThrottleDrop(500, air.TwoBarrelRatingDrop, 1.2, 1200, 1.2)
	require.NoError(t, err)
	assert.InDelta(t, 0.472*101325, drop, 1)
	drop, err = air.OpeningLoss(0.2, 5e-4, 0.61, 1.225)
	require.NoError(t, err)
	assert.InDelta(t, 0.472*101325, drop, 1)
}

// Rows without a source are arithmetic: 350 in3 at 5000 rpm and 0.85, Cd 0.60.
func TestOpeningLoss(t *testing.T) {
	for area, want := range map[float64]float64{60e-4: 1910, 100e-4: 687.7, 150e-4: 306} {
		loss, err := air.OpeningLoss(0.2031, area, 0.60, 1.20)
		require.NoError(t, err)
		assert.InEpsilon(t, want, loss, 2e-3)
	}

	// Rajput, Internal Combustion Engines, example 7.3: the air of four cylinders
	// 100 x 120 mm at 1200 rpm through a 50 mm orifice of Cd 0.6 draws 46 mm of
	// water at 17 degC and 1 bar; volumetric efficiency 0.856, a filling in two turns.
	flow := 4 * math.Pi / 4 * 0.1 * 0.1 * 0.12 * 1200 / minute / 2 * 0.856
	density, err := air.Density(1e5, 290)
	require.NoError(t, err)
	loss, err := air.OpeningLoss(flow, math.Pi/4*0.05*0.05, 0.6, density)
	require.NoError(t, err)
	assert.InEpsilon(t, 46*9.81, loss, 5e-3)

	// Rajput, example 11.1: venturi of 28 mm, Cd 0.8, rho 1.2, four cylinders 100 x
	// 120 mm at 1800 rpm, 0.75.
	flow = 4 * math.Pi / 4 * 0.1 * 0.1 * 0.12 * 1800 / minute / 2 * 0.75
	loss, err = air.OpeningLoss(flow, math.Pi/4*0.028*0.028, 0.8, 1.2)
	require.NoError(t, err)
	assert.InEpsilon(t, 4447.61, loss, 1e-3)
}

// 0.528 for air: White, Fluid Mechanics, chapter 9.
func TestCriticalRatio(t *testing.T) {
	assert.InDelta(t, 0.528, air.CriticalRatio(), 5e-4)
}
