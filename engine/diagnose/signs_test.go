package diagnose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// Signs sort what the readings leave, and name what no reading is worked out of: fuel that foams only when hot is vapour, foam that is
// there cold too is air (practice), and a brown terminal is not the relay's contact.
func TestSignsSortWhatReadingsLeave(t *testing.T) {
	seen := func(text string, signs ...string) []string {
		d, err := schema.Load("d.yaml", []byte("plumbline: 1\ntitle: a van\npump: {place: frame_rail}\n"+text))
		require.NoError(t, err)
		x := diagnose.Run(shipped.Library(t), d, engine.Options{Patterns: shipped.Patterns(t)}, signs...)
		require.True(t, x.Explained)
		return leftOf(x)
	}
	assert.Equal(t, "trouble/signs.vapour-lock", seen("", "only-hot", "can-foams")[0])
	assert.Equal(t, "trouble/signs.air-in-suction", seen("", "bubbles-cold", "can-foams")[0])
	volts := "measured: {idle_battery_voltage: 14.1 V, pump_voltage: 12.1 V}\n"
	assert.Contains(t, seen(volts), "trouble/electric.pump-relay-contact")
	left := seen(volts, "terminal-brown")
	assert.NotContains(t, left[:3], "trouble/electric.pump-relay-contact")
	assert.Equal(t, "trouble/electric.pump-relay-contact", seen(volts, "only-hot")[0])
	// A sign does not talk readings away.
	assert.NotContains(t, seen(volts, "bubbles-cold"), "trouble/signs.air-in-suction")
}
