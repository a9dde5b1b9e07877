package fuel_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fuel"
)

// Computed by ideal mixing from the gasoline and ethanol columns of the US
// Department of Energy, Alternative Fuels Data Center, fuel property comparison.
func TestBlendTable(t *testing.T) {
	cases := []struct {
		name                                                         string
		fraction, mass, density, airFuel, heat, volume, massAtEnergy float64
	}{
		{"E0", 0, 0, 745, 14.70, 43.44e6, 1, 1},
		{"E10", 0.10, 0.1059, 749.9, 14.10, 41.69e6, 1.0355, 1.0419},
		{"E15", 0.15, 0.1583, 752.3, 13.80, 40.83e6, 1.0542, 1.0639},
		{"E85", 0.85, 0.8579, 786.7, 9.81, 29.29e6, 1.4107, 1.4831},
		{"E100", 1, 1, 794, 9.00, 26.95e6, 1.5209, 1.6121},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w, err := fuel.EthanolMassFraction(c.fraction, fuel.GasolineDensity, fuel.EthanolDensity)
			require.NoError(t, err)
			assert.InDelta(t, c.mass, w, 1e-4)
			airFuel, err := fuel.StoichiometricAirFuel(w)
			require.NoError(t, err)
			assert.InEpsilon(t, c.airFuel, airFuel, 2e-3)
			heat, err := fuel.HeatingValue(w)
			require.NoError(t, err)
			assert.InEpsilon(t, c.heat, heat, 5e-4)
			assert.InEpsilon(t, c.massAtEnergy, fuel.GasolineHeatingValue/heat, 1e-4)
			mean := (1-c.fraction)*fuel.GasolineDensity + c.fraction*fuel.EthanolDensity
			assert.InEpsilon(t, c.density, mean, 1e-4)
		})
	}
}

// Arithmetic with ethanol at 789 kg/m3 (20 degC): mass fraction, ratio, extra
// volume at equal lambda. At the same lambda E85 needs 1.498, E10 1.043 of the
// mass.
func TestEqualLambda(t *testing.T) {
	for _, c := range []struct{ fraction, mass, airFuel, extra float64 }{
		{0.10, 0.1053, 14.10, 0.036}, {0.85, 0.8572, 9.81, 0.426},
	} {
		w, err := fuel.EthanolMassFraction(c.fraction, 745, 789)
		require.NoError(t, err)
		assert.InDelta(t, c.mass, w, 1e-4)
		airFuel, err := fuel.StoichiometricAirFuel(w)
		require.NoError(t, err)
		assert.InDelta(t, c.airFuel, airFuel, 0.01)
	}
	for fraction, want := range map[float64]float64{0.15: 13.80, 0.30: 12.92} {
		w, err := fuel.EthanolMassFraction(fraction, 745, 789)
		require.NoError(t, err)
		airFuel, err := fuel.StoichiometricAirFuel(w)
		require.NoError(t, err)
		assert.InDelta(t, want, airFuel, 0.01)
	}
}

func TestWeightingByVolumeWouldBeWrong(t *testing.T) {
	w, err := fuel.EthanolMassFraction(0.85, fuel.GasolineDensity, fuel.EthanolDensity)
	require.NoError(t, err)
	byMass, err := fuel.StoichiometricAirFuel(w)
	require.NoError(t, err)
	byVolume := 0.15*14.7 + 0.85*9.0
	assert.InDelta(t, 9.855, byVolume, 1e-9)
	assert.Greater(t, byVolume/byMass, 1.004)
}

func TestBlendRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := fuel.EthanolMassFraction(1.01, 745, 794)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.EthanolMassFraction(0.1, 7.45, 794)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.HeatingValue(2)
	require.ErrorAs(t, err, &outside)
}
