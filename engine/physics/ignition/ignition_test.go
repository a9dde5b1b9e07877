package ignition

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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
	for _, c := range []struct{ rpm, intervalMs, dwellMs, amps, millijoules float64 }{
		{1000, 15.00, 10.00, 3.906, 61.0},
		{3000, 5.00, 3.33, 2.854, 32.6},
		{5000, 3.00, 2.00, 2.111, 17.8},
		{6000, 2.50, 1.67, 1.859, 13.8},
	} {
		dwell := value(t)(DwellAvailable(c.rpm/60, 8, 30.0/45))
		amps := value(t)(CoilCurrent(12, 3, 8e-3, dwell))
		assert.InEpsilon(t, c.intervalMs*1e-3, value(t)(FiringInterval(c.rpm/60, 8)), 2e-3)
		assert.InDelta(t, c.dwellMs*1e-3, dwell, 0.005e-3)
		assert.InEpsilon(t, c.amps, amps, 2e-3)
		assert.InDelta(t, c.millijoules*1e-3, value(t)(CoilEnergy(8e-3, amps)), 0.06e-3)
	}
	// The exact figures at 2.00 and 10.0 ms.
	assert.InEpsilon(t, 2.1105, value(t)(CoilCurrent(12, 3, 8e-3, 2e-3)), 2e-3)
	assert.InEpsilon(t, 17.82e-3, value(t)(CoilEnergy(8e-3, 2.1105)), 2e-3)
	assert.InEpsilon(t, 3.9059, value(t)(CoilCurrent(12, 3, 8e-3, 10e-3)), 2e-3)
	assert.InEpsilon(t, 61.03e-3, value(t)(CoilEnergy(8e-3, 3.9059)), 2e-3)
	// E = L I^2 / 2: 8 mH at 4 A stores 64 mJ, 5 mH at 6 A 90 mJ.
	assert.InEpsilon(t, 64e-3, value(t)(CoilEnergy(8e-3, 4)), 1e-9)
	assert.InEpsilon(t, 90e-3, value(t)(CoilEnergy(5e-3, 6)), 1e-9)
}

// RL circuit: 5 mH, 0.7 ohm reaches 6 A in 2.66 ms at 13.5 V and 3.89 ms at 10 V; eight cylinders at 6000 rev/min leave 2.50 ms.
func TestTimeToCurrent(t *testing.T) {
	assert.InEpsilon(t, 2.66e-3, value(t)(TimeToCurrent(13.5, 0.7, 5e-3, 6)), 2e-3)
	assert.InEpsilon(t, 3.89e-3, value(t)(TimeToCurrent(10, 0.7, 5e-3, 6)), 2e-3)
	assert.Less(t, value(t)(FiringInterval(100, 8)), value(t)(TimeToCurrent(13.5, 0.7, 5e-3, 6)))
	_, err := TimeToCurrent(12, 3, 8e-3, 4)
	refused(t, err)
	assert.ErrorContains(t, err, "below V/R")
	_, err = TimeToCurrent(0, 3, 8e-3, 0)
	refused(t, err)
	rapid.Check(t, func(r *rapid.T) {
		volts := rapid.Float64Range(6, 16).Draw(r, "volts")
		ohms := rapid.Float64Range(0.3, 5).Draw(r, "ohms")
		henries := rapid.Float64Range(1e-3, 20e-3).Draw(r, "henries")
		target := rapid.Float64Range(0, 0.99).Draw(r, "share of V/R") * volts / ohms
		at := value(t)(TimeToCurrent(volts, ohms, henries, target))
		assert.InDelta(r, target, value(t)(CoilCurrent(volts, ohms, henries, at)), 1e-9)
	})
}

// Voltage divider: 1.5 ohm ballast and 1.5 ohm coil at 13.5 V; dwell 30 of 45 degrees.
func TestBallast(t *testing.T) {
	assert.InDelta(t, 6.75, value(t)(BallastVolts(13.5, 1.5, 1.5)), 1e-12)
	assert.InDelta(t, 9.0, value(t)(MeanCoilVolts(13.5, 1.5, 1.5, 30.0/45)), 1e-12)
	assert.Equal(t, 13.5, value(t)(MeanCoilVolts(13.5, 1.5, 1.5, 0)))
	_, err := MeanCoilVolts(13.5, 1.5, 1.5, 30)
	refused(t, err)
}

// Army TM 9-8000: 20 kV through a coil of 100 to 1 puts 200 V on the primary.
func TestPrimaryVoltage(t *testing.T) {
	assert.InDelta(t, 200, value(t)(PrimaryVoltage(20e3, 100)), 1e-9)
	assert.InDelta(t, 250, value(t)(PrimaryVoltage(25e3, 100)), 1e-9)
	_, err := PrimaryVoltage(25e3, 0)
	refused(t, err)
}

// A four-stroke engine fires cylinders x rev/min / 120 times a second (definition).
func TestTachFrequency(t *testing.T) {
	for _, c := range []struct {
		rpm       float64
		cylinders int
		hertz     float64
	}{{750, 4, 25}, {750, 6, 37.5}, {750, 8, 50}, {6000, 4, 200}, {6000, 6, 300}, {6000, 8, 400}} {
		assert.InDelta(t, c.hertz, value(t)(TachFrequency(c.rpm/60, c.cylinders)), 1e-9)
	}
	_, err := TachFrequency(0, 8)
	refused(t, err)
	_, err = TachFrequency(10, 0)
	refused(t, err)
}

// Degrees = 6 N t (definition of the degree and the minute).
func TestDelayAngle(t *testing.T) {
	for _, c := range []struct{ rpm, microseconds, degrees float64 }{{6000, 100, 3.6}, {5000, 50, 1.5}, {6000, 27.78, 1.0}} {
		assert.InDelta(t, degrees(c.degrees), value(t)(DelayAngle(c.rpm/60, c.microseconds*1e-6)), degrees(1e-3))
	}
	_, err := DelayAngle(100, -1)
	refused(t, err)
}

// Geometry: 10 to 45 degrees of advance, eight cylinders, 25 mm rotor radius, 8 mm tip and 5 mm terminal.
func TestRotorPhasing(t *testing.T) {
	p, err := RotorPhasing(degrees(10), degrees(45), 0.5)
	require.NoError(t, err)
	assert.InDelta(t, degrees(27.5), p.Middle, 1e-12)
	assert.InDelta(t, degrees(8.75), p.Misalignment, 1e-12)
	assert.InDelta(t, 3.82e-3, value(t)(ArcLength(25e-3, p.Misalignment)), 0.005e-3)
	limit := value(t)(OverlapLimit(25e-3, 8e-3, 5e-3))
	assert.InDelta(t, degrees(14.90), limit, degrees(0.05))
	assert.Less(t, p.Misalignment, limit)
	pitch := value(t)(TerminalPitch(8))
	assert.InDelta(t, degrees(45), pitch, 1e-12)
	assert.InDelta(t, 15.8e-3, value(t)(ArcLength(25e-3, pitch-p.Misalignment)), 0.05e-3)
	assert.InDelta(t, 36.25/8.75, value(t)(WrongTerminalRatio(8, p.Misalignment)), 1e-9)
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
	_, err = WrongTerminalRatio(8, 0)
	refused(t, err)
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
