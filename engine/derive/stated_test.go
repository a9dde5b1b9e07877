package derive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
	"plumbline/schema/quantity"
)

// The wall of each material of a pipe: Moody's roughness of drawn tubing 0.0015 mm, stainless 0.002 mm, smoothed rubber 0.01 mm
// (White, Fluid Mechanics), plastic 0.0015 mm (handbook tables), rubber hose 0.03 mm (process handbook table, middle of its
// range); brazed double-wall steel twice drawn tubing, from practice.
func TestRoughnessOfEachMaterial(t *testing.T) {
	for material, mm := range map[string]float64{
		"steel": 0.003, "coated_steel": 0.003, "stainless_steel": 0.002, "copper": 0.0015, "copper_nickel": 0.0015, "aluminium": 0.0015, "brass": 0.0015,
		"nylon": 0.0015, "ptfe_braided": 0.0015, "fluoroelastomer_lined": 0.01, "rubber": 0.03,
	} {
		wall, err := fluid.WallOf(wallOf(material))
		require.NoError(t, err, material)
		assert.InEpsilon(t, mm/1000, wall.Roughness, 1e-9, material)
	}
	// Which of them a run reads: friction by Swamee and Jain (1976), good to a few percent of Colebrook, over a whole tube.
	for material, mm := range map[string]float64{"coated_steel": 0.003, "rubber": 0.03, "fluoroelastomer_lined": 0.01} {
		s := loaded(t, variant(t, "kind: tube, bore: 8.0 mm, length: 3.6 m, material: coated_steel", "kind: tube, bore: 8.0 mm, length: 3.6 m, material: "+material))
		d := s.Design()
		run := &d.Feed.Runs.Items[1]
		for i := range d.Feed.Runs.Items {
			if d.Feed.Runs.Items[i].Name.Text() == "frame tube" {
				run = &d.Feed.Runs.Items[i]
			}
		}
		speed, density := in(t, s.On(run, Idle, "velocity"), "m/s"), in(t, s.On(&d.Fuel, NoPoint, "hot_density"), "kg/m3")
		viscosity := s.On(&d.Fuel, NoPoint, "hot_viscosity").Value().(quantity.Value).SI()
		re := speed * 0.008 / viscosity
		require.Greater(t, re, 5000.0)
		f := 0.25 / math.Pow(math.Log10(mm/8.0/3.7+5.74/math.Pow(re, 0.9)), 2)
		assert.InEpsilon(t, f*3.6/0.008*density*speed*speed/2, in(t, s.On(run, Idle, "loss"), "Pa"), 0.02, material)
	}
}

// A stated density is what the pump moves: petrol loses 0.095 % of it with each kelvin (API MPMS chapter 11.1 gives 0.00095 per
// kelvin near 745 kg/m3, from memory), so 760 kg/m3 at 15 degC are 738.3 at 45 degC, and 700 are 680.1.
func TestHotDensityFollowsTheStatedOne(t *testing.T) {
	for stated, want := range map[string]float64{"0.760 kg/L": 738.3, "0.700 kg/L": 680.1} {
		d := load(t, "fuel: {density: "+stated+", ethanol: 0 %}\nclimate: {hot_fuel: 45 degC}\n")
		assert.InEpsilon(t, want, in(t, NewSession(d, Options{}).On(&d.Fuel, NoPoint, "hot_density"), "kg/m3"), 0.002, stated)
	}
	// Not at 15 degC, and not of a fuel without a density.
	d := load(t, "fuel: {density: 0.760 kg/L, ethanol: 0 %}\nclimate: {hot_fuel: 15 degC}\n")
	assert.InDelta(t, 760, in(t, NewSession(d, Options{}).On(&d.Fuel, NoPoint, "hot_density"), "kg/m3"), 1e-6)
	d = load(t, "fuel: {ethanol: 0 %}\nclimate: {hot_fuel: 45 degC}\n")
	assert.Equal(t, []string{"design.fuel.density"}, NewSession(d, Options{}).On(&d.Fuel, NoPoint, "hot_density").Missing)
}

// Grounds that lead only to each other carry nothing to the battery; one path out of the ring is enough.
func TestLoopOfGrounds(t *testing.T) {
	ends := func(text string) (out []any) {
		d := load(t, text)
		s := NewSession(d, Options{})
		for i := range d.Grounds.Items {
			out = append(out, s.On(&d.Grounds.Items[i], NoPoint, "ends_at_battery").Value())
		}
		return out
	}
	assert.Equal(t, []any{false, false}, ends("grounds: [{name: chassis, to: engine}, {name: engine, to: chassis}]\n"))
	assert.Equal(t, []any{false, false, false}, ends("grounds: [{name: a, to: b}, {name: b, to: c}, {name: c, to: a}]\n"))
	assert.Equal(t, []any{true, true, true, true}, ends("grounds: [{name: a, to: b}, {name: b, to: c}, {name: c, to: a}, {name: b, to: battery_negative}]\n"))
	assert.Equal(t, []any{true, false}, ends("grounds: [{name: a, to: battery_negative}, {name: b, to: nowhere}]\n"))
	assert.Equal(t, []any{false}, ends("grounds: [{name: a, to: a}]\n"))

	// What returns to the ring has no voltage to be known, and the reason is told.
	s := loaded(t, variant(t, "{name: chassis, point: chassis, to: battery_negative", "{name: chassis, point: chassis, to: engine",
		"{name: engine, point: engine_block, to: battery_negative", "{name: engine, point: engine_block, to: chassis"))
	r := s.On(&s.Design().Circuits.Items[1], Idle, "return_drop")
	assert.False(t, r.Known())
	assert.NotEmpty(t, r.Reason)
}

