package sensor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Whatever it is given, a formula returns a finite number or an error, never NaN or an infinity.
func TestResultsAreFiniteOrRefused(t *testing.T) {
	calls := map[string]func(a []float64) (float64, error){
		"beta resistance":  func(a []float64) (float64, error) { return Beta{a[0], a[1], a[2]}.Resistance(a[3]) },
		"beta temperature": func(a []float64) (float64, error) { return Beta{a[0], a[1], a[2]}.Temperature(a[3]) },
		"Steinhart-Hart resistance": func(a []float64) (float64, error) {
			return SteinhartHart{a[0] / 1e3, a[1] / 1e3, a[2] / 1e6}.Resistance(a[3])
		},
		"Steinhart-Hart temperature": func(a []float64) (float64, error) {
			return SteinhartHart{a[0] / 1e3, a[1] / 1e3, a[2] / 1e6}.Temperature(a[3])
		},
		"divider voltage":    func(a []float64) (float64, error) { return DividerVoltage(a[0], a[1], a[2]) },
		"divider resistance": func(a []float64) (float64, error) { return DividerResistance(a[0], a[1], a[2]) },
		"reading": func(a []float64) (float64, error) {
			return ReadTemperature(Beta{10e3, 298.15, 3950}, a[0], a[1], a[2], Fault{a[3], a[4]})
		},
		"resonance": func(a []float64) (float64, error) { return HoseResonance(a[0], a[1]) },
		"lag":       func(a []float64) (float64, error) { return HoseLag(a[0]/1e3, a[1], a[2], a[3], a[4]) },
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
