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
	assert.InEpsilon(t, 115.0*115*2.5*2.5, value(t)(AdiabaticLimit(115e6, 2.5*mm2)), 1e-9)
	// ICEA short-circuit formula: (I/A)^2 t = 0.0297 log10((T2+234)/(T1+234)), A in circular mil, is K = 224.1 in the IEC form.
	icea := math.Sqrt(0.0297*math.Log10((150+234.0)/(75+234))) / CircularMil
	assert.InEpsilon(t, 224.1/226, icea/value(t)(AdiabaticK(celsius(75), celsius(150))), 3e-3)

	_, err := AdiabaticK(celsius(160), celsius(70))
	refused(t, err)
}
