package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Whatever it is given, a formula returns a finite number or an error, never NaN or an infinity.
func TestResultsAreFiniteOrRefused(t *testing.T) {
	calls := map[string]func(a []float64) (float64, error){
		"resistance": func(a []float64) (float64, error) {
			return Conductor{Area: a[0], PerMetre: a[1]}.Resistance(a[2], a[3])
		},
		"ampacity":            func(a []float64) (float64, error) { return DeratedAmpacity(a[0], a[1], a[2], 5) },
		"ambient factor":      func(a []float64) (float64, error) { return AmbientFactor(a[0], a[1]) },
		"adiabatic k":         func(a []float64) (float64, error) { return AdiabaticK(a[0], a[1]) },
		"let-through":         func(a []float64) (float64, error) { return Blade.LetThrough(a[0], a[1]) },
		"fuse ceiling":        func(a []float64) (float64, error) { return FuseCeiling(a[0], a[1]) },
		"state of charge":     func(a []float64) (float64, error) { return StateOfCharge(a[0]) },
		"internal resistance": func(a []float64) (float64, error) { return InternalResistance(a[0], a[1], a[2], a[0]) },
		"cranking floor":      func(a []float64) (float64, error) { return CrankingFloor(a[0], a[1]) },
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
