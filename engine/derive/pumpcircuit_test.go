package derive

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// One circuit supplies the pump: without one, or with one that does not run at a point, nothing is known of the pump there
// and the reason is told; which one it is matters, wherever in the list it stands.
func TestPumpCircuit(t *testing.T) {
	const pump = "load: {kind: fuel_pump, lowest_voltage: 11 V, runs_at: [cranking, idle, cruise, full_load]}"
	s := loaded(t, variant(t, pump, "load: {kind: motor, current: 6 A, rated_voltage: 13.5 V, runs_at: [idle]}"))
	for _, name := range []string{"pump_flow", "pump_current", "pump_voltage"} {
		r := s.At(Idle, name)
		require.False(t, r.Known(), name)
		assert.Contains(t, r.Reason, "no circuit has a load of the kind fuel_pump", name)
	}

	s = loaded(t, variant(t, pump, "load: {kind: fuel_pump, lowest_voltage: 11 V, runs_at: [idle]}"))
	assert.True(t, s.At(Idle, "pump_flow").Known())
	for _, p := range []Point{Cruise, FullLoad, Cranking} {
		assert.Equal(t, "design.circuits[1].load.runs_at", s.At(p, "pump_flow").Absent, p.String())
	}

	// The order of the list is of no account.
	text := variant(t)
	at := func(name string) int { return strings.Index(text, "  - name: "+name+"\n") }
	first, own, next := at("main relay"), at("fuel pump"), at("injectors")
	before, after := loaded(t, text), loaded(t, text[:first]+text[own:next]+text[first:own]+text[next:])
	require.Equal(t, "fuel pump", after.design.Circuits.Items[0].Name.Text())
	for _, p := range Points() {
		for name, unit := range map[string]string{"pump_flow": "L/h", "pump_current": "A", "pump_voltage": "V"} {
			assert.InDelta(t, in(t, before.At(p, name), unit), in(t, after.At(p, name), unit), 1e-9, "%s at %s", name, p)
		}
	}

	// Whose kind of load is not known may be the pump's: that is asked, and nothing is said of there being none.
	s = loaded(t, variant(t, pump, "load: {lowest_voltage: 11 V, runs_at: [idle]}"))
	r := s.At(Idle, "pump_flow")
	require.False(t, r.Known())
	assert.Contains(t, r.Missing, "design.circuits[1].load.kind")
	assert.Empty(t, r.Reason)
}

