package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/domain"
)

func TestThrottleRatings(t *testing.T) {
	flow, err := air.RatedFlowAt(500, air.TwoBarrelRatingDrop, air.FourBarrelRatingDrop)
	require.NoError(t, err)
	assert.InEpsilon(t, 353.6, flow, 1e-3, "common practice: factor 0.707 between the ratings")
	flow, err = air.RatedFlowAt(650, air.FourBarrelRatingDrop, air.TwoBarrelRatingDrop)
	require.NoError(t, err)
	assert.InEpsilon(t, 919.2, flow, 1e-3, "arithmetic on the same law")

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
	// water at 17 degC and 1 bar; volumetric efficiency 0.856.
	flow, err := air.EngineVolumeFlow(4*math.Pi/4*0.1*0.1*0.12, 1200/minute, 0.856)
	require.NoError(t, err)
	density, err := air.Density(1e5, 290)
	require.NoError(t, err)
	loss, err := air.OpeningLoss(flow, math.Pi/4*0.05*0.05, 0.6, density)
	require.NoError(t, err)
	assert.InEpsilon(t, 46*9.81, loss, 5e-3)

	// Rajput, example 11.1: venturi of 28 mm, Cd 0.8, rho 1.2, four cylinders 100 x
	// 120 mm at 1800 rpm, 0.75.
	flow, err = air.EngineVolumeFlow(4*math.Pi/4*0.1*0.1*0.12, 1800/minute, 0.75)
	require.NoError(t, err)
	loss, err = air.OpeningLoss(flow, math.Pi/4*0.028*0.028, 0.8, 1.2)
	require.NoError(t, err)
	assert.InEpsilon(t, 4447.61, loss, 1e-3)
}

func circle(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// m = 0.0404 Cd A p0/sqrt(T0) (White, Fluid Mechanics, chapter 9); figures are
// arithmetic with Cd 0.8, 101.3 kPa, 20 degC.
func TestChokedHoles(t *testing.T) {
	assert.InDelta(t, 0.528, air.CriticalRatio(), 5e-4)
	for millimetres, want := range map[float64]float64{1: 0.15, 2: 0.60, 3: 1.35, 5: 3.76} {
		flow, err := air.ChokedFlow(circle(millimetres*1e-3), 0.8, 101.3e3, zero+20)
		require.NoError(t, err)
		assert.InDelta(t, want, flow*1e3, 0.006)
	}
	area, err := air.ChokedArea(10e-3, 0.8, 101.3e3, zero+20)
	require.NoError(t, err)
	assert.InDelta(t, 52, area*1e6, 0.5)
	area, err = air.ChokedArea(8.3e-3, 0.8, 101.3e3, zero+20)
	require.NoError(t, err)
	assert.InDelta(t, 44, area*1e6, 1)

	for millimetres, want := range map[float64]float64{2.35: 0.10, 3: 0.16, 4: 0.29} {
		leak, err := air.ChokedFlow(circle(millimetres*1e-3), 0.8, 101.3e3, zero+20)
		require.NoError(t, err)
		share, err := air.LeakFraction(leak, 8.3e-3)
		require.NoError(t, err)
		assert.InDelta(t, want, share, 0.005)
	}
}

func TestHoleFlowJoinsItsBranches(t *testing.T) {
	choked, err := air.ChokedFlow(1e-6, 0.8, 101325, 293)
	require.NoError(t, err)
	deep, err := air.HoleFlow(1e-6, 0.8, 101325, 293, 0)
	require.NoError(t, err)
	assert.Equal(t, choked, deep)
	edge, err := air.HoleFlow(1e-6, 0.8, 101325, 293, 101325*(air.CriticalRatio()+1e-9))
	require.NoError(t, err)
	assert.InEpsilon(t, choked, edge, 1e-9)
	still, err := air.HoleFlow(1e-6, 0.8, 101325, 293, 101325)
	require.NoError(t, err)
	assert.Zero(t, still)

	// At a small drop it is the incompressible law.
	density, err := air.Density(101325, 293)
	require.NoError(t, err)
	small, err := air.HoleFlow(1e-6, 0.8, 101325, 293, 101325-100)
	require.NoError(t, err)
	loss, err := air.OpeningLoss(small/density, 1e-6, 0.8, density)
	require.NoError(t, err)
	assert.InEpsilon(t, 100, loss, 2e-3)

	_, err = air.HoleFlow(1e-6, 0.8, 101325, 293, 102000)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

func TestHoleFlowNeverFallsAsThePressureBehindFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(0, 101325).Draw(t, "behind")
		lower := p * rapid.Float64Range(0, 1).Draw(t, "share")
		a, err := air.HoleFlow(1e-6, 0.8, 101325, 293, p)
		require.NoError(t, err)
		b, err := air.HoleFlow(1e-6, 0.8, 101325, 293, lower)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, b, a*(1-1e-12))
	})
}
