package derive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// IEC 60228, class 5, maximum resistance at 20 degC of 2.5 mm2: 7.98 ohm/km plain,
// 8.21 ohm/km tinned; of 0.5 mm2 39.0 and 40.1; of 50 mm2 0.386 and 0.393.
func TestTinnedCopperResistsMore(t *testing.T) {
	for _, c := range []struct {
		conductor, size string
		want            float64 // mohm, of 4 m
	}{
		{"stranded_copper", "2.5 mm2", 31.92}, {"tinned_stranded_copper", "2.5 mm2", 32.84},
		{"stranded_copper", "0.5 mm2", 156.0}, {"tinned_stranded_copper", "0.5 mm2", 160.4},
		{"solid_copper", "2.5 mm2", 31.92}, {"stranded_copper", "50 mm2", 1.544}, {"tinned_stranded_copper", "50 mm2", 1.572},
	} {
		d := load(t, "circuits: [{feed_wires: [{size: "+c.size+", length: 4 m, ambient: 20 degC, conductor: "+c.conductor+"}]}]\n")
		got := NewSession(d, Options{}).On(&d.Circuits.Items[0].FeedWires.Items[0], NoPoint, "resistance")
		assert.InDelta(t, c.want, in(t, got, "mohm"), 1e-6, "%s, %s", c.conductor, c.size)
	}
}

// ASTM B566: copper-clad aluminium with 10 percent copper by volume has at least 62.9 percent of copper's conductivity, so
// 31.92 mohm of copper become 50.75, and with equal heat the wire carries sqrt(0.629) = 79.3 percent of the current. IEC
// 60364-5-54 annex A: k 148 for aluminium, 226 for copper; 33 CFR 183.425 gives 14 AWG 35 A at 105 degC.
func TestCopperCladAluminium(t *testing.T) {
	at := func(conductor, size, name string) *Result {
		d := load(t, "battery: {cold_cranking: 600 A, rest_voltage: 12.6 V, system_voltage: 12 V}\ncircuits: [{source: battery_post, relay: none, fuse: {rating: 15 A, kind: blade, resistance: 0 ohm}, returns_to: battery_negative, return_wires: none, "+
			"feed_wires: [{size: "+size+", length: 4 m, ambient: 30 degC, bundle_count: 1, insulation_rating: 105 degC, joints: none, conductor: "+conductor+"}]}]\n")
		s, ct := NewSession(d, Options{}), &d.Circuits.Items[0]
		if name == "resistance" || name == "ampacity" {
			return s.On(&ct.FeedWires.Items[0], NoPoint, name)
		}
		return s.On(ct, NoPoint, name)
	}
	const clad, bare = "copper_clad_aluminium", "stranded_copper"
	assert.InDelta(t, 31.92*(1+0.00393*10)/0.629, in(t, at(clad, "2.5 mm2", "resistance"), "mohm"), 1e-6)
	assert.InDelta(t, 35*math.Sqrt(0.629), in(t, at(clad, "14 AWG", "ampacity"), "A"), 1e-6)
	assert.InDelta(t, 1.5*35*math.Sqrt(0.629), in(t, at(clad, "14 AWG", "fuse_ceiling"), "A"), 1e-6)
	hot, cool := at(clad, "14 AWG", "short_heating").Value().(float64), at(bare, "14 AWG", "short_heating").Value().(float64)
	assert.InEpsilon(t, math.Pow(226.0/148, 2), hot/cool, 1e-9, "both above six times the fuse's rating, where the let-through is constant")
}

// Two circuits that both supply a fuel pump are told wherever they stand in the list: nobody knows which one is meant.
func TestTwoPumpCircuitsAreTold(t *testing.T) {
	const pump = "load: {kind: fuel_pump, lowest_voltage: 11 V, "
	for replaced, want := range map[string]string{
		"load: {kind: resistive, current: 0.2 A, rated_voltage: 13.5 V, ":      "design.circuits[0] and design.circuits[1] both",
		"load: {kind: constant_current, current: 2 A, rated_voltage: 13.5 V, ": "design.circuits[1] and design.circuits[2] both",
		"load: {kind: motor, current: 16 A, rated_voltage: 13.5 V, ":           "design.circuits[1] and design.circuits[4] both",
	} {
		s := loaded(t, variant(t, replaced, pump))
		for _, p := range Points() {
			r := s.At(p, "pump_flow")
			require.False(t, r.Known(), "%s", p)
			assert.Contains(t, r.Reason, want)
		}
	}
}
