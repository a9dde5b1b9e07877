package fuel_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fuel"
)

const zero = 273.15

// Source: Perry's Chemical Engineers' Handbook, 8th ed., tables 2-32 and 2-313,
// evaluated by an independent program.
func TestEthanolAgainstPerry(t *testing.T) {
	for _, c := range []struct{ celsius, rho, mu float64 }{
		{-20, 824.05, 2.825}, {0, 807.55, 1.788}, {15, 794.71, 1.309}, {20, 790.33, 1.186},
		{25, 785.90, 1.077}, {40, 772.27, 0.818}, {60, 753.23, 0.584},
	} {
		rho, err := fuel.EthanolLiquidDensity(zero + c.celsius)
		require.NoError(t, err)
		assert.InEpsilon(t, c.rho, rho, 5e-5)
		mu, err := fuel.EthanolDynamicViscosity(zero + c.celsius)
		require.NoError(t, err)
		assert.InEpsilon(t, c.mu*1e-3, mu, 1e-3)
	}
}

// Source: US Department of Energy, Alternative Fuels Data Center, fuel property
// comparison: 1.50 and 3.435 mm2/s; gasoline 0.5-0.6 and 0.8-1.0.
func TestViscosityAgainstTheDepartmentOfEnergy(t *testing.T) {
	for celsius, want := range map[float64]float64{20: 1.50, -20: 3.435} {
		nu, err := fuel.Viscosity(1, zero+celsius)
		require.NoError(t, err)
		assert.InEpsilon(t, want*1e-6, nu, 0.01)
	}
	for _, c := range []struct{ celsius, low, high float64 }{{20, 0.5, 0.6}, {-20, 0.8, 1.0}} {
		nu, err := fuel.GasolineViscosity(zero + c.celsius)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, nu, c.low*1e-6)
		assert.LessOrEqual(t, nu, c.high*1e-6)
	}
}

// Computed: gasoline of 745 kg/m3 at 15 degC with 9.5e-4 per K, ethanol by Perry,
// volumes added; gasoline viscosity from memory, logarithms weighted by volume.
func TestBlendsAgainstTemperature(t *testing.T) {
	for _, c := range []struct{ celsius, rho0, rho10, rho85, nu0, nu10, nu85 float64 }{
		{-20, 769.8, 775.2, 815.9, 0.90, 1.03, 2.80},
		{0, 755.6, 760.8, 799.8, 0.70, 0.79, 1.86},
		{15, 745.0, 750.0, 787.3, 0.61, 0.67, 1.42},
		{20, 741.5, 746.3, 783.0, 0.58, 0.64, 1.30},
		{40, 727.3, 731.8, 765.5, 0.48, 0.52, 0.94},
		{60, 713.2, 717.2, 747.2, 0.42, 0.45, 0.71},
	} {
		for fraction, want := range map[float64][2]float64{0: {c.rho0, c.nu0}, 0.10: {c.rho10, c.nu10}, 0.85: {c.rho85, c.nu85}} {
			rho, err := fuel.Density(fuel.GasolineDensity, fraction, zero+c.celsius)
			require.NoError(t, err)
			assert.InDelta(t, want[0], rho, 0.15)
			nu, err := fuel.Viscosity(fraction, zero+c.celsius)
			require.NoError(t, err)
			assert.InDelta(t, want[1]*1e-6, nu, 0.007e-6)
		}
	}
}

func TestLiquidRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	for _, celsius := range []float64{-20.1, 80.1} {
		_, err := fuel.Density(745, 0, zero+celsius)
		require.ErrorAs(t, err, &outside)
		_, err = fuel.Viscosity(0, zero+celsius)
		require.ErrorAs(t, err, &outside)
	}
	_, err := fuel.EthanolLiquidDensity(514)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.EthanolDynamicViscosity(199)
	require.ErrorAs(t, err, &outside)
}

func TestLiquidThinsAndLightensWithHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1).Draw(t, "ethanol")
		a := rapid.Float64Range(fuel.MinTemperature, fuel.MaxTemperature-0.5).Draw(t, "temperature")
		b := rapid.Float64Range(a+0.1, fuel.MaxTemperature).Draw(t, "hotter")
		coldRho, err := fuel.Density(745, v, a)
		require.NoError(t, err)
		hotRho, err := fuel.Density(745, v, b)
		require.NoError(t, err)
		assert.Less(t, hotRho, coldRho)
		coldNu, err := fuel.Viscosity(v, a)
		require.NoError(t, err)
		hotNu, err := fuel.Viscosity(v, b)
		require.NoError(t, err)
		assert.Less(t, hotNu, coldNu)
	})
}
