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

}

// Arithmetic on the orifice law: 300 kPa set.
func TestRegulatorReference(t *testing.T) {
	for _, c := range []struct{ reference, tip, drop float64 }{
		{0, 0, 300e3},         // both in outside air
		{0, -71.3e3, 371.3e3}, // tip below the plates at 30 kPa absolute
		{-71.3e3, -71.3e3, 300e3},
		{-71.3e3, 0, 228.7e3}, // vacuum hose, tip above the plates
		{0, 100e3, 200e3},     // tip in boost, regulator open to air
		{100e3, 0, 400e3},
	} {
		ratio, err := air.ReferenceFlowRatio(300e3, c.reference, c.tip)
		require.NoError(t, err)
		assert.InEpsilon(t, math.Sqrt(c.drop/300e3), ratio, 1e-12)
		drop, err := air.NozzleDrop(300e3+c.reference, c.tip)
		require.NoError(t, err)
		assert.InDelta(t, c.drop, drop, 1e-6)
	}
	_, err := air.ReferenceFlowRatio(70e3, -71.3e3, 0)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside, "vacuum takes a low-pressure rail below zero")
	_, err = air.NozzleDrop(100e3, 100e3)
	require.ErrorAs(t, err, &outside)
}

// Orifice law: n-heptane of 681.55 kg/m3 (25 degC) against petrol of 745: volume
// x sqrt(681.55/745) = 0.956, mass x 1.046.
func TestLiquidFlow(t *testing.T) {
	flow, err := air.LiquidFlow(600, 681.55, 745)
	require.NoError(t, err)
	assert.InDelta(t, 573.9, flow, 0.1)
	assert.InEpsilon(t, 1.0455, flow*745/(600*681.55), 1e-4)
	_, err = air.LiquidFlow(600, 745, 0)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

func TestPulseWidth(t *testing.T) {
	// Arithmetic: 0.567 g/s at idle through four injectors of 5 g/s, 12.5 pulses a
	// second each, 1 ms dead.
	pulse, err := air.PulseWidth(0.567e-3, 4, 12.5, 5e-3, 1e-3)
	require.NoError(t, err)
	assert.InEpsilon(t, 2.268e-3+1e-3, pulse, 1e-9)
	// 20 g/s want 80 ms of open time in each period of 80 ms, and 1 ms more.
	pulse, err = air.PulseWidth(20e-3, 4, 12.5, 5e-3, 1e-3)
	require.NoError(t, err)
	assert.InEpsilon(t, 81e-3, pulse, 1e-9)
	driven, err := air.InjectorDriven(1, 12.5, 1e-3)
	require.NoError(t, err)
	assert.InEpsilon(t, 81.0/80, driven, 1e-9)
	_, err = air.InjectorDriven(0.5, 0, 1e-3)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
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
		dead := rapid.Float64Range(0, 5e-3).Draw(t, "dead")
		whole, err := air.PulseWidth(fuel, count, rate, static, dead)
		require.NoError(t, err)
		driven, err := air.InjectorDriven(duty, rate, dead)
		require.NoError(t, err)
		assert.InEpsilon(t, driven, whole*rate, 1e-9)
	})
}
