package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
)

const (
	litrePerHour = 1e-3 / 3600
	gallon       = 3.785412e-3
)

// gasoline is the liquid of the line-loss vectors: 745 kg/m3, 0.6 mm2/s.
func gasoline() fluid.Liquid { return fluid.Liquid{Density: 745, Viscosity: 0.6e-6} }

func pipe(bore, length, roughness float64) fluid.Element {
	return fluid.Element{Name: "pipe", Kind: fluid.Pipe, Bore: bore, Length: length, Roughness: roughness}
}

func TestPipeLossAgainstWorkedExamples(t *testing.T) {
	const cubicFoot = foot * foot * foot
	cases := []struct {
		name     string
		element  fluid.Element
		flow     float64
		liquid   fluid.Liquid
		want     float64
		relative float64
		source   string
	}{
		{"water in 3 mm tube", pipe(3e-3, 9, 0), 0.9 * 7.0685835e-6, fluid.Liquid{Density: 1000, Viscosity: 1.519e-6},
			43.75e3, 5e-3, "Cengel and Cimbala, example 8-2"},
		{"water in stainless", pipe(0.05, 60, 2e-6), 0.006, fluid.Liquid{Density: 999, Viscosity: 1.138e-3 / 999},
			96.2e3, 0.015, "Cengel and Cimbala, example 8-3; Churchill reads within 1.5 per cent of the chart"},
		{"oil in cast iron", pipe(0.2, 500, 0.26e-3), 0.2, fluid.Liquid{Density: 900, Viscosity: 1e-5},
			117.4 * 900 * 9.81, 0.02, "White, example 6.7; answer from memory"},
		{"asphalted cast iron", pipe(0.5*foot, 200*foot, 0.0004*foot), 6 * foot * 0.25 * 3.14159265 * 0.25 * foot * foot,
			fluid.Liquid{Density: 998, Viscosity: 1.1e-5 * foot * foot}, 4.5 * foot * 998 * fluid.StandardGravity, 0.025, "White, example 6.6, by chart"},
		{"crude oil", pipe(0.02, 10, 0), 2e-5, fluid.Liquid{Density: 900, Viscosity: 0.4 / 900},
			20.37e3, 5e-3, "Munson, example 8.2"},
		{"air in drawn tube", pipe(4e-3, 0.1, 0.0015e-3), 50 * 1.2566371e-5, fluid.Liquid{Density: 1.23, Viscosity: 1.79e-5 / 1.23},
			1.076e3, 0.05, "Munson, example 8.5, by chart"},
		{"fuel oil in steel", pipe(52.48e-3, 100*foot, 0.0457e-3), 2 * gallon, fluid.Liquid{Density: 0.815 * 999, Viscosity: 2.7e-6},
			66.5e3, 0.025, "Crane TP-410, example 7.13, by chart"},
		{"50 cP oil", pipe(3.068*inch, 100*foot, 0), 50 * gallon / 60, fluid.Liquid{Density: 62.3 * 0.45359237 / cubicFoot, Viscosity: 0.05 / (62.3 * 0.45359237 / cubicFoot)},
			0.771 * psi, 3e-3, "de Nevers, example 6.1"},
		{"3/8 tube at 120 L/h", pipe(8.103e-3, 5, 1.5e-6), 120 * litrePerHour, gasoline(),
			3.10e3, 0.02, "computed with Colebrook"},
		{"3/8 tube at 255 L/h", pipe(8.103e-3, 5, 1.5e-6), 255 * litrePerHour, gasoline(),
			11.6e3, 0.02, "computed with Colebrook"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			drop, err := fluid.LineLoss([]fluid.Element{c.element}, c.flow, c.liquid)
			require.NoError(t, err)
			assert.InEpsilon(t, c.want, drop.Total, c.relative, c.source)
		})
	}
}

