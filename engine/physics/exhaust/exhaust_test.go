package exhaust_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/exhaust"
)

const zero = 273.15

// Arithmetic on the ideal gas and a mass balance: 5.7355 L, one pipe of 57 mm bore
// 0.60 m long behind 3.0 L of manifold.
func TestTransportThroughOnePipe(t *testing.T) {
	pipe, err := exhaust.PipeVolume(57e-3, 0.60)
	require.NoError(t, err)
	volume := 3.0e-3 + pipe
	assert.InEpsilon(t, 4.531e-3, volume, 1e-3)

	for _, c := range []struct {
		name                                              string
		rpm, manifold, ve, charge, airFuel, hot, pressure float64
		air, exhaust, flow, delay                         float64
	}{
		{"idle", 750, 38e3, 0.55, 40, 14.7, 350, 101.3e3, 8.335e-3, 8.902e-3, 15.72e-3, 0.288},
		{"cruise", 2200, 55e3, 0.80, 35, 14.7, 500, 103e3, 52.3e-3, 55.9e-3, 120.4e-3, 0.0376},
		{"full load", 5000, 98e3, 0.85, 35, 12.8, 800, 115e3, 225.1e-3, 242.6e-3, 650e-3, 0.0070},
	} {
		t.Run(c.name, func(t *testing.T) {
			// The ideal gas at the manifold: p Vd N VE/(2 R T).
			intake := c.manifold * 5.7355e-3 * c.rpm / 60 * c.ve / (2 * 287.05 * (zero + c.charge))
			assert.InEpsilon(t, c.air, intake, 0.01)
			m, err := exhaust.MassFlow(intake, c.airFuel)
			require.NoError(t, err)
			assert.InEpsilon(t, c.exhaust, m, 0.01)
			q, err := exhaust.VolumeFlow(m, zero+c.hot, c.pressure)
			require.NoError(t, err)
			assert.InEpsilon(t, c.flow, q, 0.01)
			delay, err := exhaust.TransportDelay(volume, q)
			require.NoError(t, err)
			assert.InEpsilon(t, c.delay, delay, 0.01)
		})
	}
}

func TestExhaustRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := exhaust.MassFlow(1, 0.5)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.VolumeFlow(1, 100, 1e5)
	require.ErrorAs(t, err, &outside)
	_, err = exhaust.TransportDelay(1, 0)
	require.ErrorAs(t, err, &outside)
}
