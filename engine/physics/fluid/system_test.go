package fluid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
)

func supply(t require.TestingT, layout fluid.Layout) fluid.System {
	s := fluid.System{
		Layout: layout,
		Pump:   inventedPump(t, fluid.Turbine, 0),
		Suction: []fluid.Element{
			{Name: "strainer", Kind: fluid.SquareLaw, RatedDrop: 1e3, RatedFlow: 200 * litrePerHour, RatedDensity: 745},
		},
		Feed: []fluid.Element{
			{Name: "feed", Kind: fluid.Pipe, Bore: 8.103e-3, Length: 5, Roughness: 1.5e-6, Rise: 0.6},
			{Name: "filter", Kind: fluid.SquareLaw, RatedDrop: 10e3, RatedFlow: 200 * litrePerHour, RatedDensity: 745},
		},
		Regulator: fluid.Regulator{Kind: fluid.Diaphragm, Setting: 58 * psi},
		Liquid:    gasoline(),
		Demand:    90 * litrePerHour,
	}
	if layout == fluid.ReturnStyle {
		s.Return = []fluid.Element{
			{Name: "return", Kind: fluid.Pipe, Bore: 6.515e-3, Length: 5, Roughness: 1.5e-6, Rise: -0.6},
		}
	}
	return s
}

func TestReturnStyleBalances(t *testing.T) {
	s := supply(t, fluid.ReturnStyle)
	state, err := fluid.Solve(s)
	require.NoError(t, err)
	assert.False(t, state.Starved)
	assert.True(t, state.Controlled)
	assert.InDelta(t, 58*psi, state.ThrottleBodyPressure, 1e-3)
	assert.InEpsilon(t, state.PumpFlow, state.EngineFlow+state.ReturnFlow, 1e-12)

	// Each piece, asked alone, agrees with the solved whole.
	curve, err := s.Pump.Flow(state.PumpRise)
	require.NoError(t, err)
	assert.InEpsilon(t, curve, state.PumpFlow, 1e-9)
	feed, err := fluid.LineLoss(s.Feed, state.PumpFlow, s.Liquid)
	require.NoError(t, err)
	suction, err := fluid.LineLoss(s.Suction, state.PumpFlow, s.Liquid)
	require.NoError(t, err)
	assert.InDelta(t, state.ThrottleBodyPressure+feed.Total, state.PumpOutletPressure, 1e-3)
	assert.InDelta(t, state.PumpOutletPressure+suction.Total, state.PumpRise, 1e-3)
	back, err := fluid.LineLoss(s.Return, state.ReturnFlow, s.Liquid)
	require.NoError(t, err)
	assert.InDelta(t, back.Total, state.ReturnBackPressure, 1e-3)
}

