package air_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/domain"
)

const (
	zero   = 273.15
	inHg   = 3386.389
	foot   = 0.3048
	inch   = 0.0254
	pound  = 0.45359237
	hp     = 745.6999
	cfm    = 4.719474e-4
	hour   = 3600.0
	minute = 60.0
)

// Source: US Standard Atmosphere 1976. The rows at 0, 2000 and 4000 m are
// published tables; the others are its model evaluated independently.
func TestStandardAtmosphere(t *testing.T) {
	for _, c := range []struct{ altitude, temperature, pressure, density float64 }{
		{0, 288.150, 101325, 1.2250}, {500, 284.900, 95461, 1.1673}, {1000, 281.651, 89876, 1.1117},
		{1500, 278.402, 84560, 1.0581}, {2000, 275.154, 79501, 1.0066}, {2500, 271.906, 74692, 0.9570},
		{3000, 268.659, 70121, 0.9093}, {4000, 262.166, 61660, 0.81935},
	} {
		got, err := air.StandardAtmosphere(c.altitude)
		require.NoError(t, err)
		assert.InDelta(t, c.temperature, got.Temperature, 6e-3)
		assert.InEpsilon(t, c.pressure, got.Pressure, 2e-5)
		assert.InEpsilon(t, c.density, got.Density, 1e-4)
	}
}

// The barometer by 101.325 (1 - 2.25577e-5 h)^5.25588 kPa (ISA, from memory).
func TestBarometerByFeet(t *testing.T) {
	for feet, want := range map[float64]float64{
		0: 101.33, 1000: 97.72, 2000: 94.21, 3000: 90.81, 5000: 84.31, 7500: 76.71, 10000: 69.68,
	} {
		got, err := air.StandardAtmosphere(feet * foot)
		require.NoError(t, err)
		assert.InDelta(t, want, got.Pressure/1e3, 0.05)
	}
	got, err := air.StandardAtmosphere(5000 * foot)
	require.NoError(t, err)
	assert.InDelta(t, 24.90, got.Pressure/inHg, 0.02)
}

// Arithmetic: barometer less vacuum, sea level.
func TestManifoldPressure(t *testing.T) {
	for vacuum, want := range map[float64]float64{22: 26.8, 21: 30.2, 18: 40.37, 17: 43.8, 15: 50.5, 12: 60.7, 10: 67.5, 8: 74.2} {
		got, err := air.ManifoldPressure(101325, vacuum*inHg)
		require.NoError(t, err)
		assert.InDelta(t, want, got/1e3, 0.06)
	}
	_, err := air.ManifoldPressure(84000, 25*inHg)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

func TestAtmosphereRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := air.StandardAtmosphere(5001)
	require.ErrorAs(t, err, &outside)
	_, err = air.StandardAtmosphere(-501)
	require.ErrorAs(t, err, &outside)
	_, err = air.Density(1e5, 20)
	require.ErrorAs(t, err, &outside, "20 is degC, not K")
}

func TestAirThinsWithAltitude(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-500, 4999).Draw(t, "altitude")
		low, err := air.StandardAtmosphere(a)
		require.NoError(t, err)
		high, err := air.StandardAtmosphere(a + 1)
		require.NoError(t, err)
		assert.Less(t, high.Pressure, low.Pressure)
		assert.Less(t, high.Density, low.Density)
		rho, err := air.Density(low.Pressure, low.Temperature)
		require.NoError(t, err)
		assert.InEpsilon(t, low.Density, rho, 1e-12)
	})
}
