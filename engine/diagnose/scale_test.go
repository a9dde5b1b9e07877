package diagnose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// The sums of squares and what usual values leave, against gonum's solution of the same equations.
func TestGeneralisedLeastSquares(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	const n, numbers = 7, 4
	s := &scale{}
	c := mat.NewSymDense(n, nil)
	for range n {
		move := make([]float64, numbers)
		for k := range move {
			move[k] = random.NormFloat64()
		}
		s.taken, s.sigma, s.moves = append(s.taken, &probe{moves: move}), append(s.sigma, 0.3+random.Float64()), append(s.moves, move)
	}
	for i := range n {
		for k := range i + 1 {
			x := mat.Dot(mat.NewVecDense(numbers, s.moves[i]), mat.NewVecDense(numbers, s.moves[k]))
			if i == k {
				x += s.sigma[i] * s.sigma[i]
			}
			c.SetSym(i, k, x)
		}
	}
	s.factor()
	shows, r := make([]float64, n), make([]float64, n)
	for i, p := range s.taken {
		shows[i], p.measured = random.NormFloat64(), random.NormFloat64()
		r[i] = p.measured - shows[i]
	}
	x := mat.NewVecDense(n, nil)
	require.NoError(t, x.SolveVec(c, mat.NewVecDense(n, r)))
	assert.InEpsilon(t, mat.Dot(x, mat.NewVecDense(n, r)), s.misfit(shows), 1e-9)
	left, lying := s.left(r), s.lying(r)
	for i := range n {
		assert.InDelta(t, x.AtVec(i)*s.sigma[i], left[i], 1e-9)
		// What is left is what usual values at their best do not move.
		assert.InDelta(t, (r[i]-dot(s.moves[i], lying))/s.sigma[i], left[i], 1e-9)
	}

	// Without one number two vehicles differ more: by a whole new covariance, and by the formula.
	other := make([]float64, n)
	without := mat.NewSymDense(n, nil)
	for i := range n {
		for k := range i + 1 {
			without.SetSym(i, k, c.At(i, k)-s.moves[i][2]*s.moves[k][2])
		}
	}
	apart := mat.NewVecDense(n, nil)
	for i := range n {
		apart.SetVec(i, shows[i]-other[i])
	}
	square := func(c *mat.SymDense) float64 {
		var x mat.VecDense
		require.NoError(t, x.SolveVec(c, apart))
		return mat.Dot(&x, apart)
	}
	assert.InEpsilon(t, square(without)-square(c), s.told(shows, other, 2), 1e-9)
	assert.False(t, math.IsNaN(s.doubt(&probe{moves: s.moves[0]})))
}

// A number is written with the digits that a gauge shows, whatever its size.
func TestNumbersAreWrittenShortly(t *testing.T) {
	for want, value := range map[string]float64{"90.8": 90.80000000000001, "474": 474.4, "4120": 4123, "0.31": 0.31, "10": 9.999, "1.5": 1.5, "0": 0, "-2.01": -2.012} {
		assert.Equal(t, want, shortly(value))
	}
}
