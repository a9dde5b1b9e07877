package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Ratings of the blade fuse colour code, ISO 8820-3; 35 A from memory.
func TestFuseRatings(t *testing.T) {
	blade, err := Blade.Ratings()
	require.NoError(t, err)
	assert.Equal(t, []float64{2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40}, blade)
	_, err = FuseKind("glass").Ratings()
	assert.ErrorContains(t, err, `give "blade" or "high-current blade"`)
	_, err = FuseKind("glass").OpeningTime(2)
	assert.Error(t, err)
}

// Time-current limits of ISO 8820-3, from memory.
func TestOpeningTimes(t *testing.T) {
	for _, c := range []struct {
		name     string
		kind     FuseKind
		multiple float64
		want     OpeningBand
	}{
		{"carries its rating", Blade, 1.0, OpeningBand{Min: 360000}},
		{"carries 110 percent for 100 h", Blade, 1.10, OpeningBand{Min: 360000}},
		{"between 110 and 135 percent it need not open", Blade, 1.2, OpeningBand{Min: 0.75}},
		{"135 percent", Blade, 1.35, OpeningBand{Min: 0.75, Opens: true, Max: 600}},
		{"200 percent", Blade, 2, OpeningBand{Min: 0.15, Opens: true, Max: 5}},
		{"between 200 and 350 percent", Blade, 3, OpeningBand{Min: 0.04, Opens: true, Max: 5}},
		{"600 percent", Blade, 6, OpeningBand{Min: 0.02, Opens: true, Max: 0.1}},
		{"dead short", Blade, 40, OpeningBand{Min: 0, Opens: true, Max: 0.1}},
		{"high-current at 200 percent", HighCurrentBlade, 2, OpeningBand{Min: 2, Opens: true, Max: 60}},
	} {
		t.Run(c.name, func(t *testing.T) {
			band, err := c.kind.OpeningTime(c.multiple)
			require.NoError(t, err)
			assert.Equal(t, c.want, band)
		})
	}
	_, err := Blade.OpeningTime(-1)
	refused(t, err)
}

func TestLetThrough(t *testing.T) {
	// ISO 8820-3 limits from memory: a 20 A blade fuse at 6 times its rating, (120 A)^2 x 0.1 s.
	assert.InEpsilon(t, 1440.0, value(t)(Blade.LetThrough(20, 120)), 1e-12)
	assert.InEpsilon(t, 1440.0, value(t)(Blade.LetThrough(20, 400)), 1e-12)
	assert.InEpsilon(t, 2450.0, value(t)(Blade.LetThrough(20, 100)), 1e-12)
	_, err := Blade.LetThrough(20, 26)
	refused(t, err)
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(1.36, 50).Draw(t, "multiple")
		high := rapid.Float64Range(low, 60).Draw(t, "higher multiple")
		a, err := Blade.LetThrough(10, 10*low)
		require.NoError(t, err)
		b, err := Blade.LetThrough(10, 10*high)
		require.NoError(t, err)
		assert.LessOrEqual(t, b, a)
	})
	// Blade fuse drop at its rating of 0.1 V, from memory: 10 A is 10 mohm.
	assert.InEpsilon(t, 0.010, value(t)(FuseResistance(0.1, 10)), 1e-12)
}

func TestCoordination(t *testing.T) {
	blade, err := Blade.Ratings()
	require.NoError(t, err)
	// 33 CFR 183.455(c): 16 AWG, 105 degC, below 50 V: 150 percent of 25 A is 37.5 A; 35 A passes, 40 A fails.
	ceiling := value(t)(FuseCeiling(value(t)(AmpacityOfGauge(16, celsius(105))), CFRFuseCeiling))
	assert.Equal(t, 37.5, ceiling)
	assert.Equal(t, 35.0, value(t)(LargestFuse(blade, ceiling)))
	// A continuous load at 70 percent of the rating: common practice.
	assert.Equal(t, 15.0, value(t)(SmallestFuse(blade, 8, 0.7)))
	assert.Equal(t, 10.0, value(t)(SmallestFuse(blade, 7, 0.7)))
	smallest, largest, err := FuseWindow(blade, 8, 0.7, 25)
	require.NoError(t, err)
	assert.Equal(t, []float64{15, 25}, []float64{smallest, largest})
	_, _, err = FuseWindow(blade, 18, 0.7, 25/1.35)
	assert.ErrorContains(t, err, "needs at least a 30 A fuse, the wire allows at most 15 A")
	_, err = SmallestFuse(blade, 41, 1)
	refused(t, err)
	_, err = LargestFuse(blade, 1.5)
	refused(t, err)
	_, err = LargestFuse(nil, 10)
	assert.ErrorContains(t, err, "empty")
	_, err = LargestFuse([]float64{10, 5}, 10)
	assert.ErrorContains(t, err, "rising")
}

