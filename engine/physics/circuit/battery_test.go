package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Army TM 5-3805-262-20, open-circuit volts of a rested 12 V battery.
func TestStateOfCharge(t *testing.T) {
	for _, c := range []struct{ volts, charge float64 }{{11.7, 0}, {12.0, 0.25}, {12.2, 0.5}, {12.4, 0.75}, {12.6, 1}} {
		assert.InDelta(t, c.charge, value(t)(StateOfCharge(c.volts)), 1e-12)
		assert.InDelta(t, c.volts, value(t)(OpenCircuitVoltage(c.charge)), 1e-12)
	}
	for _, volts := range []float64{11.69, 12.61, 24} {
		_, err := StateOfCharge(volts)
		refused(t, err)
	}
	_, err := OpenCircuitVoltage(50) // percent for a share
	refused(t, err)
	rapid.Check(t, func(r *rapid.T) {
		volts := rapid.Float64Range(11.7, 12.6).Draw(r, "volts")
		assert.InDelta(r, volts, value(t)(OpenCircuitVoltage(value(t)(StateOfCharge(volts)))), 1e-9)
	})
}

func TestCrankingResistance(t *testing.T) {
	// SAE J537: 7.2 V at the cold cranking current; ohmic drop is a judgement. 600 A from 12.6 V is 9 mohm.
	assert.InEpsilon(t, 0.009, value(t)(CrankingResistance(600, 12.6)), 1e-9)
	_, err := CrankingResistance(600, 6.3)
	refused(t, err)
	_, err = CrankingResistance(0, 12.6)
	refused(t, err)
}

// ISO 8854 rating form IL/IR at 1500 and 6000 rev/min, speeds from memory.
func TestAlternator(t *testing.T) {
	assert.InDelta(t, 25, value(t)(AlternatorOutput(25, 55, 25)), 1e-12)
	assert.InDelta(t, 55, value(t)(AlternatorOutput(25, 55, 100)), 1e-12)
	assert.InDelta(t, 40, value(t)(AlternatorOutput(25, 55, 62.5)), 1e-12)
	// A 650 rev/min idle with a ratio of 2.25 turns the alternator at 1462 rev/min, under its first rated point.
	speed := value(t)(AlternatorSpeed(650.0/60, 2.25))
	assert.InDelta(t, 1462.5, speed*60, 1e-9)
	_, err := AlternatorOutput(25, 55, speed)
	refused(t, err)
	_, err = AlternatorOutput(60, 55, 50)
	refused(t, err)
}