// lastLine is the last line of how a value of the six is worked out.
func lastLine(t *testing.T, s *Session, on, name string, part any, p Point) string {
	t.Helper()
	lines := s.Working(All().Find(on, name), part, p, quantity.Metric).Lines
	require.NotEmpty(t, lines, "%s.%s", on, name)
	return lines[len(lines)-1].String()
}

// How a value was come by is told as it was.
func TestWorkingsTellTheWayTaken(t *testing.T) {
	s := loaded(t, variant(t))
	d := s.Design()
	assert.Contains(t, lastLine(t, s, "Design", "engine_flow", d, FullLoad), "the fuel demand")
	assert.Contains(t, lastLine(t, s, "Design", "engine_flow", d, Cranking), "neglected while cranking")
	assert.Contains(t, lastLine(t, s, "Design", "suction_loss", d, Idle), "in suction filter")
	assert.NotContains(t, lastLine(t, s, "Design", "suction_loss", d, Idle), "nothing in the way")
	assert.Contains(t, lastLine(t, s, "Circuit", "nominal_current", &d.Circuits.Items[1], NoPoint), "the pump's curve at the setting of 300 kPa")
	assert.Contains(t, lastLine(t, s, "Circuit", "nominal_current", &d.Circuits.Items[4], NoPoint), "as stated for the load")
	assert.Contains(t, lastLine(t, s, "Circuit", "load_current", &d.Circuits.Items[4], Cruise), "it does not run")

	// 10 mA short of an open joint: none, one and two of them.
	for joints, want := range map[string]string{"none": "it has no joints", "[{kind: ring_terminal, resistance: 2 mohm}]": "2 mohm over 1 joints",
		"[{kind: ring_terminal, resistance: 2 mohm}, {kind: ring_terminal, resistance: 3 mohm}]": "over 2 joints"} {
		s := loaded(t, variant(t, "ambient: 80 degC, bundle_count: 1, conductor: stranded_copper, joints: [{kind: ring_terminal, resistance: 0 ohm}]",
			"ambient: 80 degC, bundle_count: 1, conductor: stranded_copper, joints: "+joints))
		assert.Contains(t, lastLine(t, s, "Wire", "joint_resistance", &s.Design().Circuits.Items[4].FeedWires.Items[0], NoPoint), want)
	}

	// 150 cfm drawn through a body rated for less: the square law still holds (some 17 kPa of 97), the air does not choke.
	tight := loaded(t, variant(t, "air_rating: 350 cfm", "air_rating: 150 cfm"))
	assert.Contains(t, lastLine(t, tight, "Design", "throttle_drop", tight.Design(), FullLoad), "of the rating x")
	choked := loaded(t, variant(t, "air_rating: 350 cfm", "air_rating: 60 cfm"))
	assert.Contains(t, lastLine(t, choked, "Design", "throttle_drop", choked.Design(), FullLoad), "before it chokes")
}

// Between two points of a thermistor's curve: 2500 ohm at 20 degC and 325 ohm at 80 degC are B = ln(2500/325) / (1/293.15 -
// 1/353.15) = 3520 K by hand; the coldest point has no colder one.
func TestConstantBetweenTwoPoints(t *testing.T) {
	d := load(t, "sensors: {coolant: {curve: [{temperature: 80 degC, resistance: 325 ohm}, {temperature: 20 degC, resistance: 2500 ohm}]}, intake_air: {curve: [{temperature: 20 degC, resistance: 2500 ohm}, {temperature: 20.5 degC, resistance: 2450 ohm}, {temperature: 68 degC, resistance: 325 ohm}]}}\n")
	s := NewSession(d, Options{})
	hot, cold := s.On(&d.Sensors.Coolant.Curve.Items[0], NoPoint, "local_constant"), s.On(&d.Sensors.Coolant.Curve.Items[1], NoPoint, "local_constant")
	assert.InDelta(t, 3520, hot.Value(), 2)
	assert.NotEmpty(t, cold.Absent)
	air := d.Sensors.IntakeAir.Curve.Items
	assert.NotEmpty(t, s.On(&air[1], NoPoint, "local_constant").Absent, "half a kelvin says nothing")
	// From 20.5 to 68 degC: ln(2450/325) / (1/293.65 - 1/341.15) = 4261 K.
	assert.InDelta(t, 4261, s.On(&air[2], NoPoint, "local_constant").Value(), 3)
}