// The joints of a circuit by Ohm's law: those of the feed carry all that branches off behind them, those of the return the
// circuit's own load. The fan of 16 A at 13.5 V and a main relay whose own load is 0.2 A.
func TestJointsByOhm(t *testing.T) {
	s := loaded(t, variant(t,
		"{size: 10 AWG, length: 0.8 m, insulation_rating: 125 degC, ambient: 60 degC, bundle_count: 4, conductor: stranded_copper, joints: none}",
		"{size: 10 AWG, length: 0.8 m, insulation_rating: 125 degC, ambient: 60 degC, bundle_count: 4, conductor: stranded_copper, joints: [{kind: ring_terminal, resistance: 2 mohm}, {kind: ring_terminal, resistance: 3 mohm}]}",
		"{size: 18 AWG, length: 0.6 m, insulation_rating: 125 degC, ambient: 60 degC, bundle_count: 4, conductor: stranded_copper, joints: none}",
		"{size: 18 AWG, length: 0.6 m, insulation_rating: 125 degC, ambient: 60 degC, bundle_count: 4, conductor: stranded_copper, joints: [{kind: ring_terminal, resistance: 100 mohm}]}",
		"relay: {contact_resistance: 0 ohm}", "relay: {contact_resistance: 5 mohm}",
		"fuse: {rating: 30 A, kind: bolt_down, resistance: 0 ohm}", "fuse: {rating: 30 A, kind: bolt_down, resistance: 4 mohm}"))
	d := s.Design()
	relay, fan := &d.Circuits.Items[0], &d.Circuits.Items[4]
	amps := in(t, s.On(relay, NoPoint, "steady_current"), "A")
	own := in(t, s.On(relay, NoPoint, "nominal_current"), "A")
	// Own load 0.2 A, injectors 2 A and the pump, 5.4 A to 9.3 A by its curve.
	require.InDelta(t, 0.2+2+7.35, amps, 2)
	require.InDelta(t, 0.2, own, 0.02)
	of12 := func(volts float64) float64 { return 12 * volts / (12 + volts) } // what is left to the load divides it
	feed, back := relay.FeedWires.Items[0].Joints.Items, relay.ReturnWires.Items[0].Joints.Items
	assert.InDelta(t, of12(0.002*amps), in(t, s.On(&feed[0], NoPoint, "drop"), "V"), 1e-9)
	assert.InDelta(t, of12(0.003*amps), in(t, s.On(&feed[1], NoPoint, "drop"), "V"), 1e-9)
	assert.InDelta(t, of12(0.100*own), in(t, s.On(&back[0], NoPoint, "drop"), "V"), 1e-9)
	assert.InDelta(t, of12(0.003*amps), in(t, s.On(relay, NoPoint, "joint_drop"), "V"), 1e-9, "3 mohm at 9.6 A lose more than 100 mohm at 0.2 A")
	assert.Equal(t, "feed wire 1, joint 2", s.On(relay, NoPoint, "worst_joint").Value())
	assert.InDelta(t, 5, in(t, s.On(&relay.FeedWires.Items[0], NoPoint, "joint_resistance"), "mohm"), 1e-9)

	fanAmps := in(t, s.On(fan, NoPoint, "steady_current"), "A")
	require.InDelta(t, 16, fanAmps, 1)
	assert.InDelta(t, of12(0.005*fanAmps), in(t, s.On(fan, NoPoint, "contact_drop"), "V"), 1e-9)
	assert.InDelta(t, of12(0.004*fanAmps), in(t, s.On(fan, NoPoint, "fuse_drop"), "V"), 1e-9)
	assert.InDelta(t, 0, in(t, s.On(fan, NoPoint, "joint_drop"), "V"), 1e-12)
	// Its own way: fuse 4, contact 5, 2.2 m of 10 AWG at 80 degC, 3.277 ohm/km at 20 degC (NBS Handbook 100) x 1.2358 = 8.9 mohm.
	assert.InDelta(t, 4+5+8.9, in(t, s.On(fan, NoPoint, "resistance"), "mohm"), 0.9)
	assert.NotEmpty(t, s.On(relay, NoPoint, "contact_drop").Absent, "it has no relay of its own")
}

// A plug carries the largest current of the circuits through it; one that names no circuit of the design tells so.
func TestCurrentThroughAPlug(t *testing.T) {
	s := loaded(t, variant(t, "circuits: [fuel pump]", "circuits: [controller, cooling fan, injectors]"))
	d := s.Design()
	plug := &d.Connectors.Items[0]
	assert.InDelta(t, in(t, s.On(&d.Circuits.Items[4], NoPoint, "steady_current"), "A"), in(t, s.On(plug, NoPoint, "circuit_current"), "A"), 1e-12)
	s = loaded(t, variant(t, "circuits: [fuel pump]", "circuits: [horn]"))
	assert.Contains(t, s.On(&s.Design().Connectors.Items[0], NoPoint, "circuit_current").Reason, `names "horn", which is not among the circuits`)
}

// A joint of 5 ohm leaves the pump too little to turn: its winding takes what Ohm's law gives. 14 V at idle over 5 ohm, the
// winding's 0.35, 1 m of 14 AWG at 60 degC (8.285 mohm/m at 20, ASTM B258: 9.6 mohm), 4 m at 45 (36.4), 0.5 m back (4.5), the
// main relay's 10 AWG (3.0) and some 1 mohm of ground: 5.404 ohm, 2.590 A, 0.907 V at the pump. It moves no fuel.
func TestStalledPump(t *testing.T) {
	const wire = "{size: 14 AWG, length: 1.0 m, insulation_rating: 125 degC, ambient: 60 degC, bundle_count: 4, conductor: stranded_copper, joints: "
	s := loaded(t, variant(t, wire+"none}", wire+"[{kind: ring_terminal, resistance: 5 ohm}]}"))
	assert.InDelta(t, 2.590, in(t, s.At(Idle, "pump_current"), "A"), 0.005)
	assert.InDelta(t, 0.907, in(t, s.At(Idle, "pump_voltage"), "V"), 0.002)
	assert.InDelta(t, 0, in(t, s.At(Idle, "pump_flow"), "L/h"), 1e-9)
	assert.InDelta(t, 0, in(t, s.At(Idle, "throttle_body_pressure"), "kPa"), 1e-6)
	assert.Equal(t, true, s.At(Idle, "starved").Value())
}