// FAA AC 43.13-1B table 11-3; the breaker alignment is from memory and not checked.
func TestWireChart(t *testing.T) {
	fuse := map[int]float64{22: 5, 20: 5, 18: 10, 16: 10, 14: 15, 12: 20, 10: 30, 8: 50, 6: 70, 4: 70, 2: 100, 1: 150, 0: 150}
	require.Len(t, WireCharts(), len(fuse))
	for gauge, amps := range fuse {
		assert.Equal(t, amps, value(t)(ChartFuse(gauge)), GaugeName(gauge))
	}
	_, err := ChartFuse(3)
	assert.ErrorContains(t, err, "give one of 22 AWG")
}

func TestAdiabatic(t *testing.T) {
	// IEC 60364-5-54 annex A; 115, 143 and 176 are also printed in BS 7671. The last three rows carry the end temperatures of the
	// building standards over to vehicle insulation, an assumption.
	for _, c := range []struct{ start, end, k float64 }{
		{70, 160, 115.0}, {90, 250, 143.1}, {30, 160, 142.9}, {30, 250, 175.8}, {85, 160, 103.8}, {105, 160, 87.6}, {125, 250, 123.5},
	} {
		assert.InEpsilon(t, c.k*1e6, value(t)(AdiabaticK(celsius(c.start), celsius(c.end))), 2e-3)
	}
	for _, c := range []struct{ start, end, k float64 }{{70, 160, 115}, {30, 160, 143}, {30, 250, 176}} {
		assert.InEpsilon(t, c.k*1e6, value(t)(AdiabaticK(celsius(c.start), celsius(c.end))), 2e-3)
	}
	// IEC 60364-5-54 clause 543.1.2, published worked example: 3000 A for 0.4 s at k = 115 needs 16.50 mm2.
	assert.InEpsilon(t, 16.50*mm2, value(t)(AdiabaticArea(3000, 0.4, 115e6)), 1e-3)
	assert.InEpsilon(t, 0.4, value(t)(AdiabaticTime(3000, value(t)(AdiabaticArea(3000, 0.4, 115e6)), 115e6)), 1e-9)
	assert.InEpsilon(t, 115.0*115*2.5*2.5, value(t)(AdiabaticLimit(115e6, 2.5*mm2)), 1e-9)
	// ICEA short-circuit formula: (I/A)^2 t = 0.0297 log10((T2+234)/(T1+234)), A in circular mil, is K = 224.1 in the IEC form.
	icea := math.Sqrt(0.0297*math.Log10((150+234.0)/(75+234))) / CircularMil
	assert.InEpsilon(t, 224.1/226, icea/value(t)(AdiabaticK(celsius(75), celsius(150))), 3e-3)

	_, err := AdiabaticK(celsius(160), celsius(70))
	refused(t, err)
	_, err = AdiabaticArea(100, 6, 115e6)
	refused(t, err)
	_, err = AdiabaticArea(100, 1, 115) // A s^0.5/mm2 for A s^0.5/m2
	refused(t, err)
	_, err = AdiabaticTime(10, 2.5*mm2, 115e6)
	refused(t, err)
}

// Onderdonk's equation with the sign of the ICEA short-circuit formula. Copies with 234 minus ambient give 178 A for the first.
func TestOnderdonk(t *testing.T) {
	for _, c := range []struct{ circular, seconds, amps float64 }{
		{2581, 5, 168.9}, {2583, 5, 169.0}, {2583, 1, 377.8}, {4110, 2.26, 400}, {10383, 1, 1519},
	} {
		assert.InEpsilon(t, c.amps, value(t)(OnderdonkMeltingCurrent(c.circular*CircularMil, c.seconds, celsius(25))), 2e-3)
	}
}
