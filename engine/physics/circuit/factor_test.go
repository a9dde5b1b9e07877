package circuit

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// Against gonum's dense LU, on matrices that are mostly zeros as a tableau is.
func TestFactorsAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "rows")
		a, b := make([]float64, n*n), make([]float64, n)
		for i := range a {
			if i%(n+1) == 0 || rapid.IntRange(0, 3).Draw(t, "filled") == 0 {
				a[i] = float64(rapid.IntRange(-50, 50).Draw(t, "entry")) / 10
			}
		}
		// Row 0 goes to the end, so that rows must be exchanged.
		a = append(a[n:], a[:n]...)
		for i := range b {
			b[i] = rapid.Float64Range(-10, 10).Draw(t, "right-hand side")
		}
		var lu mat.LU
		lu.Factorize(mat.NewDense(n, n, slices.Clone(a)))
		if lu.Cond() > 1e8 {
			return // too near to singular to compare
		}
		var want mat.VecDense
		require.NoError(t, lu.SolveVecTo(&want, false, mat.NewVecDense(n, slices.Clone(b))))
		var f factors
		require.True(t, f.factorize(n, slices.Clone(a)))
		f.solve(b)
		for i, x := range b {
			assert.InDelta(t, want.AtVec(i), x, 1e-6*(1+mat.Norm(&want, 2)))
		}
	})
}

func TestSingularMatricesAreRefused(t *testing.T) {
	var f factors
	assert.False(t, f.factorize(2, []float64{1, 2, 2, 4}))
	assert.False(t, f.factorize(1, []float64{0}))
	assert.True(t, f.factorize(2, []float64{0, 1, 1, 0}), "a zero on the diagonal is no fault")
}
