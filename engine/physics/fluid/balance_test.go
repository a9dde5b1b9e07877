package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/fluid"
)

// drawLine is a line of one to five pipes, filters and fittings; the pipes rise or fall.
func drawLine(t *rapid.T, name string) []fluid.Element {
	line := make([]fluid.Element, rapid.IntRange(1, 5).Draw(t, name))
	for i := range line {
		bore := rapid.Float64Range(5e-3, 10e-3).Draw(t, name+" bore")
		line[i] = []fluid.Element{
			{Name: "pipe", Kind: fluid.Pipe, Bore: bore, Length: rapid.Float64Range(0.1, 3).Draw(t, name+" length"), Roughness: 1.5e-6,
				Rise: rapid.Float64Range(-0.4, 0.4).Draw(t, name+" rise")},
			{Name: "filter", Kind: fluid.SquareLaw, RatedDrop: rapid.Float64Range(100, 1e4).Draw(t, name+" drop"), RatedFlow: 200 * litrePerHour, RatedDensity: 745},
			{Name: "elbow", Kind: fluid.Minor, Bore: bore, Coefficient: fluid.ConstantK(0.9), Count: 2},
		}[rapid.IntRange(0, 2).Draw(t, name+" kind")]
	}
	return line
}

// lost is the friction of a line, element by element, and its height, m: the sum
// is taken here, not by the solver.
func lost(t *rapid.T, line []fluid.Element, flow float64, liquid fluid.Liquid) (friction, height float64) {
	for _, e := range line {
		height += e.Rise
		e.Rise = 0
		one, err := fluid.LineLoss([]fluid.Element{e}, flow, liquid)
		require.NoError(t, err)
		friction += one.Total
	}
	return friction, height
}

// Whatever the lines, what the pump puts in comes out again. Mass: its flow is
// that of the engine and of the return. Energy, by the litre: its rise of pressure
// is spent in the friction of suction and feed, in lifting the fuel, rho g h with
// g = 9.80665 m/s2, and in what is left at the throttle body; the rest of the way
// the surplus spends that at the regulator's seat and in the return line. By time:
// pump flow x rise is the sum of each flow x each drop. The tolerance is the
// solver's, 1 mPa, and rounding.
func TestFuelPathBalancesMassAndEnergy(t *testing.T) {
	const gravity = 9.80665
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		layout := rapid.SampledFrom([]fluid.Layout{fluid.ReturnStyle, fluid.InTank, fluid.DeadHead}).Draw(t, "layout")
		s := supply(t, layout)
		s.Suction, s.Feed = drawLine(t, "suction"), drawLine(t, "feed")
		if layout == fluid.ReturnStyle {
			s.Return = drawLine(t, "return")
			s.Regulator.Kind = rapid.SampledFrom([]fluid.RegulatorKind{fluid.Diaphragm, fluid.OutletSpring}).Draw(t, "kind")
		}
		s.Demand = rapid.Float64Range(1, 160).Draw(t, "demand L/h") * litrePerHour
		s.Regulator.Setting = rapid.Float64Range(12, 70).Draw(t, "setting psi") * psi
		state, err := fluid.Solve(s)
		require.NoError(t, err)

		density := s.Liquid.Density
		assert.InDelta(t, state.PumpFlow, state.EngineFlow+state.ReturnFlow, 1e-15+1e-12*state.PumpFlow)
		curve, err := s.Pump.Flow(state.PumpRise)
		require.NoError(t, err)
		assert.InEpsilon(t, curve, state.PumpFlow, 1e-8, "the pump stands on its curve")

		throughFeed := state.PumpFlow
		if layout != fluid.ReturnStyle {
			throughFeed = state.EngineFlow
		}
		suction, up := lost(t, s.Suction, state.PumpFlow, s.Liquid)
		feed, further := lost(t, s.Feed, throughFeed, s.Liquid)
		assert.InDelta(t, suction, state.SuctionLoss, 1e-6+1e-9*suction)
		assert.InDelta(t, feed, state.FeedLoss, 1e-6+1e-9*feed)
		back, down := lost(t, s.Return, state.ReturnFlow, s.Liquid)
		behind := back + density*gravity*down
		if state.ReturnFlow > 0 { // behind a shut regulator nothing is asked
			assert.InDelta(t, behind, state.ReturnBackPressure, 1e-3)
		}

		// A dead-head regulator and an engine that an open end starves take the
		// rest of the pressure themselves.
		spent := suction + feed + density*gravity*(up+further) + state.ThrottleBodyPressure
		if layout == fluid.DeadHead && !state.Starved {
			assert.Equal(t, s.Regulator.Setting, state.ThrottleBodyPressure)
			assert.GreaterOrEqual(t, state.PumpRise, spent-2e-3, "the regulator only reduces")
			return
		}
		if state.ThrottleBodyPressure == 0 {
			return
		}
		held++
		assert.InDelta(t, state.PumpRise, spent, 2e-3)

		// Power, W. At the regulator the surplus spends what is left over the return.
		at := state.PumpOutletPressure
		lines := state.PumpFlow*(suction+density*gravity*up) + throughFeed*(feed+density*gravity*further)
		if layout == fluid.ReturnStyle {
			at = state.ThrottleBodyPressure
		}
		seat := state.ReturnFlow * (at - behind)
		assert.GreaterOrEqual(t, seat, -2e-3*state.ReturnFlow)
		assert.InDelta(t, state.PumpFlow*state.PumpRise, lines+state.EngineFlow*state.ThrottleBodyPressure+seat+state.ReturnFlow*behind,
			4e-3*state.PumpFlow)
	})
	assert.Positive(t, held, "some supply must hold its pressure")
}
