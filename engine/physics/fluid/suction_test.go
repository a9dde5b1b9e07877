package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
)

// Hydrostatics by hand: 740 kg/m3 lifted 0.3 m takes 740 x 9.80665 x 0.3 = 2177 Pa, the line 1000 Pa.
func TestInletPressure(t *testing.T) {
	inlet, err := fluid.InletPressure(101325, 740, 0, 0)
	require.NoError(t, err)
	assert.Equal(t, 101325.0, inlet)
	inlet, err = fluid.InletPressure(101325, 740, -0.3, 1e3)
	require.NoError(t, err)
	assert.InDelta(t, 98148, inlet, 0.5)
	_, err = fluid.InletPressure(0, 740, 0, 0)
	require.Error(t, err)
	_, err = fluid.InletPressure(101325, 740, 0, -1)
	require.Error(t, err)
}
