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
	}
	for _, volts := range []float64{11.69, 12.61, 24} {
		_, err := StateOfCharge(volts)
		refused(t, err)
	}
}

func TestInternalResistance(t *testing.T) {
	of := func(cca, nominal, rest, celsius float64) float64 {
		return value(t)(InternalResistance(cca, nominal, rest, CelsiusToKelvin(celsius)))
	}
	// SAE J537: 7.2 V at the cold cranking current and -18 degC; ohmic drop is a judgement. 600 A from 12.6 V is 9 mohm.
	assert.InEpsilon(t, 0.009, of(600, 12, 12.6, -18), 1e-9)
	assert.InEpsilon(t, 0.009, of(600, 12, 12.6, 25), 1e-9, "not lowered when warm")
	assert.InEpsilon(t, 0.009, of(600, 12, 13.0, 20), 1e-9, "a mat battery, or one just charged, counts as full")
	assert.InEpsilon(t, 0.0045, of(600, 6, 6.3, 20), 1e-9, "three cells")
	assert.InEpsilon(t, 0.018, of(600, 24, 25.2, 20), 1e-9, "two batteries in a row")
	// By hand: half charged 1.3 (memory), flat 2.5 (memory), and between the points straight.
	assert.InEpsilon(t, 0.009*1.3, of(600, 12, 12.2, 20), 1e-9)
	assert.InEpsilon(t, 0.009*1.2, of(600, 12, 12.3, 20), 1e-9)
	assert.InEpsilon(t, 0.009*2.5, of(600, 12, 9, 20), 1e-9)
	assert.InEpsilon(t, 0.009*1.33, of(600, 12, 12.6, -29), 1e-9)
	for _, f := range [][4]float64{{0, 12, 12.6, 290}, {600, 5, 12.6, 290}, {600, 12, -1, 290}, {600, 12, 12.6, 20}} {
		_, err := InternalResistance(f[0], f[1], f[2], f[3])
		refused(t, err)
	}
	rapid.Check(t, func(r *rapid.T) { // less charge and more cold never lower it
		rest, celsius := rapid.Float64Range(11, 13).Draw(r, "rest"), rapid.Float64Range(-45, 40).Draw(r, "celsius")
		assert.GreaterOrEqual(r, of(600, 12, rest-0.2, celsius-5), of(600, 12, rest, celsius))
	})
}

// Practice: a starter draws 1.3, 1.8 and 2.3 times its warm current at 0, -18 and -29 degC. Service texts on the load
// test: 9.6 V at 20 degC, 9.4 at 10, 9.1 at -1, 8.5 at -18.
func TestCrankingInTheCold(t *testing.T) {
	for celsius, factor := range map[float64]float64{40: 1, 20: 1, 10: 1.15, 0: 1.3, -9: 1.55, -18: 1.8, -29: 2.3, -50: 2.8} {
		assert.InDelta(t, factor, StarterColdFactor(CelsiusToKelvin(celsius)), 1e-9, celsius)
	}
	for celsius, volts := range map[float64]float64{30: 9.6, 20: 9.6, 10: 9.4, -1: 9.1, -18: 8.5, -15: 8.6, -40: 8.0} {
		assert.InDelta(t, volts, value(t)(CrankingFloor(12, CelsiusToKelvin(celsius))), 1e-9, celsius)
		assert.InDelta(t, 2*volts, value(t)(CrankingFloor(24, CelsiusToKelvin(celsius))), 1e-9, celsius)
	}
	_, err := CrankingFloor(120, 293)
	refused(t, err)
}

// Practice, 0.25 percent a kelvin: 57 K above 23 degC takes 14.25 percent.
func TestAlternatorHeat(t *testing.T) {
	assert.InDelta(t, 0.8575, AlternatorHeatFactor(CelsiusToKelvin(80)), 1e-9)
	assert.InDelta(t, 1, AlternatorHeatFactor(CelsiusToKelvin(0)), 1e-9)
	assert.InDelta(t, 0.5, AlternatorHeatFactor(CelsiusToKelvin(300)), 1e-9)
}