// Computed with Colebrook: 5 m of drawn tube and four fittings of K = 1, 240 L/h.
func TestReturnLineVectors(t *testing.T) {
	for _, c := range []struct{ bore, friction, minor float64 }{
		{6.515e-3, 29.6e3, 6.0e3},
		{4.928e-3, 113.2e3, 18.2e3},
	} {
		line := []fluid.Element{
			{Name: "tube", Kind: fluid.Pipe, Bore: c.bore, Length: 5, Roughness: 1.5e-6},
			{Name: "fittings", Kind: fluid.Minor, Bore: c.bore, Coefficient: fluid.ConstantK(1), Count: 4},
		}
		drop, err := fluid.LineLoss(line, 240*litrePerHour, gasoline())
		require.NoError(t, err)
		require.Len(t, drop.Elements, 2)
		assert.InEpsilon(t, c.friction, drop.Elements[0].Friction, 0.015)
		assert.InEpsilon(t, c.minor, drop.Elements[1].Friction, 0.01)
		assert.InEpsilon(t, c.friction+c.minor, drop.Total, 0.015)
		assert.InDelta(t, 4, drop.Elements[1].K, 1e-12)
	}
}

func TestColebrookLineVectors(t *testing.T) {
	for _, c := range []struct{ flow, re, factor, loss float64 }{
		{120, 8730, 0.0323, 3.10e3},
		{255, 18550, 0, 11.6e3},
	} {
		v, err := fluid.Velocity(c.flow*litrePerHour, 8.103e-3)
		require.NoError(t, err)
		re, err := fluid.Reynolds(v, 8.103e-3, 0.6e-6)
		require.NoError(t, err)
		assert.InEpsilon(t, c.re, re, 1e-3)
		f, err := fluid.Colebrook(re, 1.5e-6/8.103e-3)
		require.NoError(t, err)
		if c.factor > 0 {
			assert.InEpsilon(t, c.factor, f, 3e-3)
		}
		loss, err := fluid.DarcyLoss(f, 5, 8.103e-3, 745, v)
		require.NoError(t, err)
		assert.InEpsilon(t, c.loss, loss, 5e-3)
	}
}

func TestLineLossErrorsNameTheElement(t *testing.T) {
	var outside *domain.RangeError
	_, err := fluid.LineLoss([]fluid.Element{{Name: "feed hose", Kind: fluid.Pipe, Bore: 0, Length: 1}}, 1e-5, gasoline())
	require.ErrorAs(t, err, &outside)
	assert.ErrorContains(t, err, "line element feed hose: bore is 0 m")

	_, err = fluid.LineLoss([]fluid.Element{{Kind: "elbow", Bore: 8e-3}}, 1e-5, gasoline())
	var unknown *domain.UnknownName
	require.ErrorAs(t, err, &unknown)
	assert.ErrorContains(t, err, "line element number 1")

	_, err = fluid.LineLoss(nil, -1, gasoline())
	require.ErrorAs(t, err, &outside)

	_, err = fluid.LineLoss([]fluid.Element{pipe(1e-3, 1, 1e-4)}, 1e-6, gasoline())
	require.ErrorAs(t, err, &outside)
	assert.Equal(t, "relative roughness", outside.Quantity)
}

func drawElement(t *rapid.T, i int) fluid.Element {
	bore := rapid.Float64Range(3e-3, 15e-3).Draw(t, "bore")
	switch rapid.SampledFrom([]fluid.ElementKind{fluid.Pipe, fluid.Minor, fluid.BoreChange, fluid.Orifice, fluid.SquareLaw}).Draw(t, "kind") {
	case fluid.Pipe:
		return fluid.Element{Kind: fluid.Pipe, Bore: bore, Length: rapid.Float64Range(0, 8).Draw(t, "length"),
			Roughness: rapid.Float64Range(0, 1e-4).Draw(t, "roughness"), Rise: rapid.Float64Range(-1, 1).Draw(t, "rise")}
	case fluid.Minor:
		fittings := fluid.Fittings()
		return fluid.Element{Kind: fluid.Minor, Bore: bore, Count: rapid.IntRange(1, 6).Draw(t, "count"),
			Coefficient: fittings[rapid.IntRange(0, len(fittings)-1).Draw(t, "fitting")].Coefficient}
	case fluid.BoreChange:
		return fluid.Element{Kind: fluid.BoreChange, Bore: bore, BoreAfter: rapid.Float64Range(3e-3, 15e-3).Draw(t, "after")}
	case fluid.Orifice:
		return fluid.Element{Kind: fluid.Orifice, Hole: rapid.Float64Range(1e-3, 6e-3).Draw(t, "hole"), Discharge: 0.62}
	default:
		return fluid.Element{Kind: fluid.SquareLaw, RatedDrop: 5e3, RatedFlow: 5e-5, RatedDensity: 745}
	}
}

func TestLineLossNeverFallsWithFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "elements")
		line := make([]fluid.Element, n)
		for i := range line {
			line[i] = drawElement(t, i)
		}
		liquid := fluid.Liquid{Density: rapid.Float64Range(650, 850).Draw(t, "density"),
			Viscosity: rapid.Float64Range(0.3e-6, 4e-6).Draw(t, "viscosity")}
		less := rapid.Float64Range(0, 2e-4).Draw(t, "less")
		more := less + rapid.Float64Range(0, 2e-4).Draw(t, "step")
		a, err := fluid.LineLoss(line, less, liquid)
		require.NoError(t, err)
		b, err := fluid.LineLoss(line, more, liquid)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, b.Friction, a.Friction*(1-1e-12))
		assert.InDelta(t, a.Static, b.Static, 1e-9)
		assert.InDelta(t, a.Friction+a.Static, a.Total, 1e-9)
	})
}

func TestPipeLossRisesWithLengthAndFallsWithBore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(3e-3, 12e-3).Draw(t, "bore")
		wider := bore * rapid.Float64Range(1.02, 1.5).Draw(t, "wider")
		length := rapid.Float64Range(0.1, 8).Draw(t, "length")
		flow := rapid.Float64Range(1e-7, 2e-4).Draw(t, "flow")
		loss := func(bore, length float64) float64 {
			drop, err := fluid.LineLoss([]fluid.Element{pipe(bore, length, 1.5e-6)}, flow, gasoline())
			require.NoError(t, err)
			return drop.Total
		}
		assert.Greater(t, loss(bore, length*1.1), loss(bore, length))
		assert.Less(t, loss(wider, length), loss(bore, length))
	})
}

func TestLossIsZeroAtRestAndSmoothNearIt(t *testing.T) {
	elbow, err := fluid.FittingOf("elbow_90")
	require.NoError(t, err)
	line := []fluid.Element{pipe(8e-3, 3, 1.5e-6), {Kind: fluid.Minor, Bore: 8e-3, Coefficient: elbow.Coefficient}}
	for _, flow := range []float64{0, 1e-300, 1e-30, 1e-15} {
		drop, err := fluid.LineLoss(line, flow, gasoline())
		require.NoError(t, err)
		assert.InDelta(t, 0, drop.Total, 1e-6)
	}
	// On either side of Reynolds 1 the two forms of laminar loss agree.
	at := func(re float64) float64 {
		drop, err := fluid.LineLoss(line[:1], re*0.6e-6*3.14159265*8e-3/4, gasoline())
		require.NoError(t, err)
		return drop.Total / re
	}
	assert.InEpsilon(t, at(0.999999), at(1.000001), 1e-6)
}

// A flow against the arrow is no flow these formulas know: every kind of element refuses it.
func TestEveryElementRefusesAFlowBackwards(t *testing.T) {
	elbow, err := fluid.FittingOf("elbow_90")
	require.NoError(t, err)
	for _, e := range []fluid.Element{
		pipe(8e-3, 3, 1.5e-6), {Kind: fluid.Minor, Bore: 8e-3, Coefficient: elbow.Coefficient}, {Kind: fluid.BoreChange, Bore: 8e-3, BoreAfter: 6e-3},
		{Kind: fluid.Orifice, Hole: 2e-3, Discharge: 0.61}, {Kind: fluid.SquareLaw, RatedDrop: 1e4, RatedFlow: 1e-4, RatedDensity: 745},
	} {
		_, err := fluid.LineLoss([]fluid.Element{e}, 1e-5, gasoline())
		require.NoError(t, err, "%s", e.Kind)
		_, err = fluid.LineLoss([]fluid.Element{e}, -1e-5, gasoline())
		require.Error(t, err, "%s", e.Kind)
	}
}
