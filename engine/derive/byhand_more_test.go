package derive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/schema/quantity"
)

// Ohm's law: 14 V over 12 ohm are 1.167 A; four injectors on two outputs are two on each, five are three on the fuller one.
func TestInjectorsSharingAnOutput(t *testing.T) {
	for count, want := range map[string]float64{"count: 2": 14.0 / 12, "count: 4": 2 * 14.0 / 12, "count: 5": 3 * 14.0 / 12} {
		s := loaded(t, variant(t, "    count: 2\n    static_flow", "    "+count+"\n    static_flow"))
		assert.InDelta(t, want, in(t, s.On(&s.Design().ThrottleBody.Injectors, NoPoint, "output_current"), "A"), 1e-9, count)
	}
}

// 36 teeth at 4800 rpm are 36 x 80 = 2880 Hz; on the camshaft of a four-stroke engine half of it.
func TestHighestFrequencySent(t *testing.T) {
	for wheel, want := range map[string]float64{"wheel_on: crankshaft": 2880, "wheel_on: camshaft_or_distributor": 1440} {
		s := loaded(t, variant(t, "wheel_on: crankshaft", wheel))
		assert.InDelta(t, want, in(t, s.On(&s.Design().Sensors.SpeedSignal, NoPoint, "highest_frequency_sent"), "Hz"), 1e-6, wheel)
	}
}

// 60 + 150 - 145 - 25 mm are left under the bonnet; without an adapter 65.
func TestClearanceAtRest(t *testing.T) {
	s := loaded(t, variant(t))
	assert.InDelta(t, 40, in(t, s.On(&s.Design().Intake, NoPoint, "clearance_at_rest"), "mm"), 1e-9)
	s = loaded(t, variant(t, "adapter: {height: 25 mm}", "adapter: none"))
	assert.InDelta(t, 65, in(t, s.On(&s.Design().Intake, NoPoint, "clearance_at_rest"), "mm"), 1e-9)
}

// A hole must pass the plug: a rectangle of 38 x 24 mm has a diagonal of 44.9 mm (Pythagoras), and needs more than that with the
// walls of a grommet of 50 mm outside and 46 mm inside, 2 mm each, on both sides.
func TestHoleForAPlug(t *testing.T) {
	s := loaded(t, variant(t))
	p := &s.Design().Passages.Items[0]
	assert.InDelta(t, math.Hypot(38, 24), in(t, s.On(p, NoPoint, "connector_diagonal"), "mm"), 1e-9)
	walled := in(t, s.On(p, NoPoint, "hole_needed"), "mm")
	bare := loaded(t, variant(t, "hole: 50 mm, grommet_bore: 46 mm, lining: grommet", "hole: 50 mm, lining: nothing"))
	assert.InDelta(t, 4, walled-in(t, bare.On(&bare.Design().Passages.Items[0], NoPoint, "hole_needed"), "mm"), 1e-9)
	// A grommet whose bore is said to be wider than its hole has no wall, and takes nothing away.
	wide := loaded(t, variant(t, "hole: 50 mm, grommet_bore: 46 mm, lining: grommet", "hole: 50 mm, grommet_bore: 52 mm, lining: grommet"))
	assert.InDelta(t, walled-4, in(t, wide.On(&wide.Design().Passages.Items[0], NoPoint, "hole_needed"), "mm"), 1e-9)
}

// Along the way to the pump the voltage falls from the posts' to the pump's, by current times resistance of each wire: the main
// relay's feed carries the pump, the injectors and the relay's own load, and behind the pump its own current climbs back.
func TestVoltageAlongTheWires(t *testing.T) {
	s := loaded(t, variant(t))
	d := s.Design()
	pump, relay := &d.Circuits.Items[1], &d.Circuits.Items[0]
	at := func(part any) float64 { return in(t, s.On(part, Idle, "voltage"), "V") }
	ohms := func(part any) float64 { return in(t, s.On(part, NoPoint, "resistance"), "ohm") }
	supply, amps := in(t, s.At(Idle, "supply_voltage"), "V"), in(t, s.At(Idle, "pump_current"), "A")
	trunk := amps + 2 + in(t, s.On(relay, Idle, "load_current"), "A")
	behindRelay := supply - trunk*ohms(&relay.FeedWires.Items[0])
	assert.InDelta(t, behindRelay, at(&relay.FeedWires.Items[0]), 1e-6)
	first, second := &pump.FeedWires.Items[0], &pump.FeedWires.Items[1]
	assert.InDelta(t, behindRelay-amps*ohms(first), at(first), 1e-6)
	assert.InDelta(t, behindRelay-amps*(ohms(first)+ohms(second)), at(second), 1e-6)
	back := &pump.ReturnWires.Items[0]
	assert.InDelta(t, at(second)-in(t, s.At(Idle, "pump_voltage"), "V"), at(back), 1e-6, "the pump's minus terminal")
}

