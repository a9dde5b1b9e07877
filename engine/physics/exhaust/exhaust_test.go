package exhaust_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/exhaust"
)

const zero = 273.15

// Arithmetic on the ideal gas and a mass balance: 5.7355 L, one pipe of 57 mm bore
// 0.60 m long behind 3.0 L of manifold.
func TestTransportThroughOnePipe(t *testing.T) {
	pipe, err := exhaust.PipeVolume(57e-3, 0.60)
	require.NoError(t, err)
	volume := 3.0e-3 + pipe
	assert.InEpsilon(t, 4.531e-3, volume, 1e-3)

	for _, c := range []struct {
		name                                              string
		rpm, manifold, ve, charge, airFuel, hot, pressure float64
		air, exhaust, flow, delay, cycle                  float64
	}{
		{"idle", 750, 38e3, 0.55, 40, 14.7, 350, 101.3e3, 8.335e-3, 8.902e-3, 15.72e-3, 0.288, 0.120},
		{"cruise", 2200, 55e3, 0.80, 35, 14.7, 500, 103e3, 52.3e-3, 55.9e-3, 120.4e-3, 0.0376, 0.0409},
		{"full load", 5000, 98e3, 0.85, 35, 12.8, 800, 115e3, 225.1e-3, 242.6e-3, 650e-3, 0.0070, 0.0180},
	} {
		t.Run(c.name, func(t *testing.T) {
			intake, err := air.EngineMassFlow(c.manifold, zero+c.charge, 5.7355e-3, c.rpm/60, c.ve)
			require.NoError(t, err)
			assert.InEpsilon(t, c.air, intake, 0.01)
			m, err := exhaust.MassFlow(intake, c.airFuel)
			require.NoError(t, err)
			assert.InEpsilon(t, c.exhaust, m, 0.01)
			q, err := exhaust.VolumeFlow(m, zero+c.hot, c.pressure)
			require.NoError(t, err)
			assert.InEpsilon(t, c.flow, q, 0.01)
			delay, err := exhaust.TransportDelay(volume, q)
			require.NoError(t, err)
			assert.InEpsilon(t, c.delay, delay, 0.01)
			cycle, err := exhaust.CycleDelay(exhaust.PortCycle, c.rpm/60)
			require.NoError(t, err)
			assert.InEpsilon(t, c.cycle, cycle, 2e-3)
		})
	}

	period, err := exhaust.LimitCycle(0.288 + 0.120 + 0.075)
	require.NoError(t, err)
	assert.InDelta(t, 1.9, period, 0.05)
	whole, err := exhaust.CycleDelay(exhaust.ThrottleBodyCycle, 750.0/60)
	require.NoError(t, err)
	assert.InDelta(t, 0.160, whole, 1e-9)
}

// Arithmetic: the idle above fires 50 times a second.
func TestSlugOfOneFiring(t *testing.T) {
	slug, err := exhaust.SlugLength(8.902e-3, 50, zero+350, 101.3e3, 57e-3)
	require.NoError(t, err)
	assert.InDelta(t, 0.123, slug, 5e-4)
	assert.InDelta(t, 4.6, 0.57/slug, 0.05)
}

// Arithmetic on the mass balance of air.
func TestDilution(t *testing.T) {
	for _, c := range []struct{ share, reading, truth, airFuel float64 }{
		{0.02, 1.020, 0.980, 14.41}, {0.05, 1.050, 0.9524, 14.00}, {0.10, 1.100, 0.909, 13.36},
	} {
		reading, err := exhaust.DilutedLambda(1, c.share)
		require.NoError(t, err)
		assert.InDelta(t, c.reading, reading, 1e-9)
		truth, err := exhaust.TrueLambda(1, c.share)
		require.NoError(t, err)
		assert.InEpsilon(t, c.truth, truth, 1e-3)
		assert.InEpsilon(t, c.airFuel, 14.7*truth, 1e-3)
	}
	reading, err := exhaust.InjectedLambda(1, 0.5e-3, 1.0e-3, 14.7)
	require.NoError(t, err)
	assert.InDelta(t, 1.034, reading, 1e-3)
}

func TestElevationFromTheClock(t *testing.T) {
	for _, c := range []struct{ hours, want float64 }{
		{10, 30}, {9 + 20.0/60, 10}, {9, 0}, {12, 90}, {0, 90}, {2 + 40.0/60, 10}, {3, 0}, {6, -90}, {7, -60},
	} {
		angle, err := exhaust.ClockAngle(c.hours)
		require.NoError(t, err)
		elevation, err := exhaust.Elevation(angle)
		require.NoError(t, err)
		assert.InDelta(t, c.want, elevation*180/math.Pi, 1e-9, "%g o'clock", c.hours)
	}
}

func TestExhaustRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := exhaust.MassFlow(1, 0.5)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.VolumeFlow(1, 100, 1e5)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.TransportDelay(1, 0)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.SlugLength(1, 50, 600, 1e5, 0)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.DilutedLambda(1, -0.1)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.ClockAngle(13)
	require.ErrorAs(t, err, &outside)
}

func TestClosedLoopUndoesDilution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lambda := rapid.Float64Range(0.6, 1.5).Draw(t, "lambda")
		share := rapid.Float64Range(0, 0.5).Draw(t, "share")
		reading, err := exhaust.DilutedLambda(lambda, share)
		require.NoError(t, err)
		truth, err := exhaust.TrueLambda(reading, share)
		require.NoError(t, err)
		assert.InEpsilon(t, lambda, truth, 1e-12)

		fuel := rapid.Float64Range(1e-4, 1e-2).Draw(t, "fuel")
		injected, err := exhaust.InjectedLambda(lambda, share*lambda*14.7*fuel, fuel, 14.7)
		require.NoError(t, err)
		assert.InEpsilon(t, reading, injected, 1e-9)
	})
}
