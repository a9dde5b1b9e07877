package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func run(t *testing.T, c Conductor, err error, length float64) Run {
	t.Helper()
	require.NoError(t, err)
	return Run{Conductor: c, Length: length, Temperature: celsius(20)}
}

// Drops of annealed copper: ASTM B258 areas, NBS Handbook 100 resistivity, Ohm's law.
func TestDrops(t *testing.T) {
	gauge := func(n int, length float64) Run { c, err := AWGConductor(n); return run(t, c, err, length) }
	metric := func(area, length float64) Run {
		c, err := ClassFiveConductor(area*mm2, Plain)
		return run(t, c, err, length)
	}
	none := gauge(14, 0)
	for _, c := range []struct {
		name       string
		amps       float64
		feed, back Run
		volts, tol float64
	}{
		{"12 A, 5 m out and back of 14 AWG", 12, gauge(14, 5), gauge(14, 5), 0.994, 0.005},
		{"10 A, 4 m out and back of 2.5 mm2, IEC 60228 class 5", 10, metric(2.5, 4), metric(2.5, 4), 0.638, 0.002},
		{"starter 200 A, 3 m of 2 AWG", 200, gauge(2, 3), none, 0.308, 0.005},
		{"10 A, 5 m of 14 AWG one way", 10, gauge(14, 5), none, 0.41, 0.02},
		{"10 A, 5 m of 12 AWG one way", 10, gauge(12, 5), none, 0.26, 0.02},
		{"10 A, 5 m of 16 AWG one way", 10, gauge(16, 5), none, 0.66, 0.02},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.InEpsilon(t, c.volts, value(t)(Drop(c.amps, c.feed, c.back)), c.tol)
		})
	}
	_, err := Drop(-1, none, none)
	refused(t, err)
}

// ABYC E-11: CM = K I L / E with K = 10.75.
func TestABYCArea(t *testing.T) {
	for _, c := range []struct{ amps, feet, drop, circular float64 }{
		{10, 21, 0.36, 6271}, {10, 21, 0.96, 2352}, {10, 21, 1.2, 1881},
	} {
		assert.InEpsilon(t, c.circular, value(t)(ABYCArea(c.amps, c.feet*foot, c.drop))/CircularMil, 1e-3)
	}
	// 1881 circular mil: 16 AWG. 6271: 12 AWG by ASTM B258, but SAE J1128 12 (5833) fails.
	gauge, err := SmallestAWG(value(t)(ABYCArea(10, 21*foot, 1.2)))
	require.NoError(t, err)
	assert.Equal(t, 17, gauge, "17 AWG is seldom sold; 16 is the next even size")
	wanted := value(t)(ABYCArea(10, 21*foot, 0.36))
	gauge, err = SmallestAWG(wanted)
	require.NoError(t, err)
	assert.Equal(t, 12, gauge)
	sae, err := SAEConductor(12)
	require.NoError(t, err)
	assert.Less(t, sae.Area, wanted)
	// 10.75 is copper at 29.3 degC.
	assert.InEpsilon(t, value(t)(TemperatureFactor(celsius(29.3)))*CopperResistivity, ABYCResistivity, 1e-3)
}

// FAA AC 43.13-1B tables 11-7 and 11-8 and the chart example. Two misprints of table 11-8 and 11-7 are recomputed from the
// table's own product: 0.491 V for ".366", 3.555 V for "3.60".
func TestAircraftDrops(t *testing.T) {
	for _, c := range []struct {
		name       string
		gauge      int
		feet, amps float64
		volts      float64
	}{
		{"107 ft of No. 6", 6, 107, 20, 0.942},
		{"90 ft of No. 4, over the 0.5 V limit by 0.8 percent", 4, 90, 20, 0.504},
		{"90 ft of No. 2", 2, 90, 20, 0.324},
		{"88 ft of No. 12, recomputed", 12, 88, 20, 3.555},
		{"100 ft of No. 14", 14, 100, 20, 6.12},
		{"39 ft of No. 10", 10, 39, 20, 0.983},
		{"19.5 ft of No. 10, recomputed", 10, 19.5, 20, 0.491},
		{"156 ft of No. 10", 10, 156, 20, 3.931},
		{"273 ft of No. 10", 10, 273, 20, 6.880},
	} {
		t.Run(c.name, func(t *testing.T) {
			wire, err := AircraftConductor(c.gauge)
			require.NoError(t, err)
			assert.InEpsilon(t, c.volts, c.amps*value(t)(wire.Resistance(c.feet*foot, celsius(20))), 2e-3)
		})
	}
}

