package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// IEC 60228, class 5, maximum resistance at 20 degC of 2.5 mm2: 7.98 ohm/km plain,
// 8.21 ohm/km tinned; of 0.5 mm2 39.0 and 40.1. Copper-clad aluminium resists by 1/0.629 more
// (ASTM B566 class 10A): 31.92 mohm become 50.75.
func TestTinnedCopperResistsMore(t *testing.T) {
	for _, c := range []struct {
		conductor, size string
		want            float64 // mohm, of 4 m
	}{
		{"stranded_copper", "2.5 mm2", 31.92}, {"tinned_stranded_copper", "2.5 mm2", 32.84},
		{"stranded_copper", "0.5 mm2", 156.0}, {"tinned_stranded_copper", "0.5 mm2", 160.4},
		{"solid_copper", "2.5 mm2", 31.92}, {"copper_clad_aluminium", "2.5 mm2", 50.747},
	} {
		d := load(t, "circuits: [{feed_wires: [{size: "+c.size+", length: 4 m, ambient: 20 degC, conductor: "+c.conductor+"}]}]\n")
		got := NewSession(d, Options{}).On(&d.Circuits.Items[0].FeedWires.Items[0], NoPoint, "resistance")
		assert.InDelta(t, c.want, in(t, got, "mohm"), 1e-3, "%s, %s", c.conductor, c.size)
	}
}

// Two circuits that both supply the injection pump at a point leave nothing to be known there, wherever they stand in the list: nobody knows which one is meant.
func TestTwoPumpCircuitsAreTold(t *testing.T) {
	const pump = "load: {kind: fuel_pump, lowest_voltage: 11 V, "
	for replaced, want := range map[string]string{
		"load: {kind: resistive, current: 0.2 A, rated_voltage: 13.5 V, ":      "design.circuits[1].load.runs_at",
		"load: {kind: constant_current, current: 2 A, rated_voltage: 13.5 V, ": "design.circuits[2].load.runs_at",
		"load: {kind: motor, current: 16 A, rated_voltage: 13.5 V, ":           "design.circuits[4].load.runs_at",
	} {
		s := loaded(t, variant(t, replaced, pump))
		r := s.At(Idle, "pump_flow")
		require.False(t, r.Known())
		assert.Equal(t, want, r.Absent, "electrical/power.one-pump-circuit fails for it")
	}
}
