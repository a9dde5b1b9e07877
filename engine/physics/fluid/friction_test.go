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

const (
	psi  = 6894.757
	inch = 0.0254
	foot = 0.3048
)

// smooth is the relative roughness of the smooth-pipe line of the chart.
const smooth = 0.0

func TestFrictionFactorsAgainstPublishedFigures(t *testing.T) {
	cases := []struct {
		name      string
		factor    func(re, roughness float64) (float64, error)
		re        float64
		roughness float64
		want      float64
		relative  float64
		source    string
	}{
		{"colebrook exact", fluid.Colebrook, 1e5, 1e-4, 0.0185138661, 1e-8, "tests of the open-source library fluids, exact Colebrook"},
		{"colebrook smooth", fluid.Colebrook, 1e5, smooth, 0.0179898, 1e-5, "tests of the open-source library fluids"},
		{"churchill", fluid.FrictionFactorChurchill, 1e5, 1e-4, 0.0184626246, 1e-8, "tests of the open-source library fluids, Churchill 1977"},
		{"stainless, US units", fluid.Colebrook, 126400, 4.2e-5, 0.0174, 3e-3, "Cengel and Cimbala, example 8-3; f from memory"},
		{"stainless, SI", fluid.Colebrook, 134100, 4.0e-5, 0.0172, 3e-3, "Cengel and Cimbala, example 8-3"},
		{"cast iron", fluid.Colebrook, 117000, 0.0052, 0.0315, 2e-3, "Cengel and Cimbala, example 8-8"},
		{"oil in cast iron, chart", fluid.Colebrook, 128000, 0.0013, 0.0225, 0.015, "White, Fluid Mechanics, example 6.7"},
		{"asphalted cast iron, chart", fluid.Colebrook, 272700, 0.0008, 0.0199, 0.01, "White, Fluid Mechanics, example 6.6"},
		{"air in drawn tube, chart", fluid.Colebrook, 13743, 0.000375, 0.028, 0.045, "Munson, Fundamentals of Fluid Mechanics, example 8.5"},
		{"copper tube, chart", fluid.Colebrook, 45000, 8e-5, 0.0215, 0.01, "Munson, example 8.8"},
		{"fuel oil in steel, chart", fluid.Colebrook, 68029, 0.000871, 0.0230, 0.015, "Crane TP-410, example 7.13"},
		{"smooth pipe", fluid.Colebrook, 100600, smooth, 0.0179, 5e-3, "Crane TP-410, example 7.1"},
		{"four times fanning 0.00469", fluid.Colebrook, 1e5, 2e-4, 4 * 0.00469, 0.015, "de Nevers, Fluid Mechanics for Chemical Engineers, example 6.3"},
		{"rough pipe, chart", fluid.Colebrook, 40000, 0.01, 0.04, 0.02, "DOE-HDBK-1012, fluid flow"},
		{"smooth 1e4", fluid.Colebrook, 1e4, smooth, 0.0309, 2e-3, "White, table of smooth-pipe f, from memory"},
		{"smooth 1e6", fluid.Colebrook, 1e6, smooth, 0.0116, 6e-3, "White, table of smooth-pipe f, from memory"},
		{"smooth 1e8", fluid.Colebrook, 1e8, smooth, 0.0059, 8e-3, "White, table of smooth-pipe f, from memory"},
		{"1e6 rough 0.001", fluid.Colebrook, 1e6, 1e-3, 0.0199, 3e-3, "Cengel and Cimbala, table at Re = 1e6, from memory"},
		{"1e6 rough 0.05", fluid.Colebrook, 1e6, 0.05, 0.0716, 2e-3, "Cengel and Cimbala, table at Re = 1e6, from memory"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.factor(c.re, c.roughness)
			require.NoError(t, err)
			assert.InEpsilon(t, c.want, got, c.relative, c.source)
		})
	}
}

