package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// IEC 60228, class 5, maximum resistance at 20 degC of 2.5 mm2: 7.98 ohm/km plain,
// 8.21 ohm/km tinned; of 0.5 mm2 39.0 and 40.1. Copper-clad aluminium has no row.
func TestTinnedCopperResistsMore(t *testing.T) {
	for _, c := range []struct {
		conductor, size string
		want            float64 // mohm, of 4 m
	}{
		{"stranded_copper", "2.5 mm2", 31.92}, {"tinned_stranded_copper", "2.5 mm2", 32.84},
		{"stranded_copper", "0.5 mm2", 156.0}, {"tinned_stranded_copper", "0.5 mm2", 160.4},
		{"solid_copper", "2.5 mm2", 31.92},
	} {
		d := load(t, "circuits: [{feed_wires: [{size: "+c.size+", length: 4 m, ambient: 20 degC, conductor: "+c.conductor+"}]}]\n")
		got := NewSession(d, Options{}).On(&d.Circuits.Items[0].FeedWires.Items[0], NoPoint, "resistance")
		assert.InDelta(t, c.want, in(t, got, "mohm"), 1e-6, "%s, %s", c.conductor, c.size)
	}
	d := load(t, "circuits: [{feed_wires: [{size: 2.5 mm2, length: 4 m, ambient: 20 degC, conductor: copper_clad_aluminium}]}]\n")
	r := NewSession(d, Options{}).On(&d.Circuits.Items[0].FeedWires.Items[0], NoPoint, "resistance")
	require.False(t, r.Known())
	assert.Contains(t, r.Reason, "copper-clad aluminium")
}

// One pump is solved with its circuit; with two circuits nobody knows which feeds it, with none there is nothing to solve.
func TestTheOnePumpCircuit(t *testing.T) {
	const fan = "load: {kind: motor, current: 16 A, rated_voltage: 13.5 V, runs_at: [idle]}"
	two := loaded(t, variant(t, fan, "load: {kind: fuel_pump, lowest_voltage: 11 V, runs_at: [idle]}"))
	for _, p := range Points() {
		r := two.At(p, "pump_flow")
		require.False(t, r.Known(), "%s", p)
		assert.Equal(t, "design.circuits[1] and design.circuits[4] both supply a fuel pump: one is expected", r.Reason)
	}
	const pump = "load: {kind: fuel_pump, lowest_voltage: 11 V,"
	none := loaded(t, variant(t, pump, "load: {kind: motor, current: 6 A, rated_voltage: 13.5 V,"))
	r := none.At(Idle, "pump_flow")
	require.False(t, r.Known())
	assert.Contains(t, r.Reason, "no circuit has a load of the kind fuel_pump")
	assert.True(t, loaded(t, variant(t)).At(Idle, "pump_flow").Known())
}