func TestAircraftSize(t *testing.T) {
	for _, c := range []struct {
		name             string
		feet, amps, drop float64
		gauge            int
	}{
		{"chart example: 50 ft, 20 A, 1 V takes No. 8", 50, 20, 1, 8},
		{"table 11-7: 107 ft, 20 A, 1 V takes No. 6", 107, 20, 1, 6},
		{"table 11-7: 90 ft, 20 A, 0.5 V: No. 4 is 0.8 percent over, so No. 2", 90, 20, 0.5, 2},
		{"table 11-7: 88 ft, 20 A, 4 V takes No. 12", 88, 20, 4, 12},
		{"table 11-7: 100 ft, 20 A, 7 V takes No. 14", 100, 20, 7, 14},
	} {
		t.Run(c.name, func(t *testing.T) {
			gauge, err := AircraftSize(c.amps, c.feet*foot, c.drop)
			require.NoError(t, err)
			assert.Equal(t, c.gauge, gauge)
		})
	}
	_, err := AircraftSize(400, 500, 0.5)
	assert.ErrorContains(t, err, "4/0 AWG drops")
}

func TestConductorTemperatures(t *testing.T) {
	// FAA AC 43.13-1B chapter 11: L2/L1 = 254.5/(234.5 + 60) = 0.8642.
	assert.InEpsilon(t, 0.8642, value(t)(AircraftLength(1, celsius(60))), 1e-3)
	// FAA AC 43.13-1B chapter 11 example, answer from memory: 20 A of 26 A, 50 degC, 200 degC wire, 15.5 ft: 182 degC, 9.5 ft.
	hot := value(t)(AircraftConductorTemperature(celsius(50), celsius(200), 20, 26))
	assert.InDelta(t, 181.6, hot-zeroCelsius, 0.1)
	assert.InDelta(t, 9.48, value(t)(AircraftLength(15.5*foot, hot))/foot, 0.01)
	// The square law is cooler and meets it at no load and full load.
	assert.Less(t, value(t)(ConductorTemperature(celsius(50), celsius(200), 20, 26)), hot)
	assert.Equal(t, celsius(50), value(t)(ConductorTemperature(celsius(50), celsius(200), 0, 26)))
	assert.Equal(t, celsius(200), value(t)(ConductorTemperature(celsius(50), celsius(200), 26, 26)))
	_, err := ConductorTemperature(celsius(50), celsius(200), 27, 26)
	refused(t, err)
}

// Army TM 10-3930-671-24: 0.20 V for each 100 A; 180 A allows 0.36 V.
func TestStarterDropAllowance(t *testing.T) {
	assert.InDelta(t, 0.36, value(t)(StarterDropAllowance(180)), 1e-12)
}

// FAA AC 43.13-1B table 11-4.
func TestContacts(t *testing.T) {
	kinds := []LoadKind{LampLoad, InductiveLoad, ResistiveKind, MotorLoad}
	for system, factors := range map[SystemVoltage][]float64{System12V: {5, 2, 1, 2}, System28V: {8, 4, 2, 3}} {
		for i, kind := range kinds {
			assert.Equal(t, factors[i], value(t)(ContactFactor(system, kind)), "%d V %s", int(system), kind)
		}
	}
	// A pump motor of 8 A at 12 V needs a nominal 16 A contact.
	assert.Equal(t, 16.0, value(t)(ContactRating(8, System12V, MotorLoad)))
	_, err := ContactFactor(24, MotorLoad)
	assert.ErrorContains(t, err, "give 12 or 28")
	_, err = ContactFactor(System12V, "fan")
	assert.ErrorContains(t, err, "give lamp, inductive, resistive or motor")
	_, err = ContactRating(-1, System12V, MotorLoad)
	refused(t, err)
}
