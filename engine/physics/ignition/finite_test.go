package ignition

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Whatever it is given, a formula returns a finite number or an error, never NaN or an infinity.
func TestResultsAreFiniteOrRefused(t *testing.T) {
	calls := map[string]func(a []float64) (float64, error){
		"coil current":    func(a []float64) (float64, error) { return CoilCurrent(a[0], a[1], a[2], a[3]) },
		"coil energy":     func(a []float64) (float64, error) { return CoilEnergy(a[0], a[1]) },
		"mean coil volts": func(a []float64) (float64, error) { return MeanCoilVolts(a[0], a[1], a[2], a[3]) },
		"overlap":         func(a []float64) (float64, error) { return OverlapLimit(a[0], a[1], a[2]) },
	}
	special := []float64{0, math.Copysign(0, -1), 1, -1, 1e-300, 1e300, math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1), 293.15, 378.15}
	number := rapid.OneOf(rapid.SampledFrom(special), rapid.Float64(), rapid.Float64Range(0, 500), rapid.Float64Range(0, 1), rapid.Float64Range(0, 1e-4))
	for name, call := range calls {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				v, err := call(rapid.SliceOfN(number, 6, 6).Draw(t, "arguments"))
				if err == nil {
					assert.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%g", v)
				}
			})
		})
	}
}