// 5.16 psi behind a relief valve turns 13 psi into 18.16 psi; a diaphragm holds
// 13 psi until the back-pressure alone exceeds it (19.1 psi). Computed from the
// balance of forces.
func TestBackPressureByRegulatorKind(t *testing.T) {
	spring := fluid.Regulator{Kind: fluid.OutletSpring, Setting: 13 * psi}
	p, controls, err := spring.Hold(5.16*psi, 0, 745)
	require.NoError(t, err)
	assert.InEpsilon(t, 18.16*psi, p, 1e-9)
	assert.True(t, controls)
	assert.InDelta(t, 1.182, math.Sqrt(p/(13*psi)), 5e-4)

	diaphragm := fluid.Regulator{Kind: fluid.Diaphragm, Setting: 13 * psi}
	p, controls, err = diaphragm.Hold(5.16*psi, 0, 745)
	require.NoError(t, err)
	assert.Equal(t, 13*psi, p)
	assert.True(t, controls)
	p, controls, err = diaphragm.Hold(19.1*psi, 0, 745)
	require.NoError(t, err)
	assert.Equal(t, 19.1*psi, p)
	assert.False(t, controls)

	small := fluid.Regulator{Kind: fluid.Diaphragm, Setting: 13 * psi, SeatRatio: 0.05}
	p, _, err = small.Hold(5*psi, 0, 745)
	require.NoError(t, err)
	assert.InEpsilon(t, (13-5*0.05/0.95)*psi, p, 1e-9)

	seat := fluid.Regulator{Kind: fluid.Diaphragm, Setting: 13 * psi, WideOpen: 10 * psi, WideOpenFlow: 1e-4, WideOpenDensity: 745}
	p, controls, err = seat.Hold(5*psi, 1e-4, 745)
	require.NoError(t, err)
	assert.InEpsilon(t, 15*psi, p, 1e-9)
	assert.False(t, controls)

	vacuum := fluid.Regulator{Kind: fluid.Diaphragm, Setting: 43.5 * psi, Reference: -10 * psi}
	p, _, err = vacuum.Hold(0, 0, 745)
	require.NoError(t, err)
	assert.InEpsilon(t, 33.5*psi, p, 1e-9)
	spring.Reference = -1
	_, _, err = spring.Hold(0, 0, 745)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

func TestThinReturnLineTakesControlAtLowPressure(t *testing.T) {
	s := supply(t, fluid.ReturnStyle)
	s.Regulator.Setting = 13 * psi
	s.Demand = 2 * litrePerHour
	s.Return = []fluid.Element{
		{Name: "return", Kind: fluid.Pipe, Bore: 4.928e-3, Length: 5, Roughness: 1.5e-6},
		{Name: "fittings", Kind: fluid.Minor, Bore: 4.928e-3, Coefficient: fluid.ConstantK(1), Count: 4},
	}
	state, err := fluid.Solve(s)
	require.NoError(t, err)
	assert.False(t, state.Controlled)
	assert.False(t, state.Starved)
	assert.Greater(t, state.ThrottleBodyPressure, 17*psi)
	assert.InDelta(t, state.ReturnBackPressure, state.ThrottleBodyPressure, 1e-3)

	s.Regulator.Setting = 43.5 * psi
	state, err = fluid.Solve(s)
	require.NoError(t, err)
	assert.True(t, state.Controlled)
	assert.InDelta(t, 43.5*psi, state.ThrottleBodyPressure, 1e-3)
}

func TestInTankLosesTheFeedLine(t *testing.T) {
	s := supply(t, fluid.InTank)
	state, err := fluid.Solve(s)
	require.NoError(t, err)
	feed, err := fluid.LineLoss(s.Feed, s.Demand, s.Liquid)
	require.NoError(t, err)
	assert.InDelta(t, 58*psi, state.PumpOutletPressure, 1e-3)
	assert.InDelta(t, 58*psi-feed.Total, state.ThrottleBodyPressure, 1e-3)
	assert.InEpsilon(t, state.PumpFlow, state.EngineFlow+state.ReturnFlow, 1e-12)
	assert.Zero(t, state.ReturnBackPressure)
}

func TestDeadHead(t *testing.T) {
	s := supply(t, fluid.DeadHead)
	s.Regulator.Setting = 43.5 * psi
	state, err := fluid.Solve(s)
	require.NoError(t, err)
	assert.Equal(t, 43.5*psi, state.ThrottleBodyPressure)
	assert.Equal(t, s.Demand, state.PumpFlow)
	assert.True(t, state.Controlled)
	assert.Zero(t, state.ReturnFlow)

	s.Demand = 0
	state, err = fluid.Solve(s)
	require.NoError(t, err)
	assert.Equal(t, 7e5, state.PumpRise, "the pump stands at its dead-head pressure")

	s.Relief = 4.5e5
	state, err = fluid.Solve(s)
	require.NoError(t, err)
	assert.True(t, state.ReliefOpen)
	assert.Equal(t, 4.5e5, state.PumpRise)
	assert.InEpsilon(t, state.PumpFlow, state.ReturnFlow, 1e-12)

	s.Relief = 2e5
	state, err = fluid.Solve(s)
	require.NoError(t, err)
	assert.True(t, state.Starved, "the relief valve opens below the setting")
	assert.Less(t, state.ThrottleBodyPressure, 43.5*psi)
}

func TestStarvedPumpLosesPressure(t *testing.T) {
	for _, layout := range []fluid.Layout{fluid.ReturnStyle, fluid.InTank, fluid.DeadHead} {
		s := supply(t, layout)
		s.Demand = 200 * litrePerHour
		state, err := fluid.Solve(s)
		require.NoError(t, err, layout)
		assert.True(t, state.Starved, layout)
		assert.False(t, state.Controlled, layout)
		assert.Less(t, state.ThrottleBodyPressure, 58*psi, layout)
		assert.Positive(t, state.ThrottleBodyPressure, layout)
		assert.InEpsilon(t, s.Demand, state.PumpFlow, 1e-12, layout)
		assert.Zero(t, state.ReturnFlow, layout)

		s.Demand = 300 * litrePerHour
		state, err = fluid.Solve(s)
		require.NoError(t, err, layout)
		assert.True(t, state.Starved, layout)
		assert.Zero(t, state.ThrottleBodyPressure, layout)
		assert.Less(t, state.EngineFlow, s.Demand, layout)
		assert.Greater(t, state.EngineFlow, 240*litrePerHour, layout)
	}
}

func TestRegulatorInTheTankCannotFeedAThinLine(t *testing.T) {
	s := supply(t, fluid.InTank)
	s.Regulator.Setting = 10 * psi
	s.Feed[0].Bore = 3e-3
	state, err := fluid.Solve(s)
	require.NoError(t, err)
	assert.True(t, state.Starved)
	assert.Zero(t, state.ThrottleBodyPressure)
	assert.Less(t, state.EngineFlow, s.Demand)
	feed, err := fluid.LineLoss(s.Feed, state.EngineFlow, s.Liquid)
	require.NoError(t, err)
	assert.InDelta(t, 10*psi, feed.Total, 1)
	assert.InDelta(t, state.PumpFlow, state.EngineFlow+state.ReturnFlow, 1e-12)
}

func TestShortCurveIsAnErrorNotAGuess(t *testing.T) {
	short, err := fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: 13.5, Points: []fluid.CurvePoint{
		{Pressure: 2.5e5, Flow: 230 * litrePerHour}, {Pressure: 3.5e5, Flow: 200 * litrePerHour},
	}})
	require.NoError(t, err)
	var outside *domain.RangeError

	s := supply(t, fluid.ReturnStyle)
	s.Pump = short
	_, err = fluid.Solve(s)
	require.ErrorAs(t, err, &outside, "58 psi is above the curve")
	assert.Equal(t, "pump pressure", outside.Quantity)

	s.Regulator.Setting = 13 * psi
	_, err = fluid.Solve(s)
	require.ErrorAs(t, err, &outside, "13 psi is below the curve")

	s.Demand = 240 * litrePerHour
	s.Regulator.Setting = 43.5 * psi
	state, err := fluid.Solve(s)
	require.ErrorAs(t, err, &outside)
	assert.True(t, state.Starved, "more is asked than the curve gives at any lower pressure")

	dead := supply(t, fluid.DeadHead)
	dead.Pump = short
	_, err = fluid.Solve(dead)
	assert.ErrorContains(t, err, "down to the demand")

	inTank := supply(t, fluid.InTank)
	inTank.Return = s.Return
	_, err = fluid.Solve(inTank)
	assert.ErrorContains(t, err, "no return line")
}

func TestSolveClosesTheMassBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		layout := rapid.SampledFrom([]fluid.Layout{fluid.ReturnStyle, fluid.InTank, fluid.DeadHead}).Draw(t, "layout")
		s := supply(t, layout)
		s.Demand = rapid.Float64Range(0, 300).Draw(t, "demand L/h") * litrePerHour
		s.Regulator.Setting = rapid.Float64Range(9, 95).Draw(t, "setting psi") * psi
		if layout == fluid.ReturnStyle {
			s.Regulator.Kind = rapid.SampledFrom([]fluid.RegulatorKind{fluid.Diaphragm, fluid.OutletSpring}).Draw(t, "kind")
			s.Return[0].Rise = rapid.Float64Range(0, 0.5).Draw(t, "return rise")
			s.Return[0].Bore = rapid.Float64Range(4e-3, 9e-3).Draw(t, "return bore")
		}
		s.Feed[0].Length = rapid.Float64Range(0, 9).Draw(t, "feed length")
		s.Feed[0].Bore = rapid.Float64Range(3e-3, 9e-3).Draw(t, "feed bore")
		s.Relief = rapid.SampledFrom([]float64{0, 1e5, 3e5, 6e5}).Draw(t, "relief")
		pump, err := s.Pump.AtVoltage(rapid.Float64Range(10, 14.5).Draw(t, "voltage"))
		require.NoError(t, err)
		s.Pump = pump

		state, err := fluid.Solve(s)
		require.NoError(t, err)
		assert.InDelta(t, state.PumpFlow, state.EngineFlow+state.ReturnFlow, 1e-12)
		curve, err := s.Pump.Flow(state.PumpRise)
		require.NoError(t, err)
		assert.InDelta(t, curve, state.PumpFlow, 1e-9)
		assert.LessOrEqual(t, state.EngineFlow, s.Demand)
		if !state.Starved {
			assert.Equal(t, s.Demand, state.EngineFlow)
		} else if layout != fluid.InTank {
			assert.LessOrEqual(t, state.ThrottleBodyPressure, s.Regulator.Setting+state.ReturnBackPressure+1)
		}
		assert.GreaterOrEqual(t, state.ThrottleBodyPressure, 0.0)
		for _, v := range []float64{state.ThrottleBodyPressure, state.PumpOutletPressure, state.PumpRise} {
			assert.False(t, math.IsNaN(v) || math.IsInf(v, 0))
		}
	})
}

