package fuel_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fuel"
)

func TestCombustionAgainstWorkedExamples(t *testing.T) {
	ratio, err := fuel.AirFuelFromComposition(0.84, 0.16, 0, 0.23)
	require.NoError(t, err)
	assert.InEpsilon(t, 15.30, ratio, 1e-3, "heptane: Rajput, Internal Combustion Engines, example 7.4")

	ratio, err = fuel.AirFuelFromComposition(0.522, 0.131, 0.347, 0.232)
	require.NoError(t, err)
	assert.InDelta(t, fuel.EthanolAirFuel, ratio, 0.03, "ethanol: Alternative Fuels Data Center, composition and ratio 9.0")

	lower, err := fuel.LowerHeatingValue(46.9e6, 0.144, 2.3044e6)
	require.NoError(t, err)
	assert.InEpsilon(t, 43.913e6, lower, 5e-4, "Mathur and Sharma, Internal Combustion Engines, example 8.1")
}

func TestCombustionRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := fuel.AirFuelFromComposition(0.84, 0.2, 0, 0.23)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.AirFuelFromComposition(0, 0, 1, 0.23)
	require.ErrorAs(t, err, &outside)
	_, err = fuel.LowerHeatingValue(0, 0.1, 2.3e6)
	require.ErrorAs(t, err, &outside)
}
