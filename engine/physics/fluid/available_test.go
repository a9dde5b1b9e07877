package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
)

func TestFlowAtSettingIsWhereStarvationBegins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		layout := rapid.SampledFrom([]fluid.Layout{fluid.ReturnStyle, fluid.InTank, fluid.DeadHead}).Draw(t, "layout")
		s := supply(t, layout)
		s.Regulator.Setting = rapid.Float64Range(10, 95).Draw(t, "setting psi") * psi
		s.Feed[0].Length = rapid.Float64Range(0, 9).Draw(t, "feed length")
		if layout == fluid.DeadHead {
			s.Relief = rapid.SampledFrom([]float64{0, 2e5, 4.5e5}).Draw(t, "relief")
		}
		available, err := fluid.FlowAtSetting(s)
		require.NoError(t, err)
		if available > 1e-9 {
			s.Demand = available * 0.999
			state, err := fluid.Solve(s)
			require.NoError(t, err)
			assert.False(t, state.Starved, "just below")
		}
		s.Demand = available*1.001 + 1e-9
		state, err := fluid.Solve(s)
		require.NoError(t, err)
		assert.True(t, state.Starved, "just above")
	})
}

func TestFlowAtSettingOutsideTheCurve(t *testing.T) {
	s := supply(t, fluid.ReturnStyle)
	s.Regulator.Setting = 110 * psi
	flow, err := fluid.FlowAtSetting(s)
	require.NoError(t, err)
	assert.Zero(t, flow, "above dead-head")

	s.Pump, err = fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: 13.5, Points: []fluid.CurvePoint{
		{Pressure: 2.5e5, Flow: 230 * litrePerHour}, {Pressure: 3.5e5, Flow: 200 * litrePerHour},
	}})
	require.NoError(t, err)
	var outside *domain.RangeError
	_, err = fluid.FlowAtSetting(s)
	require.ErrorAs(t, err, &outside)
	s.Regulator.Setting = 13 * psi
	_, err = fluid.FlowAtSetting(s)
	require.ErrorAs(t, err, &outside)
}
