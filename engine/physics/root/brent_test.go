package root_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/root"
)

func pure(f func(float64) float64) root.Func {
	return func(x float64) (float64, error) { return f(x), nil }
}

func TestBrentFindsKnownRoots(t *testing.T) {
	cases := []struct {
		name      string
		f         func(float64) float64
		low, high float64
		want      float64
		source    string
	}{
		{"square root of two", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2, "arithmetic"},
		{"x^3 - 2x - 5", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265, "Wallis's cubic, from memory"},
		{"cos x = x", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607, "Dottie number, from memory"},
		{"root at the low end", func(x float64) float64 { return x }, 0, 1, 0, "arithmetic"},
		{"kink at the root", func(x float64) float64 { return math.Max(x-0.25, 10*(x-0.25)) }, -3, 4, 0.25, "arithmetic"},
		{"flat cubic", func(x float64) float64 { return math.Pow(x-1, 3) }, -4, 3, 1, "arithmetic"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := root.Brent(pure(c.f), c.low, c.high, 1e-13)
			require.NoError(t, err)
			assert.InDelta(t, c.want, got, 1e-9, c.source)
		})
	}
}

func TestBrentSaysWhyItCannotStart(t *testing.T) {
	_, err := root.Brent(pure(func(x float64) float64 { return x*x + 1 }), -1, 1, 0)
	var stuck *domain.NotConverged
	require.ErrorAs(t, err, &stuck)
	assert.Equal(t, 2.0, stuck.Residual)
	assert.Contains(t, err.Error(), "same sign")

	_, err = root.Brent(pure(func(x float64) float64 { return x }), 1, -1, 0)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)

	_, err = root.Brent(pure(math.Log), -1, 2, 0)
	require.ErrorAs(t, err, &stuck)
	assert.Contains(t, err.Error(), "not finite")

	broken := errors.New("curve ended")
	_, err = root.Brent(func(float64) (float64, error) { return 0, broken }, 0, 1, 0)
	require.ErrorIs(t, err, broken)
}

func TestBrentStaysInTheBracketAndSolves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(-50, 50).Draw(t, "root")
		below := rapid.Float64Range(0.01, 100).Draw(t, "below")
		above := rapid.Float64Range(0.01, 100).Draw(t, "above")
		steep := rapid.Float64Range(0.01, 100).Draw(t, "steep")
		f := func(x float64) float64 { return math.Atan(steep*(x-want)) + (x-want)/10 }
		got, err := root.Brent(pure(f), want-below, want+above, 1e-12)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 1e-9)
	})
}

// Ends that are known need not be asked for again, and are checked all the same.
func TestBetweenTakesTheEndsAsGiven(t *testing.T) {
	asked := 0
	f := func(x float64) (float64, error) { asked++; return x*x - 2, nil }
	want, err := root.Brent(f, 0, 2, 1e-13)
	require.NoError(t, err)
	before := asked
	got, err := root.Between(f, 0, -2, 2, 2, 1e-13)
	require.NoError(t, err)
	assert.Equal(t, want, got)
	assert.Equal(t, before-2, asked-before)

	_, err = root.Between(f, 0, math.NaN(), 2, 2, 0)
	assert.ErrorContains(t, err, "low end")
	_, err = root.Between(f, 0, 1, 2, 2, 0)
	assert.ErrorContains(t, err, "same sign")
	_, err = root.Between(f, 2, -1, 0, 2, 0)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}
