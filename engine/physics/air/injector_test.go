package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/domain"
)

const psi = 6894.757

// The formulas are the incompressible orifice and a mass balance; figures are
// arithmetic on them, the sizing rule from memory.
func TestInjectors(t *testing.T) {
	ratio, err := air.StaticFlow(1, 43.5*psi, 58*psi)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.1547, ratio, 5e-4)

	size, err := air.InjectorSize(200*pound/hour, 8, 0.85)
	require.NoError(t, err)
	assert.InEpsilon(t, 29.41, size*hour/pound, 2e-3)
	assert.InEpsilon(t, 298, size/745*1e6*minute, 3e-3)
	duty, err := air.InjectorDuty(200*pound/hour, 8, size)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.85, duty, 1e-12)
	duty, err = air.InjectorDuty(200*pound/hour, 4, size)
	require.NoError(t, err)
	assert.Greater(t, duty, 1.0, "too small is an answer, not an error")
}

func TestRegulatorReference(t *testing.T) {
	ratio, err := air.UnreferencedFlowRatio(300e3, 101.3e3, 30e3)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.112, ratio, 2e-3, "arithmetic: 300 kPa gauge, 30 kPa absolute at the tip")
	ratio, err = air.UnreferencedFlowRatio(300e3, 101.3e3, 101.3e3)
	require.NoError(t, err)
	assert.Equal(t, 1.0, ratio)

	ratio, err = air.ReferencedFlowRatio(300e3, 101.3e3, 30e3, 30e3)
	require.NoError(t, err)
	assert.InDelta(t, 1, ratio, 1e-12, "tip below the plate")
	ratio, err = air.ReferencedFlowRatio(300e3, 101.3e3, 30e3, 101.3e3)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt(228.7/300), ratio, 1e-9, "tip above the plate")

	_, err = air.ReferencedFlowRatio(70e3, 101.3e3, 30e3, 101.3e3)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside, "vacuum takes a low-pressure rail below zero")
}

func TestPulseWidth(t *testing.T) {
	// Arithmetic: 0.567 g/s at idle through four injectors of 5 g/s, 12.5 pulses a
	// second each, 1 ms dead.
	pulse, err := air.PulseWidth(0.567e-3, 4, 12.5, 5e-3, 1e-3)
	require.NoError(t, err)
	assert.InEpsilon(t, 2.268e-3+1e-3, pulse, 1e-9)
	_, err = air.PulseWidth(20e-3, 4, 12.5, 5e-3, 1e-3)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
	assert.Equal(t, "injector pulse", outside.Quantity)
}

func TestPulseAndDutyAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fuel := rapid.Float64Range(1e-4, 2e-2).Draw(t, "fuel")
		count := rapid.IntRange(1, 8).Draw(t, "count")
		rate := rapid.Float64Range(2, 100).Draw(t, "rate")
		static := fuel / float64(count) * rapid.Float64Range(1.01, 50).Draw(t, "size")
		duty, err := air.InjectorDuty(fuel, count, static)
		require.NoError(t, err)
		pulse, err := air.PulseWidth(fuel, count, rate, static, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, duty, pulse*rate, 1e-9)
	})
}