func TestMoreDemandNeverRaisesThePressure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := supply(t, rapid.SampledFrom([]fluid.Layout{fluid.ReturnStyle, fluid.InTank, fluid.DeadHead}).Draw(t, "layout"))
		s.Demand = rapid.Float64Range(0, 250).Draw(t, "demand") * litrePerHour
		a, err := fluid.Solve(s)
		require.NoError(t, err)
		s.Demand += rapid.Float64Range(0, 50).Draw(t, "step") * litrePerHour
		b, err := fluid.Solve(s)
		require.NoError(t, err)
		assert.LessOrEqual(t, b.ThrottleBodyPressure, a.ThrottleBodyPressure+1)
		if a.Starved {
			assert.True(t, b.Starved)
		}
	})
}

// Hydrostatics: 5 m of petrol press with 745 x 9.80665 x 5 = 36.5 kPa, and a pump that ends at 20 kPa moves nothing. It
// starves the engine, whatever it would give at less; a curve that was printed only to 20 kPa tells less.
func TestPumpThatCannotLiftGivesNothing(t *testing.T) {
	curve := func(last float64) fluid.Curve {
		c, err := fluid.NewCurve(fluid.CurveData{Voltage: 12, Kind: fluid.Turbine, Points: []fluid.CurvePoint{
			{Pressure: 0, Flow: 30 * litrePerHour}, {Pressure: 20e3, Flow: last}}})
		require.NoError(t, err)
		return c
	}
	s := supply(t, fluid.ReturnStyle)
	s.Feed[0].Rise = 5
	s.Pump = curve(0)
	state, err := fluid.Solve(s)
	require.NoError(t, err)
	assert.True(t, state.Starved)
	assert.Zero(t, state.PumpFlow)
	assert.Zero(t, state.ThrottleBodyPressure)
	assert.InDelta(t, 20e3, state.PumpRise, 1e-9)
	s.Pump = curve(10 * litrePerHour)
	state, err = fluid.Solve(s)
	require.ErrorContains(t, err, "outside the pump curve")
	assert.True(t, state.Starved)
}
