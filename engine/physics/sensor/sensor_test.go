package sensor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/circuit"
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

func celsius(c float64) float64 { return c + 273.15 }

// A published worked example of the Steinhart-Hart equation (a 10 kohm thermistor): three points, then 307.9031 K at 7000 ohm.
func TestSteinhartHartExample(t *testing.T) {
	curve, err := SolveSteinhartHart(Point{celsius(-25), 87041}, Point{celsius(0), 27326}, Point{celsius(25), 10000})
	require.NoError(t, err)
	assert.InEpsilon(t, 8.975540e-4, curve.A, 1e-5)
	assert.InEpsilon(t, 2.501791e-4, curve.B, 1e-5)
	assert.InEpsilon(t, 1.948344e-7, curve.C, 1e-5)
	kelvin := value(t)(curve.Temperature(7000))
	assert.InDelta(t, 307.9031, kelvin, 1e-3)
	assert.InDelta(t, 34.753, kelvin-273.15, 1e-3)
	assert.InEpsilon(t, 7000.0, value(t)(curve.Resistance(kelvin)), 1e-9)
	assert.InEpsilon(t, 87041.0, value(t)(curve.Resistance(celsius(-25))), 1e-9)
}

func TestSteinhartHartRefusals(t *testing.T) {
	cold, ice, room := Point{celsius(-25), 87041}, Point{celsius(0), 27326}, Point{celsius(25), 10000}
	_, err := SolveSteinhartHart(cold, ice, ice)
	assert.ErrorContains(t, err, "do not fall with temperature")
	_, err = SolveSteinhartHart(cold, ice, Point{celsius(25), 90000})
	assert.ErrorContains(t, err, "hotter with less resistance")
	_, err = SolveSteinhartHart(cold, ice, Point{25, 10000}) // degC for K
	refused(t, err)
	curve, err := SolveSteinhartHart(cold, ice, room)
	require.NoError(t, err)
	_, err = curve.Temperature(1)
	refused(t, err)
	_, err = curve.Temperature(math.NaN())
	refused(t, err)
	_, err = curve.Resistance(25)
	refused(t, err)
	_, err = SteinhartHart{}.Temperature(1000)
	refused(t, err)
}

func TestSteinhartHartTurnsRound(t *testing.T) {
	curve, err := SolveSteinhartHart(Point{celsius(-25), 87041}, Point{celsius(0), 27326}, Point{celsius(25), 10000})
	require.NoError(t, err)
	plain := SteinhartHart{A: 1e-3, B: 2.5e-4}
	rapid.Check(t, func(r *rapid.T) {
		kelvin := rapid.Float64Range(celsius(-60), celsius(200)).Draw(r, "kelvin")
		for _, c := range []Curve{curve, plain} {
			assert.InDelta(r, kelvin, value(t)(c.Temperature(value(t)(c.Resistance(kelvin)))), 1e-8)
		}
	})
}

// R = R0 exp(B (1/T - 1/T0)), the definition of B, for 10 kohm at 25 degC and B 3950 K.
func TestBeta(t *testing.T) {
	curve := Beta{R0: 10e3, T0: celsius(25), B: 3950}
	for _, c := range []struct{ celsius, ohms float64 }{
		{-40, 401860}, {-20, 105385}, {0, 33620.6}, {20, 12535}, {40, 5301}, {60, 2486}, {80, 1270.3}, {100, 697.5}, {120, 407.1},
	} {
		assert.InEpsilon(t, c.ohms, value(t)(curve.Resistance(celsius(c.celsius))), 1e-3)
		assert.InDelta(t, celsius(c.celsius), value(t)(curve.Temperature(value(t)(curve.Resistance(celsius(c.celsius))))), 1e-9)
	}
	_, err := Beta{R0: 10e3, T0: 25, B: 3950}.Resistance(celsius(20))
	refused(t, err)
	_, err = curve.Temperature(0.5)
	refused(t, err)
}

// Two points, 2500 ohm at 20 degC and 325 ohm at 80 degC (typical of service manuals, from memory); the rest follows from the
// definition of B and the voltage divider.
func engineSensor(t *testing.T) Beta {
	t.Helper()
	curve, err := BetaFromPoints(celsius(20), 2500, celsius(80), 325)
	require.NoError(t, err)
	return curve
}

