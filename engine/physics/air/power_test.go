package air_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/domain"
)

// ISO 1585, spark ignition: P0 = a P, a = (99/p)^1.2 (T/298)^0.6, by hand:
// 1500 m (84.56 kPa) at 25 degC: (0.85414)^1.2 = 0.8276; at 35 degC another
// (298.15/308.15)^0.6 = 0.9804. SAE J1349 in its 1990 form, 1.18 (99/p)
// (T/298)^0.5 - 0.18, gives 1/1.2015 = 0.832 there: the two agree within 1 %.
func TestPowerFactorOfTheStandard(t *testing.T) {
	for _, c := range []struct{ pressure, celsius, want float64 }{
		{99e3, 25, 1}, {84.56e3, 25, 0.8276}, {84.56e3, 35, 0.8114}, {101.325e3, 15, 1.0283 * 1.0207},
	} {
		got, err := air.PowerFactor(c.pressure, zero+c.celsius)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 5e-4)
	}
	got, err := air.PowerFactor(84.56e3, zero+25)
	require.NoError(t, err)
	assert.InEpsilon(t, 1/(1.18*99/84.56-0.18), got, 0.01, "SAE J1349")
	_, err = air.PowerFactor(84.56e3, 25)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside, "25 is degC, not K")
}

// Rajput, Internal Combustion Engines, example 7.9: a supercharger takes air from
// 1.01 bar and 300 K to 1.38 bar and 321 K; without loss it would be
// 300 x 1.3663^0.2857 = 328 K, so that charge was cooled on its way.
func TestCompressedTemperature(t *testing.T) {
	got, err := air.CompressedTemperature(300, 1.38/1.01, 1)
	require.NoError(t, err)
	assert.InDelta(t, 328.0, got, 0.1)
	// Arithmetic at the largest ratio.
	got, err = air.CompressedTemperature(300, 6, 1)
	require.NoError(t, err)
	assert.InDelta(t, 300*1.6685, got, 0.1, "6^0.2857 = 1.6685")
	got, err = air.CompressedTemperature(300, 6, 0.8)
	require.NoError(t, err)
	assert.InDelta(t, 300*(1+0.6685/0.8), got, 0.1)
	_, err = air.CompressedTemperature(300, 0.9, 0.8)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

// Cold-air-standard Otto cycle: 56.5 percent at 8 to 1 (any thermodynamics
// text), 60.2 at 10 to 1.
func TestOttoEfficiency(t *testing.T) {
	for ratio, want := range map[float64]float64{8: 0.565, 10: 0.602, 6: 0.512} {
		got, err := air.OttoEfficiency(ratio)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 5e-4)
	}
	_, err := air.OttoEfficiency(1)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

// Rajput, example 7.5: 6 x 730 cm3 at 3100 rpm make 80 kW and 246.4 N m; the mean
// effective pressure is 4 pi T/Vd = 7.07 bar.
func TestMeanEffectivePressure(t *testing.T) {
	got, err := air.MeanEffectivePressure(80e3, 6*730e-6, 3100/minute)
	require.NoError(t, err)
	assert.InEpsilon(t, 7.07e5, got, 1e-3)
}

// A published map of a 1.9 L petrol engine (SAE paper 910676, as a national
// laboratory's vehicle simulator gives it), g/kWh at 2500 rpm over bmep in bar. It
// was a frugal engine of its day: ours of the carburetted era burn up to a
// quarter more, never less.
func TestPartLoadFuelAgainstAPublishedMap(t *testing.T) {
	const displacement, speed = 1.9e-3, 2500 / minute
	for bar, published := range map[float64]float64{1: 558, 2: 382, 3: 320, 4: 284} {
		power := bar * 1e5 * displacement * speed / 2
		fuel, err := air.PartLoadFuel(power, displacement, speed)
		require.NoError(t, err)
		ratio := fuel / power / gramPerKilowattHour / published
		assert.Greater(t, ratio, 1.0, "%g bar", bar)
		assert.Less(t, ratio, 1.25, "%g bar", bar)
	}
	// By hand: 22 kW from 4.1 L at 2200 rpm are 2.927 bar; 215 (1 + 2.2/2.927) = 376.6 g/kWh.
	fuel, err := air.PartLoadFuel(22e3, 4.1e-3, 2200/minute)
	require.NoError(t, err)
	assert.InEpsilon(t, 22*0.3766/hour, fuel, 5e-4)
	_, err = air.PartLoadFuel(22e3, 0, 2200/minute)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}
