package fuel_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fuel"
)

const psi = 6894.757293168

func kelvin(fahrenheit float64) float64 { return (fahrenheit + 459.67) / 1.8 }

// Source: EPA AP-42 chapter 7.1, table 7.1-2, gasoline, 40 to 100 degF. The table
// departs from its own equation by up to 2.6 per cent.
func TestVapourPressureAgainstAP42(t *testing.T) {
	for _, row := range []struct {
		reid, a, b float64
		pressure   []float64
	}{
		{13, 11.644, 5043.6, []float64{4.7, 5.7, 6.9, 8.3, 9.9, 11.7, 13.8}},
		{10, 11.724, 5237.3, []float64{3.4, 4.2, 5.2, 6.2, 7.4, 8.8, 10.5}},
		{7, 11.833, 5500.6, []float64{2.3, 2.9, 3.5, 4.3, 5.2, 6.2, 7.4}},
	} {
		a, b, err := fuel.VapourConstants(row.reid * psi)
		require.NoError(t, err)
		assert.InDelta(t, row.a, a, 6e-4)
		assert.InDelta(t, row.b, b, 0.06)
		for i, want := range row.pressure {
			got, err := fuel.TrueVapourPressure(row.reid*psi, kelvin(40+10*float64(i)))
			require.NoError(t, err)
			assert.InDelta(t, want, got/psi, max(0.051, 0.026*want), "RVP %g at %d degF", row.reid, 40+10*i)
		}
	}
}

// The equation evaluated independently.
func TestVapourPressureVectors(t *testing.T) {
	for _, c := range []struct{ reid, fahrenheit, want float64 }{
		{9, 60, 4.60}, {9, 80, 6.73}, {9, 100, 9.57}, {9, 120, 13.28},
		{13.5, 60, 7.24}, {13.5, 100, 14.43}, {15, 60, 8.14}, {15, 100, 16.05}, {10, 60, 5.18}, {7, 100, 7.42},
	} {
		got, err := fuel.TrueVapourPressure(c.reid*psi, kelvin(c.fahrenheit))
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, got/psi, 1.5e-3, "RVP %g at %g degF", c.reid, c.fahrenheit)
	}
}

func TestVapourRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := fuel.TrueVapourPressure(0.9*psi, 300)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.TrueVapourPressure(9*psi, 254)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.TrueVapourPressure(9*psi, 394)
	require.ErrorAs(t, err, &outside)
}

// Above the scale of the chart the equation keeps to the law of Clausius and Clapeyron: the
// logarithm over 1/T is straight. Against n-hexane, 34.2 kPa at 100 degF and 142.5 kPa at 80 degC
// (memory: Antoine's equation with the usual constants), it reads a sixth low, as gasoline's light
// ends are few; on the chart's own scale, at 60 degC, a tenth.
func TestVapourPressureBeyondTheChart(t *testing.T) {
	at := func(kelvin float64) float64 {
		p, err := fuel.TrueVapourPressure(4.706*psi, kelvin)
		require.NoError(t, err)
		return p
	}
	assert.InEpsilon(t, 34.2e3, at(kelvin(100)), 0.01)
	assert.InEpsilon(t, 142.5e3*0.83, at(zero+80), 0.02)
	assert.InEpsilon(t, 76.4e3*0.89, at(zero+60), 0.02)
}

func TestVapourPressureRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reid := rapid.Float64Range(2*psi, 19*psi).Draw(t, "reid")
		temperature := rapid.Float64Range(256, 352).Draw(t, "temperature")
		p, err := fuel.TrueVapourPressure(reid, temperature)
		require.NoError(t, err)
		hotter, err := fuel.TrueVapourPressure(reid, temperature+1)
		require.NoError(t, err)
		assert.Greater(t, hotter, p)
		lighter, err := fuel.TrueVapourPressure(reid*1.05, temperature)
		require.NoError(t, err)
		assert.Greater(t, lighter, p)
	})
}