// The volume to the sensor: manifold and pipe from the merge, 2.5 L + 0.25 m of 57 mm (0.638 L), or from the port where that is
// more; a merge that lies behind the sensor adds none.
func TestVolumeToTheSensor(t *testing.T) {
	pipe := func(metres float64) float64 { return math.Pi / 4 * 0.057 * 0.057 * metres }
	for after, want := range map[string]float64{"0.25 m": 0.0025 + pipe(0.25), "0 m": 0.0025, "-0.3 m": 0.0025} {
		s := loaded(t, variant(t, "distance_after_merge: 0.25 m", "distance_after_merge: "+after))
		c := s.begin(nil, s.Design(), NoPoint)
		assert.InEpsilon(t, want, volumeToSensor(c, &s.Design().OxygenSensors.Items[0]), 1e-9, after)
	}
	long := loaded(t, variant(t, "distance_from_port: 0.6 m", "distance_from_port: 2 m"))
	assert.InEpsilon(t, pipe(2), volumeToSensor(long.begin(nil, long.Design(), NoPoint), &long.Design().OxygenSensors.Items[0]), 1e-9)
	one := loaded(t, variant(t, "sees: all_cylinders", "sees: one_cylinder"))
	assert.InEpsilon(t, pipe(0.6), volumeToSensor(one.begin(nil, one.Design(), NoPoint), &one.Design().OxygenSensors.Items[0]), 1e-9)
}

// What meets at a joint, whichever way round it is named.
func TestWhatFitsWhat(t *testing.T) {
	for _, c := range []struct{ one, other, want string }{
		{"hose", "spigot", hoseOnSpigot}, {"thread_male", "thread_female", screwed}, {"banjo", "thread_female", banjoBolted},
		{"quick_connector", "quick_connector_pipe", quickConnected}, {"compression", "spigot", compressed}, {"soldered", "soldered", solderedFit},
		{"flare_37deg_nut", "flare_37deg_cone", flared},
	} {
		assert.Equal(t, c.want, fitOf(c.one, c.other))
		assert.Equal(t, c.want, fitOf(c.other, c.one))
	}
	for _, c := range [][2]string{{"thread_male", "thread_male"}, {"compression", "hose"}, {"hose", "hose"}, {"quick_connector", "spigot"}} {
		assert.NotContains(t, []string{hoseOnSpigot, screwed, compressed, quickConnected}, fitOf(c[0], c[1]), c)
	}
}

// The inlet of a pump outside the tank under a shut vent: what the tank lacks in pressure is missing there too.
func TestInletVacuumUnderAShutVent(t *testing.T) {
	s := loaded(t, variant(t))
	shut := NewSession(s.Design(), Options{Faults: map[string]float64{"tank_pressure": -10000}})
	read := func(s *Session) float64 {
		return in(t, s.On(&s.Design().Measured, NoPoint, "expected_inlet_vacuum"), "kPa")
	}
	assert.InDelta(t, 10, read(shut)-read(s), 0.3)
}

// The starter's current enters the grounds at one point; at two, nothing of them is known and the reason is told.
func TestStarterEntersAtOnePoint(t *testing.T) {
	s := loaded(t, variant(t, "carries_starter: true", "carries_starter: false"))
	assert.Less(t, math.Abs(in(t, s.On(&s.Design().Grounds.Items[1], Cranking, "current"), "A")), 20.0, "with no path flagged only the loads return there; a rule asks for the path")
	two := loaded(t, variant(t, "{name: engine, point: engine_block, to: chassis, size: 16 mm2, length: 500 mm, joint_resistance: 1 mohm, ambient: 20 degC, carries_starter: false}",
		"{name: body, point: body, to: chassis, size: 16 mm2, length: 500 mm, joint_resistance: 1 mohm, ambient: 20 degC, carries_starter: true}"))
	r := two.On(&two.Design().Grounds.Items[0], Cranking, "current")
	assert.Contains(t, r.Reason, "starter current enters the grounds at 2 points")
	// One point: all 180 A leave the engine by its paths (Kirchhoff), and come in at battery negative with what the loads draw.
	one := loaded(t, variant(t))
	g := one.Design().Grounds.Items
	amps := func(i int) float64 { return in(t, one.On(&g[i], Cranking, "current"), "A") }
	cranking := one.On(&one.Design().Battery, NoPoint, "cranking_current").Value().(quantity.Value).SI()
	coil := in(t, one.On(&one.Design().Circuits.Items[5], Cranking, "load_current"), "A")
	assert.InDelta(t, cranking+coil, amps(1)+amps(2), 1e-6)
}
