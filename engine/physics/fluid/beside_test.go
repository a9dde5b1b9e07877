package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
)

// Side by side pumps add their flows at one pressure (continuity): two alike give twice the table, one that is slower adds what
// it gives there, and beyond its end nothing.
func TestPumpsBesideEachOther(t *testing.T) {
	base := inventedPump(t, fluid.Turbine, 0.2).Extended(fluid.Extension{DeadHead: 7e5})
	at := func(volts float64) fluid.Curve {
		c, err := base.AtVoltage(volts)
		require.NoError(t, err)
		return c
	}
	flow := func(c fluid.Curve, pressure float64) float64 {
		f, err := c.Flow(pressure)
		require.NoError(t, err)
		return f
	}
	fast, slow := at(13.5), at(11)
	assert.InEpsilon(t, 2*185*litrePerHour, flow(fluid.Beside(fast, fast), 4e5), 1e-9)
	current, err := fluid.Beside(fast, fast).Current(4e5)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*7.75, current, 1e-9)
	both := fluid.Beside(fast, slow)
	for _, pressure := range []float64{0.5e5, 2e5, 3.3e5, 4e5} {
		assert.InEpsilon(t, flow(fast, pressure)+flow(slow, pressure), flow(both, pressure), 1e-9, "%g Pa", pressure)
	}
	_, end := slow.PressureRange()
	require.Less(t, end, 6.5e5)
	assert.InEpsilon(t, flow(fast, 6.5e5), flow(both, 6.5e5), 1e-9, "the slower one has closed")

	standing := at(0.2)
	require.True(t, standing.Stopped())
	assert.InEpsilon(t, flow(fast, 4e5), flow(fluid.Beside(fast, standing), 4e5), 1e-9)
	assert.True(t, fluid.Beside(standing, standing).Stopped())
	assert.Equal(t, fast, fluid.Beside(fast))

	// What is printed of both is printed of the two, and what is guessed of one is guessed of both.
	low, high := both.PrintedRange()
	oneLow, _ := fast.PrintedRange()
	_, otherHigh := slow.PrintedRange()
	assert.Equal(t, oneLow, low)
	assert.Equal(t, otherHigh, high)
}
