package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func celsius(t float64) float64 { return CelsiusToKelvin(t) }

// 33 CFR 183.425 Table 5, read row by row from the regulation.
func TestTableFive(t *testing.T) {
	heads := []float64{60, 75, 80, 90, 105, 125, 200}
	rows := map[int][]float64{
		18: {10, 10, 15, 20, 20, 25, 25}, 16: {15, 15, 20, 25, 25, 30, 35}, 14: {20, 20, 25, 30, 35, 40, 45},
		12: {25, 25, 35, 40, 45, 50, 55}, 10: {40, 40, 50, 55, 60, 70, 70}, 8: {55, 65, 70, 70, 80, 90, 100},
		6: {80, 95, 100, 100, 120, 125, 135}, 4: {105, 125, 130, 135, 160, 170, 180}, 3: {120, 145, 150, 155, 180, 195, 210},
		2: {140, 170, 175, 180, 210, 225, 240}, 1: {165, 195, 210, 210, 245, 265, 280}, 0: {195, 230, 245, 245, 285, 305, 325},
		-1: {225, 265, 285, 285, 330, 355, 370}, -2: {260, 310, 330, 330, 385, 410, 430}, -3: {300, 360, 385, 385, 445, 475, 510},
	}
	require.Len(t, rows, 15)
	for gauge, amps := range rows {
		for column, head := range heads {
			assert.Equal(t, amps[column], value(t)(Ampacity(value(t)(AWGArea(gauge)), celsius(head))), "%d AWG at %g degC", gauge, head)
		}
	}
}

func TestAmpacityBetweenSizesTakesTheSmaller(t *testing.T) {
	hot := celsius(105)
	// 33 CFR 183.425 Table 5, 105 degC column: 14 AWG 35 A, 12 AWG 45 A, 16 AWG 25 A.
	assert.Equal(t, 35.0, value(t)(Ampacity(2.5*mm2, hot)), "2.5 mm2 lies between 14 and 12 AWG")
	assert.Equal(t, 35.0, value(t)(Ampacity(3.309*mm2*0.985, hot)), "1.5 percent under 12 AWG")
	assert.Equal(t, 45.0, value(t)(Ampacity(3.309*mm2*0.995, hot)), "0.5 percent under 12 AWG")
	assert.Equal(t, 25.0, value(t)(Ampacity(4107*CircularMil*0.9, hot)), "10 percent under 14 AWG, as SAE J1128 wire may be")
	assert.Equal(t, 25.0, value(t)(Ampacity(value(t)(AWGArea(14)), celsius(85))), "85 degC takes the 80 degC column")

	assert.Equal(t, 445.0, value(t)(Ampacity(120*mm2, hot)), "thicker than 4/0 AWG carries what 4/0 does")
	_, err := Ampacity(0, hot)
	refused(t, err)
	_, err = Ampacity(value(t)(AWGArea(14)), celsius(59))
	refused(t, err)
	_, err = Ampacity(value(t)(AWGArea(14)), celsius(301))
	refused(t, err)
}

// A manual on d.c. loads prints 8.33 A for 20 and 5.0 A for 22 AWG, in 50 degC air with 105 degC wire (MIL-W-5088B
// basis, second hand); by the square-root rule that is 9.73 and 5.84 A in 30 degC air. 24 AWG, 3 A: practice.
func TestThinWires(t *testing.T) {
	hot, air := celsius(105), celsius(50)
	for area, printed := range map[float64]float64{0.518: 8.33, 0.326: 5.0, 0.205: 3} {
		amps := value(t)(DeratedAmpacity(area*mm2, hot, air, 1))
		assert.LessOrEqual(t, amps, printed*1.001, area)
		assert.InEpsilon(t, printed, amps, 0.06, area)
	}
	assert.InEpsilon(t, 9.13, value(t)(Ampacity(0.5*mm2, hot)), 0.01, "0.5 mm2, nine tenths of the way from 22 to 20 AWG")
	assert.InEpsilon(t, 1.75, value(t)(Ampacity(0.1025*mm2, hot)), 0.01, "half of 24 AWG")
	rapid.Check(t, func(r *rapid.T) { // a thinner wire never carries more
		area, class := rapid.Float64Range(0.05, 130).Draw(r, "area"), celsius(rapid.Float64Range(60, 250).Draw(r, "class"))
		assert.LessOrEqual(r, value(t)(Ampacity(0.98*area*mm2, class)), value(t)(Ampacity(area*mm2, class)))
	})
}

// 33 CFR 183.425 note 1, and the square-root ambient rule at 50 degC against it within 0.01.
func TestEngineSpaceAndAmbient(t *testing.T) {
	heads := []float64{60, 75, 80, 90, 105, 125, 200}
	note := []float64{0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00}
	rule := []float64{0.577, 0.745, 0.775, 0.816, 0.856, 0.889, 0.939}
	for i, head := range heads {
		factor := value(t)(AmbientFactor(celsius(head), celsius(50)))
		assert.InDelta(t, rule[i], factor, 6e-4)
		if head < 200 {
			assert.InDelta(t, note[i], factor, 0.01)
		}
	}
	assert.Equal(t, 1.0, value(t)(AmbientFactor(celsius(105), celsius(10))))
	assert.Equal(t, 0.0, value(t)(AmbientFactor(celsius(105), celsius(105))))
	assert.Equal(t, 0.0, value(t)(AmbientFactor(celsius(105), celsius(106))), "hotter than the insulation stands: no current at all")
	assert.Equal(t, 0.0, value(t)(AmbientFactor(celsius(105), celsius(250))))
	_, err := AmbientFactor(celsius(105), celsius(251))
	refused(t, err)
}

// 33 CFR 183.425 note 2.
func TestBundleCount(t *testing.T) {
	for _, c := range []struct {
		wires  int
		factor float64
	}{{1, 1}, {2, 1}, {3, 0.70}, {4, 0.60}, {6, 0.60}, {7, 0.50}, {24, 0.50}, {25, 0.40}, {300, 0.40}} {
		assert.Equal(t, c.factor, value(t)(BundleCountFactor(c.wires)), "%d wires", c.wires)
	}
	_, err := BundleCountFactor(0)
	refused(t, err)
	// 33 CFR 183.425: 16 AWG, 105 degC, 7 to 24 conductors, 50 degC: 25 x 0.85 x 0.50 = 10.6 A, within
	// 1 percent by the square-root rule.
	assert.InEpsilon(t, 10.6, value(t)(DeratedAmpacity(value(t)(AWGArea(16)), celsius(105), celsius(50), 12)), 0.012)
}
