package fluid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
)

func TestChangesOfBoreAgainstPublishedFigures(t *testing.T) {
	k, err := fluid.SuddenContraction(2, 3)
	require.NoError(t, err)
	assert.InDelta(t, 0.2778, k, 1e-4, "Crane TP-410: 3 in to 2 in")

	k, err = fluid.SuddenExpansion(0.5, 1, 1)
	require.NoError(t, err)
	assert.InDelta(t, 0.5625, k, 1e-12, "Crane TP-410: 0.5 to 1")

	// A gradual expansion: the book states K = 0.133 and alpha = 1.06, so only
	// the pressures are checked. Cengel and Cimbala, example 8-6: loss 0.33 m,
	// outlet pressure 168 kPa (density 1000, g 9.81).
	loss, err := fluid.MinorLoss(0.133, 1000, 7)
	require.NoError(t, err)
	assert.InDelta(t, 0.33, loss/(1000*9.81), 0.005)
	v2 := 7 * 36.0 / 81
	outlet := 150e3 + 1.06*1000*(49-v2*v2)/2 - loss
	assert.InEpsilon(t, 168e3, outlet, 5e-3)

	_, err = fluid.SuddenExpansion(2, 1, 1)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
	_, err = fluid.SuddenContraction(0, 1)
	require.ErrorAs(t, err, &outside)
}

func TestMinorLossAgainstWorkedExamples(t *testing.T) {
	const water = 62.3 * 0.45359237 / (foot * foot * foot)
	for _, c := range []struct {
		k, want, relative float64
		source            string
	}{
		{1.5, 1.70, 5e-3, "de Nevers, example 6.10"},
		{27.56, 31, 0.016, "de Nevers, example 6.12, printed to two figures"},
	} {
		loss, err := fluid.MinorLoss(c.k, water, 13*foot)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want*psi, loss, c.relative, c.source)
	}
}

// Gasoline drains through 100 m of 100 mm pipe by a head of 10 m, Fanning factor
// 0.005, exit loss ignored: 3.13 m/s. Source: de Nevers, example 6.5.
func TestGravityFlow(t *testing.T) {
	head, err := fluid.HydrostaticHead(720, 10)
	require.NoError(t, err)
	loss, err := fluid.DarcyLoss(4*0.005, 100, 0.1, 720, 3.13)
	require.NoError(t, err)
	assert.InEpsilon(t, head, loss, 5e-3)
}

func TestHydrostaticHead(t *testing.T) {
	for height, want := range map[float64]float64{0.3: 2.19e3, 1: 7.31e3, -1: -7.31e3} {
		got, err := fluid.HydrostaticHead(745, height)
		require.NoError(t, err)
		assert.InEpsilon(t, want, got, 2e-3)
	}
}

func TestTwoKAgainstPublishedFigures(t *testing.T) {
	k, err := fluid.TwoK(1500, 4).At(1e4, 2*inch)
	require.NoError(t, err)
	assert.InDelta(t, 6.15, k, 1e-9, "tests of the open-source library fluids, globe valve")
	k, err = fluid.TwoK(900, 4).At(1e4, 2*inch)
	require.NoError(t, err)
	assert.InDelta(t, 6.09, k, 1e-9, "tests of the open-source library fluids")

	elbow, err := fluid.FittingOf("elbow_90")
	require.NoError(t, err)
	k, err = elbow.Coefficient.At(1500, 0.319*inch)
	require.NoError(t, err)
	assert.InDelta(t, 2.19, k, 0.01, "arithmetic on Hooper's constants for a screwed elbow")

	_, err = elbow.Coefficient.At(0, 0.008)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

// Source: Munson, Fundamentals of Fluid Mechanics, table 8.2, threaded column;
// Crane TP-410 for entrances.
func TestFittingTable(t *testing.T) {
	for kind, want := range map[string]float64{
		"union_straight": 0.08, "elbow_90": 1.5, "elbow_90_long": 0.7, "elbow_45": 0.4, "return_bend_180": 1.5,
		"tee_run": 0.9, "tee_branch": 2.0, "valve_ball": 0.05, "valve_gate": 0.15, "valve_check_swing": 2,
		"entrance_flush": 0.5, "entrance_projecting": 0.78, "entrance_rounded": 0.04, "exit": 1,
	} {
		f, err := fluid.FittingOf(kind)
		require.NoError(t, err)
		assert.Equal(t, want, f.K, kind)
	}
	_, err := fluid.FittingOf("elbow")
	assert.ErrorContains(t, err, `no "elbow": write one of union_straight`)
}

func TestWallTable(t *testing.T) {
	for material, want := range map[string]float64{
		"drawn_tube": 1.5e-6, "steel_welded": 4.5e-5, "steel_galvanized": 1.5e-4, "cast_iron": 2.6e-4, "rubber_smooth": 1e-5,
	} {
		wall, err := fluid.WallOf(material)
		require.NoError(t, err)
		assert.Equal(t, want, wall.Roughness, "White, Fluid Mechanics, table 6.1 (from memory) and handbook tables")
	}
	_, err := fluid.WallOf("braid")
	var unknown *domain.UnknownName
	require.ErrorAs(t, err, &unknown)
}

// Carburettor examples are orifices. Sources: Rajput, Internal Combustion
// Engines, examples 11.1 to 11.4.
func TestOrificeAgainstWorkedExamples(t *testing.T) {
	swept := math.Pi / 4 * 0.1 * 0.1 * 0.12 * 4
	flow := swept * 0.75 * 1800 / 120
	loss, err := fluid.OrificeLoss(flow, 28e-3, 0.8, 1.2)
	require.NoError(t, err)
	assert.InEpsilon(t, 4447.6, loss, 1e-3, "venturi depression, example 11.1")

	// Fuel through a jet, lifted over the nozzle lip (g 9.81): kg/h, jet diameter
	// in m, Cd, lip in m, density, and the depression at the throat.
	for _, c := range []struct {
		fuel, jet, discharge, lip, density, want, relative float64
		source                                             string
	}{
		{5, math.Sqrt(4 * 2e-6 / math.Pi), 0.8, 5e-3, 750, 539.13, 1e-3, "example 11.2, jet of 2 mm2"},
		{7.2, 1.32e-3, 0.7, 4.2e-3, 750, 2920, 0.02, "example 11.3; the loss goes with the 4th power of the rounded 1.32 mm"},
		{5.45, math.Sqrt(4 * 2e-6 / math.Pi), 0.75, 6.35e-3, 720, 0.0767 * 9810, 2e-3, "example 11.4, 7.67 cm of water"},
	} {
		loss, err := fluid.OrificeLoss(c.fuel/3600/c.density, c.jet, c.discharge, c.density)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, loss+c.density*9.81*c.lip, c.relative, c.source)
	}
}

func TestSquareLawFollowsFlowAndDensity(t *testing.T) {
	drop, err := fluid.SquareLawLoss(5e3, 1e-4, 745, 2e-4, 745)
	require.NoError(t, err)
	assert.InDelta(t, 20e3, drop, 1e-9)
	drop, err = fluid.SquareLawLoss(5e3, 1e-4, 1000, 1e-4, 745)
	require.NoError(t, err)
	assert.InDelta(t, 3725, drop, 1e-9)
	_, err = fluid.SquareLawLoss(5e3, 0, 745, 1e-4, 745)
	require.Error(t, err)
}