// The values are Colebrook's equation iterated independently, as printed to
// five decimals; Churchill's formula must stay within 3.5 per cent of it.
func TestTurbulentFormulasOverTheMoodyChart(t *testing.T) {
	reynolds := []float64{4e3, 1e4, 2.1e4, 5e4, 1e5, 1e6, 1e7, 1e8}
	grid := []struct {
		roughness float64
		factor    []float64
	}{
		{0, []float64{.03991, .03088, .02558, .02089, .01799, .01165, .00810, .00594}},
		{1e-6, []float64{.03991, .03088, .02558, .02090, .01800, .01167, .00821, .00643}},
		{1e-5, []float64{.03992, .03090, .02560, .02093, .01804, .01187, .00900, .00819}},
		{5e-5, []float64{.03996, .03096, .02569, .02107, .01826, .01265, .01086, .01058}},
		{1e-4, []float64{.04001, .03104, .02580, .02125, .01851, .01344, .01217, .01200}},
		{2e-4, []float64{.04011, .03119, .02602, .02159, .01901, .01468, .01384, .01374}},
		{5e-4, []float64{.04041, .03164, .02667, .02256, .02033, .01721, .01675, .01670}},
		{1e-3, []float64{.04091, .03238, .02769, .02402, .02217, .01994, .01967, .01964}},
		{2e-3, []float64{.04189, .03379, .02956, .02651, .02511, .02361, .02344, .02342}},
		{5e-3, []float64{.04471, .03763, .03430, .03217, .03131, .03047, .03038, .03037}},
		{0.01, []float64{.04908, .04313, .04058, .03908, .03850, .03796, .03791, .03790}},
		{0.02, []float64{.05696, .05227, .05044, .04941, .04903, .04868, .04864, .04864}},
		{0.05, []float64{.07699, .07380, .07264, .07201, .07178, .07157, .07155, .07155}},
	}
	for _, row := range grid {
		for i, re := range reynolds {
			exact, err := fluid.Colebrook(re, row.roughness)
			require.NoError(t, err)
			assert.InDelta(t, row.factor[i], exact, 6e-6, "Re %g e/D %g", re, row.roughness)

			churchill, err := fluid.FrictionFactorChurchill(re, row.roughness)
			require.NoError(t, err)
			assert.InEpsilon(t, exact, churchill, 0.035, "Churchill Re %g e/D %g", re, row.roughness)

		}
	}
}

// Churchill's formula evaluated independently; laminar rows are 64/Re.
func TestChurchillThroughTransition(t *testing.T) {
	for _, c := range []struct{ re, roughness, want float64 }{
		{1e-9, 0, 6.4e10}, {10, 0, 6.400}, {100, 0, 0.6400}, {1000, 0, 0.06400}, {1777, 0, 0.03602}, {2000, 0, 0.03204},
		{2300, 0, 0.03084}, {3000, 0, 0.04297}, {4000, 0, 0.04059},
		{1e4, 1e-3, 0.03269}, {1e5, 1e-3, 0.02234}, {5e4, 2e-3, 0.02677},
	} {
		got, err := fluid.FrictionFactorChurchill(c.re, c.roughness)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, got, 3e-4, "Re %g", c.re)
	}
}

func TestFrictionFactorsRefuseWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := fluid.Colebrook(3999, 0)
	require.ErrorAs(t, err, &outside)
	_, err = fluid.FrictionFactorChurchill(1.01e8, 0)
	require.ErrorAs(t, err, &outside)
	_, err = fluid.FrictionFactorChurchill(1e5, 0.051)
	require.ErrorAs(t, err, &outside)
	assert.Equal(t, "relative roughness", outside.Quantity)
	_, err = fluid.FrictionFactorChurchill(0, 0)
	require.ErrorAs(t, err, &outside)
}

// Whatever the flow and the wall, the factor meets Colebrook's own equation: White, Fluid Mechanics, eq. 6.48.
func TestColebrookConvergesOverItsWholeDomain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		re := rapid.Float64Range(4000, 1e8).Draw(t, "re")
		roughness := rapid.Float64Range(0, 0.05).Draw(t, "roughness")
		f, err := fluid.Colebrook(re, roughness)
		require.NoError(t, err)
		assert.InEpsilon(t, -2*math.Log10(roughness/3.7+2.51/(re*math.Sqrt(f))), 1/math.Sqrt(f), 1e-9)
	})
}

// The model's factor: Colebrook from Reynolds 4000 up (the open-source library fluids, exact Colebrook, as above),
// Churchill at 2500 and below, between the two without a jump; the loss, f Re^2, never falls with the flow.
func TestModelFrictionFactor(t *testing.T) {
	for _, c := range []struct{ re, roughness, want float64 }{
		{1e5, 1e-4, 0.0185138661}, {1e5, 0, 0.0179898}, {4e3, 0, .03991}, {4e3, 0.05, .07699}, {1e4, 1e-3, .03238}, {2.1e4, 0, .02558},
	} {
		f, err := fluid.FrictionFactor(c.re, c.roughness)
		require.NoError(t, err)
		assert.InDelta(t, c.want, f, 6e-6, "Re %g e/D %g", c.re, c.roughness)
	}
	for _, roughness := range []float64{0, 1e-4, 1e-3, 0.01, 0.05} {
		before := 0.0
		for re := 500.0; re < 12000; re *= 1.001 {
			f, err := fluid.FrictionFactor(re, roughness)
			require.NoError(t, err)
			churchill, err := fluid.FrictionFactorChurchill(re, roughness)
			require.NoError(t, err)
			if re <= 2500 {
				assert.Equal(t, churchill, f)
			} else {
				assert.InEpsilon(t, churchill, f, 0.035, "Re %g e/D %g", re, roughness)
			}
			if re >= 4000 {
				exact, err := fluid.Colebrook(re, roughness)
				require.NoError(t, err)
				assert.InEpsilon(t, exact, f, 1e-9)
			}
			assert.Greater(t, f*re*re, before, "Re %g e/D %g", re, roughness)
			before = f * re * re
		}
	}
	_, err := fluid.FrictionFactor(1e5, 0.06)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}