func TestEngineSensor(t *testing.T) {
	curve := engineSensor(t)
	assert.InEpsilon(t, 3520.26, curve.B, 1e-5)
	for _, c := range []struct{ celsius, ohms float64 }{{-20, 16672}, {0, 6023}, {40, 1161}, {100, 190.5}} {
		assert.InEpsilon(t, c.ohms, value(t)(curve.Resistance(celsius(c.celsius))), 1e-3)
	}
	for _, c := range []struct{ celsius, volts float64 }{{0, 3.537}, {20, 2.505}, {80, 0.577}, {100, 0.355}} {
		assert.InDelta(t, c.volts, value(t)(DividerVoltage(5, 2490, value(t)(curve.Resistance(celsius(c.celsius))))), 1e-3)
	}
	ohms := value(t)(DividerResistance(5, 2490, 1))
	assert.InDelta(t, 622.5, ohms, 1e-9)
	assert.InDelta(t, celsius(58.38), value(t)(curve.Temperature(ohms)), 0.1)
	_, err := BetaFromPoints(celsius(20), 2500, celsius(20), 325)
	assert.ErrorContains(t, err, "at least 1 K apart")
	_, err = BetaFromPoints(celsius(20), 325, celsius(80), 2500)
	refused(t, err)
	_, err = DividerResistance(5, 2490, 5)
	refused(t, err)
}

func TestReadingErrors(t *testing.T) {
	curve := engineSensor(t)
	read := func(f Fault) float64 { return value(t)(ReadTemperature(curve, 5, 2490, celsius(80), f)) }
	assert.InDelta(t, celsius(80), read(Fault{}), 1e-9)
	// 100 ohm of corrosion: 425 ohm on the curve is 70.7 degC (definition of B).
	assert.InDelta(t, celsius(70.7), read(Fault{Series: 100}), 0.05)
	// 50 mV on the sensor ground reads cold by about 3 K; adding the whole offset to the voltage is the outer bound, 76.7 degC.
	assert.InDelta(t, celsius(77.0), read(Fault{Ground: 0.05}), 0.1)
	outer := value(t)(curve.Temperature(value(t)(DividerResistance(5, 2490, value(t)(DividerVoltage(5, 2490, 325))+0.05))))
	assert.InDelta(t, celsius(76.7), outer, 0.05)
	assert.Less(t, outer, read(Fault{Ground: 0.05}))
	_, err := ReadTemperature(curve, 5, 2490, celsius(80), Fault{Ground: 2})
	refused(t, err)
	_, err = ReadTemperature(curve, 5, 2490, celsius(80), Fault{Series: -1})
	refused(t, err)
}

// The reading agrees with a nodal analysis of the sensor circuit with its ground lifted.
func TestReadingAgreesWithNodalAnalysis(t *testing.T) {
	curve := engineSensor(t)
	rapid.Check(t, func(r *rapid.T) {
		kelvin := rapid.Float64Range(celsius(-20), celsius(110)).Draw(r, "kelvin")
		fault := Fault{Series: rapid.Float64Range(0, 200).Draw(r, "series"), Ground: rapid.Float64Range(0, 0.3).Draw(r, "ground")}
		net, err := circuit.NewNetwork("controller ground",
			circuit.Battery("reference", "5 V", "controller ground", 5, 0), circuit.Resistor("pull-up", "5 V", "input", 2490),
			circuit.Resistor("joint", "input", "sensor", fault.Series), circuit.Resistor("thermistor", "sensor", "sensor ground", value(t)(curve.Resistance(kelvin))),
			circuit.Battery("offset", "sensor ground", "controller ground", fault.Ground, 0))
		require.NoError(r, err)
		state, err := net.Solve()
		require.NoError(r, err)
		volts := value(t)(state.Voltage("input"))
		want := value(t)(curve.Temperature(value(t)(DividerResistance(5, 2490, volts))))
		assert.InDelta(r, want, value(t)(ReadTemperature(curve, 5, 2490, kelvin, fault)), 1e-6)
	})
}

// Quarter-wave pipe (acoustics textbooks), 343 m/s at 20 degC, and the speed at which eight cylinders fire at it.
func TestHoseResonance(t *testing.T) {
	for _, c := range []struct{ metres, hertz, rpm float64 }{{0.3, 286, 4290}, {0.5, 171, 2570}, {1.0, 86, 1290}} {
		f := value(t)(HoseResonance(c.metres, 343))
		assert.InDelta(t, c.hertz, f, 0.6)
	}
	_, err := HoseResonance(0, 343)
	refused(t, err)
}

// Hagen-Poiseuille law with air at 20 degC, 1.82e-5 Pa s: 1 m of 3 mm hose with 8 mL at 40 kPa lags 1.8 ms, a 0.6 mm restrictor 10 mm
// long 11.5 ms; half the bore is 16 times the lag.
func TestHoseLag(t *testing.T) {
	assert.InEpsilon(t, 1.8e-3, value(t)(HoseLag(1.82e-5, 1, 1.5e-3, 8e-6, 40e3)), 0.03)
	assert.InEpsilon(t, 11.5e-3, value(t)(HoseLag(1.82e-5, 0.01, 0.3e-3, 8e-6, 40e3)), 0.03)
	assert.InEpsilon(t, 16.0, value(t)(HoseLag(1.82e-5, 1, 1e-3, 8e-6, 40e3))/value(t)(HoseLag(1.82e-5, 1, 2e-3, 8e-6, 40e3)), 1e-9)
	_, err := HoseLag(1.82e-5, 1, 1.5, 8e-6, 40e3)
	refused(t, err)
}
