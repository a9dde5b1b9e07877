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
			assert.Equal(t, amps[column], value(t)(AmpacityOfGauge(gauge, celsius(head))), "%s at %g degC", GaugeName(gauge), head)
			assert.Equal(t, amps[column], value(t)(Ampacity(value(t)(AWGArea(gauge)), celsius(head))), "%s at %g degC", GaugeName(gauge), head)
		}
	}
}

func TestAmpacityBetweenSizesTakesTheSmaller(t *testing.T) {
	hot := celsius(105)
	// 33 CFR 183.425 Table 5, 105 degC column: 14 AWG 35 A, 12 AWG 45 A, 16 AWG 25 A.
	assert.Equal(t, 35.0, value(t)(Ampacity(2.5*mm2, hot)), "2.5 mm2 lies between 14 and 12 AWG")
	assert.Equal(t, 35.0, value(t)(Ampacity(3.309*mm2*0.985, hot)), "1.5 percent under 12 AWG")
	assert.Equal(t, 45.0, value(t)(Ampacity(3.309*mm2*0.995, hot)), "0.5 percent under 12 AWG")
	sae, err := SAEConductor(14)
	require.NoError(t, err)
	assert.Equal(t, 25.0, value(t)(Ampacity(sae.Area, hot)), "SAE 14 is 10 percent under 14 AWG")
	assert.Equal(t, 25.0, value(t)(AmpacityOfGauge(14, celsius(85))), "85 degC takes the 80 degC column")

	assert.Equal(t, 445.0, value(t)(Ampacity(120*mm2, hot)), "thicker than 4/0 AWG carries what 4/0 does")
	_, err = Ampacity(0, hot)
	refused(t, err)
	_, err = AmpacityOfGauge(14, celsius(59))
	refused(t, err)
	_, err = AmpacityOfGauge(14, celsius(301))
	refused(t, err)
	_, err = AmpacityOfGauge(20, hot)
	assert.ErrorContains(t, err, "give one of 18 AWG, 16 AWG")
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
		assert.Equal(t, note[i], value(t)(EngineSpaceFactor(celsius(head))))
		factor := value(t)(AmbientFactor(celsius(head), celsius(50)))
		assert.InDelta(t, rule[i], factor, 6e-4)
		if head < 200 {
			assert.InDelta(t, note[i], factor, 0.01)
		}
	}
	// 33 CFR 183.425 Table 5 and note 1: 16 AWG, 105 degC, engine space: 25 x 0.85 = 21.25 A.
	assert.InDelta(t, 21.25, value(t)(AmpacityOfGauge(16, celsius(105)))*value(t)(EngineSpaceFactor(celsius(105))), 1e-12)
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

// FAA AC 43.13-1B table 11-9.
func TestAircraftTable(t *testing.T) {
	rows := []struct {
		gauge                           int
		a105, a150, a200, ohm, circular float64
	}{
		{24, 2.5, 4, 5, 28.40, 475}, {22, 3, 5, 6, 16.20, 755}, {20, 4, 7, 9, 9.88, 1216}, {18, 6, 9, 12, 6.23, 1900},
		{16, 7, 11, 14, 4.81, 2426}, {14, 10, 14, 18, 3.06, 3831}, {12, 13, 19, 25, 2.02, 5874}, {10, 17, 26, 32, 1.26, 9354},
		{8, 38, 57, 71, 0.70, 16983}, {6, 50, 76, 97, 0.44, 26818}, {4, 68, 103, 133, 0.28, 42615}, {2, 95, 141, 179, 0.18, 66500},
		{1, 113, 166, 210, 0.15, 81700}, {0, 128, 192, 243, 0.12, 104500}, {-1, 147, 222, 285, 0.09, 133000},
		{-2, 172, 262, 335, 0.07, 166500}, {-3, 204, 310, 395, 0.06, 210900},
	}
	require.Len(t, AircraftWires(), len(rows))
	for _, row := range rows {
		wire, err := AircraftConductor(row.gauge)
		require.NoError(t, err)
		assert.InEpsilon(t, row.ohm, wire.PerMetre*1000*foot, 1e-12)
		assert.InEpsilon(t, row.circular, wire.Area/CircularMil, 1e-12)
		assert.Equal(t, row.a105, value(t)(AircraftAmpacity(row.gauge, celsius(105))))
		assert.Equal(t, row.a105, value(t)(AircraftAmpacity(row.gauge, celsius(149))))
		assert.Equal(t, row.a150, value(t)(AircraftAmpacity(row.gauge, celsius(150))))
		assert.Equal(t, row.a200, value(t)(AircraftAmpacity(row.gauge, celsius(200))))
	}
	_, err := AircraftAmpacity(14, celsius(90))
	refused(t, err)
	_, err = AircraftConductor(3)
	assert.ErrorContains(t, err, "3 AWG is not in the FAA AC 43.13-1B table 11-9")
}

// MIL-W-5088L (SAE AS50881) bundle curves, read to 0.01.
func TestBundleCurves(t *testing.T) {
	for _, c := range []struct {
		name    string
		wires   int
		loading float64
		factor  float64
	}{
		{"8 wires at 60 percent; FAA AC 43.13-1B chapter 11 reads 0.6", 8, 0.6, 0.6},
		{"12 wires fully loaded", 12, 1, 0.43},
		{"one wire", 1, 0.5, 1},
		{"19 wires at 20 percent", 19, 0.2, 0.625},
		{"between sizes: 11 lies halfway from 10 to 12", 11, 0.2, 0.735},
		{"between loadings: 8 wires at 70 percent", 8, 0.7, 0.56875},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.InDelta(t, c.factor, value(t)(BundleCurveFactor(c.wires, c.loading)), 0.01)
		})
	}
	for _, bad := range []struct {
		wires   int
		loading float64
	}{{0, 0.5}, {20, 0.5}, {8, 0.19}, {8, 1.01}} {
		_, err := BundleCurveFactor(bad.wires, bad.loading)
		refused(t, err)
	}
	// FAA AC 43.13-1B chapter 11 example: 14 gauge in free air 47 A, 0.91 for 20 000 ft, 8 wires at 60 percent: 25.7 A, printed as 26.
	assert.InEpsilon(t, 25.7, 47*0.91*value(t)(BundleCurveFactor(8, 0.6)), 0.02)
	// FAA AC 43.13-1B 11-69 example (answer from memory): 12 wires of 12 gauge, all loaded, 68 x 0.43 = 29.2 A; 61 x 0.43 x 0.91 = 23.9 A.
	assert.InEpsilon(t, 29.2, 68*value(t)(BundleCurveFactor(12, 1)), 0.02)
	assert.InEpsilon(t, 23.9, 61*0.91*value(t)(BundleCurveFactor(12, 1)), 0.02)
}

func TestBundleCurvesFall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wires := rapid.IntRange(1, 18).Draw(t, "wires")
		low := rapid.Float64Range(0.2, 1).Draw(t, "loading")
		high := rapid.Float64Range(low, 1).Draw(t, "higher loading")
		base, err := BundleCurveFactor(wires, low)
		require.NoError(t, err)
		loaded, err := BundleCurveFactor(wires, high)
		require.NoError(t, err)
		more, err := BundleCurveFactor(wires+1, low)
		require.NoError(t, err)
		assert.LessOrEqual(t, loaded, base+1e-12)
		assert.LessOrEqual(t, more, base+1e-12)
	})
}