// A winding of 0.9 ohm takes 8.91 V of 9.9 A, by Ohm's law.
func TestWindingDrop(t *testing.T) {
	d := load(t, "pump: {motor_resistance: 0.9 ohm, curve: [{pressure: 300 kPa, flow: 100 L/h, current: 9.9 A}, {pressure: 400 kPa, flow: 80 L/h, current: 11 A}]}\n")
	assert.InDelta(t, 8.91, in(t, NewSession(d, Options{}).On(&d.Pump.Curve.Items[0], NoPoint, "winding_drop"), "V"), 1e-9)
}

// What lets the engine move: the first flexible piece from the engine, in a return from its beginning.
func TestFlexibleLength(t *testing.T) {
	d := load(t, "return_line: {runs: [{kind: tube, material: nylon, length: 120 mm}, {kind: tube, material: steel, zone: frame, length: 3 m}, {kind: hose, length: 400 mm}]}\n"+
		"feed: {runs: [{kind: hose, length: 500 mm}, {kind: tube, material: steel, zone: frame, length: 3 m}, {kind: hose, length: 90 mm}, {kind: fitting}, {kind: tube, material: steel, zone: engine_bay, length: 200 mm}]}\n")
	s := NewSession(d, Options{})
	assert.InDelta(t, 90, in(t, s.On(&d.Feed, NoPoint, "flexible_length"), "mm"), 1e-9)
	assert.InDelta(t, 120, in(t, s.On(&d.ReturnLine.Part, NoPoint, "flexible_length"), "mm"), 1e-9)
	rigid := load(t, "feed: {runs: [{kind: hose, length: 500 mm}, {kind: tube, material: steel, zone: frame, length: 3 m}]}\n")
	assert.NotEmpty(t, NewSession(rigid, Options{}).On(&rigid.Feed, NoPoint, "flexible_length").Absent)
}

// What a resistance before a load takes is what a divider does: 3 ohm before a load of 5.8 A at 12 V (2.069 ohm) take 12 V x 3 /
// 5.069 = 7.10 V, and never the 17.4 V that 5.8 A would lose there.
func TestNoPartTakesMoreThanThereIs(t *testing.T) {
	d := load(t, "battery: {system_voltage: 12 V}\ncircuits: [{name: fan, purpose: cooling_fan, source: battery_post, relay: {contact_resistance: 3 ohm}, load: {kind: motor, current: 5.8 A, rated_voltage: 13.5 V, runs_at: [idle]}}]\n")
	assert.InDelta(t, 7.10, in(t, NewSession(d, Options{}).On(&d.Circuits.Items[0], NoPoint, "contact_drop"), "V"), 0.005)
	d = load(t, "battery: {system_voltage: 24 V, converter: {output_voltage: 13.6 V}}\ncircuits: [{name: fan, purpose: cooling_fan, source: battery_post, relay: {contact_resistance: 20 mohm}, load: {kind: motor, current: 10 A, rated_voltage: 13.5 V, runs_at: [idle]}}]\n")
	assert.InDelta(t, 0.2*13.6/13.8, in(t, NewSession(d, Options{}).On(&d.Circuits.Items[0], NoPoint, "contact_drop"), "V"), 1e-6)
}

// A sound system loses 5 % of its pressure in five minutes (practice): 95 % are left, after ten minutes 0.95^2 = 90.25 %.
func TestHeldPressureOfASoundSystem(t *testing.T) {
	for minutes, want := range map[string]float64{"5 min": 0.95, "10 min": 0.9025} {
		s := loaded(t, variant(t, "held_for: 5 min", "held_for: "+minutes))
		assert.InDelta(t, want, s.On(&s.Design().Procedure, NoPoint, "expected_held_pressure").Value().(quantity.Value).SI(), 1e-9)
	}
}

// A second tank's own piece of line ends at the selector: it has no engine to be flexible at.
func TestASecondTanksPieceDoesNotReachTheEngine(t *testing.T) {
	d := load(t, "second_feed: {runs: [{kind: tube, material: steel, zone: frame}]}\nsecond_return: none\n")
	s := NewSession(d, Options{})
	assert.Equal(t, "design.second_feed", s.On(&d.SecondFeed.Part, NoPoint, "flexible_at_engine").Absent)
	assert.NotEmpty(t, s.On(&d.SecondReturn.Part, NoPoint, "flexible_at_engine").Absent)
	assert.Equal(t, []string{"design.second_suction"}, s.On(&d.SecondSuction.Part, NoPoint, "flexible_at_engine").Missing)
}

// A tank whose vent is shut pulls against the pump: 10 kPa of vacuum in it are 10 kPa more across the pump, while the regulator
// at the body holds what it held (Pascal's law, all pressures against the same air).
func TestVacuumInTheTankIsLiftedByThePump(t *testing.T) {
	s := loaded(t, variant(t))
	shut := NewSession(s.Design(), Options{Faults: map[string]float64{"tank_pressure": -10000}})
	across := func(s *Session) float64 { return in(t, s.At(Idle, "pump_pressure"), "kPa") }
	assert.InDelta(t, 10, across(shut)-across(s), 0.3)
	assert.InDelta(t, in(t, s.At(Idle, "throttle_body_pressure"), "kPa"), in(t, shut.At(Idle, "throttle_body_pressure"), "kPa"), 1.5)
}
