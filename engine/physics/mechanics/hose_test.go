package mechanics_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/mechanics"
)

// The ring of rubber has the same area before and after (conservation of
// volume at constant length, any text on elastomers): worked by hand for 3/8 in
// hose of 5/8 in outside on a 9.5 mm spigot and for 5/16 in hose forced on it.
func TestHoseOnSpigotKeepsItsVolume(t *testing.T) {
	for _, c := range []struct{ outside, bore, spigot, want float64 }{
		{15.9e-3, 9.5e-3, 9.5e-3, 15.9e-3},
		{14.5e-3, 8e-3, 9.5e-3, 15.3786e-3},
		{21e-3, 12.7e-3, 9.5e-3, 19.2343e-3},
	} {
		got, err := mechanics.HoseOnSpigot(c.outside, c.bore, c.spigot)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 1e-6)
		area := func(out, in float64) float64 { return math.Pi / 4 * (out*out - in*in) }
		assert.InEpsilon(t, area(c.outside, c.bore), area(got, c.spigot), 1e-9)
	}
	_, err := mechanics.HoseOnSpigot(8e-3, 9e-3, 9e-3)
	assert.ErrorContains(t, err, "bore of the hose")
}
