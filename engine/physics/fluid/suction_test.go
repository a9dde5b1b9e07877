package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
)

func TestSuctionHeadAgainstWorkedExamples(t *testing.T) {
	const poundPerCubicFoot = 0.45359237 / (foot * foot * foot)

	water := 62.364 * poundPerCubicFoot
	head, err := fluid.NetPositiveSuctionHead((14.696+5)*psi, 0.256*psi, water, -25*foot, 6*foot*water*fluid.StandardGravity)
	require.NoError(t, err)
	assert.InEpsilon(t, 13.9*foot, head, 5e-3, "Crane TP-410, example 7.32")

	// At the greatest height of the pump the head available is the 15 ft it
	// needs. 0.5 ft3/s in 4 in pipe, total loss coefficient 20.
	warm := 62.22 * poundPerCubicFoot
	v := 0.5 / (3.14159265 / 4 / 9) * foot
	loss, err := fluid.MinorLoss(20, warm, v)
	require.NoError(t, err)
	head, err = fluid.NetPositiveSuctionHead(14.7*psi, 0.5069*psi, warm, -7.65*foot, loss)
	require.NoError(t, err)
	assert.InDelta(t, 15*foot, head, 0.05*foot, "Munson, Fundamentals of Fluid Mechanics, example 12.3")
}

// Gasoline of 740 kg/m3 lifted 0.3 m with 1 kPa of loss; vapour pressures of a 9
// psi Reid gasoline by EPA AP-42 chapter 7.1. Computed.
func TestHotFuelTakesTheSuctionHead(t *testing.T) {
	for _, c := range []struct{ surface, vapour, want float64 }{
		{14.696, 6.73, 7.13}, {14.696, 9.57, 4.44}, {14.696, 13.28, 0.91}, {12.265, 9.57, 2.13},
	} {
		head, err := fluid.NetPositiveSuctionHead(c.surface*psi, c.vapour*psi, 740, -0.3, 1e3)
		require.NoError(t, err)
		assert.InDelta(t, c.want, head, 0.02)
	}
}

func TestVapourMarginMayBeNegative(t *testing.T) {
	margin, err := fluid.VapourMargin(80e3, 95e3, 740, -0.3, 1e3)
	require.NoError(t, err)
	assert.Negative(t, margin)
	inlet, err := fluid.InletPressure(101325, 740, 0, 0)
	require.NoError(t, err)
	assert.Equal(t, 101325.0, inlet)
	_, err = fluid.VapourMargin(0, 1, 740, 0, 0)
	require.Error(t, err)
}
