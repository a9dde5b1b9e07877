package domain_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
)

func TestCheckRefusesWhatLiesOutside(t *testing.T) {
	require.NoError(t, domain.Check("fuel temperature", 260, 250, 330, "K"))
	require.NoError(t, domain.Check("low end", 250, 250, 330, "K"))
	require.NoError(t, domain.Check("high end", 330, 250, 330, "K"))
	celsius := -20.0
	require.NoError(t, domain.Check("rounded low end", 273.15+celsius, 253.15, 330, "K"))
	require.Error(t, domain.Check("below", 253.15-1e-8, 253.15, 330, "K"))
	for _, v := range []float64{249.9, 330.1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		var outside *domain.RangeError
		require.ErrorAs(t, domain.Check("fuel temperature", v, 250, 330, "K"), &outside)
		assert.Equal(t, 250.0, outside.Low)
		assert.Equal(t, 330.0, outside.High)
	}
}

func TestErrorsSayTheRange(t *testing.T) {
	cases := []struct {
		name string
		err  error
		want string
	}{
		{"closed range", domain.Check("fuel temperature", 400, 250, 330, "K"), "fuel temperature is 400 K: give a value from 250 to 330 K"},
		{"no unit", domain.Check("ethanol fraction", 1.5, 0, 1, "1"), "ethanol fraction is 1.5: give a value from 0 to 1"},
		{"not negative", domain.CheckNotNegative("length", -1, "m"), "length is -1 m: give a finite value of at least 0 m"},
		{"positive", domain.CheckPositive("bore", 0, "m"), "bore is 0 m: give a finite value of more than 0 m"},
		{"at most", domain.Check("x", 3, math.Inf(-1), 2, ""), "x is 3: give a finite value of at most 2"},
		{"finite", domain.CheckFinite("x", math.NaN(), ""), "x is NaN: give a finite number"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { assert.EqualError(t, c.err, c.want) })
	}
}

func TestFirstReturnsTheFirstError(t *testing.T) {
	require.NoError(t, domain.First(nil, nil))
	err := domain.First(nil, domain.CheckPositive("bore", 0, "m"), domain.CheckPositive("length", 0, "m"))
	assert.ErrorContains(t, err, "bore")
}
