package circuit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/circuit"
)

func TestShortCircuitEndByClass(t *testing.T) {
	for class, end := range map[float64]float64{60: 160, 85: 160, 105: 160, 125: 250, 175: 250, 180: 350, 250: 350} {
		have, err := circuit.ShortCircuitEnd(circuit.CelsiusToKelvin(class))
		require.NoError(t, err)
		assert.InDelta(t, circuit.CelsiusToKelvin(end), have, 1e-9, class)
	}
	_, err := circuit.ShortCircuitEnd(circuit.CelsiusToKelvin(40))
	require.Error(t, err)
	// 226 sqrt(ln(584.5/484.5)) = 97.9: the hottest class a wire may state has a k too.
	share, err := circuit.ShortCircuitHeating(97.9*97.9, 1e-6, circuit.CelsiusToKelvin(250), false)
	require.NoError(t, err)
	assert.InDelta(t, 1, share, 2e-3)
}

// BS 7671 table 43.1 gives k = 115 for 70 degC thermoplastic copper cable, so 1
// mm2 takes 115^2 = 13 225 A2 s. The class 75 here starts 5 K hotter: k = 226
// sqrt(ln(394.5/309.5)) = 111.3.
func TestShortCircuitHeatingIsOneAtTheLimit(t *testing.T) {
	share, err := circuit.ShortCircuitHeating(111.3*111.3, 1e-6, circuit.CelsiusToKelvin(75), false)
	require.NoError(t, err)
	assert.InDelta(t, 1, share, 2e-3)
	_, err = circuit.ShortCircuitHeating(-1, 1e-6, circuit.CelsiusToKelvin(75), false)
	require.Error(t, err)
}

// IEC 60364-5-54 table A.54.4: k of aluminium is 76 for thermoplastic insulation, 70 to 160 degC, and 94 for cross-linked,
// 90 to 250 degC, to whole numbers.
func TestAluminiumTakesLessInAShort(t *testing.T) {
	for _, row := range []struct{ start, end, k float64 }{{70, 160, 76}, {90, 250, 94}} {
		k, err := circuit.AdiabaticAluminium(circuit.CelsiusToKelvin(row.start), circuit.CelsiusToKelvin(row.end))
		require.NoError(t, err)
		assert.InDelta(t, row.k, k/1e6, 0.5)
	}
	copper, err := circuit.ShortCircuitHeating(5000, 1e-6, circuit.CelsiusToKelvin(90), false)
	require.NoError(t, err)
	clad, err := circuit.ShortCircuitHeating(5000, 1e-6, circuit.CelsiusToKelvin(90), true)
	require.NoError(t, err)
	// (226/148)^2 = 2.33, the logarithms nearly alike.
	assert.InEpsilon(t, 2.33, clad/copper, 0.02)
}
