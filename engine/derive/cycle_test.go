package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/schema"
)

// cycled is the six of testdata with another working cycle.
func cycled(t *testing.T, cycle string) *Session {
	t.Helper()
	return loaded(t, variant(t, "cycle: four_stroke", "cycle: "+cycle))
}

// One charge in each turn is twice the air and twice the sparks; by hand from the
// six of testdata: 4.1 L, 4200 rpm, 0.80 are 0.1148 m3/s, 700 rpm are 28.571 ms
// between the sparks of six cylinders. An engine of three cylinders with one charge
// a turn sparks as a four-stroke six does.
func TestOneChargeInEachTurn(t *testing.T) {
	for _, test := range []struct {
		cycle         string
		times, burnt  float64
		asFourStrokes float64
	}{{"four_stroke", 1, 1, 6}, {"two_stroke", 2, 0.7, 12}, {"rotary", 2, 0.85, 12}} {
		s := cycled(t, test.cycle)
		engine, ignition := &s.design.Engine, &s.design.Ignition
		assert.InDelta(t, 0.1148*test.times, in(t, s.At(FullLoad, "air_flow"), "m3/s"), 1e-9, test.cycle)
		assert.InDelta(t, 28.5714/test.times, in(t, s.On(ignition, Idle, "firing_interval"), "ms"), 1e-3, test.cycle)
		assert.InDelta(t, 1000/(80*3*test.times), in(t, s.On(ignition, NoPoint, "shortest_firing_interval"), "ms"), 1e-6, "4800 rpm are 80 rev/s")
		assert.InDelta(t, 8.6330/test.burnt, in(t, s.At(Cruise, "fuel_mass_demand"), "kg/h"), 0.002, test.cycle)
		assert.InDelta(t, test.asFourStrokes, in(t, s.On(engine, NoPoint, "four_stroke_cylinders"), ""), 1e-9)
		assert.InDelta(t, 4.1*test.times, in(t, s.On(engine, NoPoint, "four_stroke_displacement"), "L"), 1e-9)
		// 90 kW over 4.1 L and 70 rev/s are 313.6 kPa for one charge a turn.
		assert.InDelta(t, 313.589*2/test.times, in(t, s.On(engine, NoPoint, "mean_pressure"), "kPa"), 0.01)
		assert.InDelta(t, 27, in(t, s.At(FullLoad, "fuel_mass_demand"), "kg/h"), 1e-9, "power and consumption say the same whatever the cycle")
	}
}

// 36 teeth at 80 rev/s are 2880 Hz; on the camshaft of a four-stroke engine half of it.
func TestTeethOfTheWheel(t *testing.T) {
	for on, want := range map[string]float64{"crankshaft": 2880, "camshaft_or_distributor": 1440} {
		s := loaded(t, variant(t, "wheel_on: crankshaft", "wheel_on: "+on))
		assert.InDelta(t, want, in(t, s.On(&s.design.Sensors.SpeedSignal, NoPoint, "highest_frequency_sent"), "Hz"), 1e-6, on)
	}
}

// Room under the bonnet by hand: 60 + 150 - 145 - 25 mm, without the adapter 65 mm.
func TestRoomUnderTheBonnet(t *testing.T) {
	s := loaded(t, variant(t))
	assert.InDelta(t, 40, in(t, s.On(&s.design.Intake, NoPoint, "clearance_at_rest"), "mm"), 1e-9)
	s = loaded(t, variant(t, "adapter: {height: 25 mm}", "adapter: none"))
	assert.InDelta(t, 65, in(t, s.On(&s.design.Intake, NoPoint, "clearance_at_rest"), "mm"), 1e-9)
}

// The nearer the engine the shorter the least cable.
func TestLeastCable(t *testing.T) {
	for _, test := range []struct {
		place, engine string
		want          float64
	}{{"engine_bay", "rear", 0.2}, {"frame", "front", 0.5}, {"cabin", "rear", 0.5}, {"boot", "front", 2}, {"boot", "mid", 0.5}, {"boot", "rear", 0.5}} {
		s := loaded(t, variant(t, "place: engine_bay", "place: "+test.place, "engine_position: front", "engine_position: "+test.engine))
		assert.InDelta(t, test.want, in(t, s.On(&s.design.Battery, NoPoint, "least_cable"), "m"), 1e-9, test)
	}
}

// What fills the six at cruise, by hand: 8.6330 kg/h of E10 with 14.096 times its
// mass of air, in a manifold of 101.325 - 44.02 kPa (13 inHg at sea level) at 313.15 K,
// which hold 0.6375 kg/m3; 4.1 L and 36.667 rev/s draw 0.075167 m3/s.
func TestCruiseFilling(t *testing.T) {
	s := loaded(t, variant(t))
	air := 8.6330 / 3600 * 14.096
	assert.InDelta(t, air/(57303/(287.053*313.15)*0.0751667), in(t, s.On(&s.design.Engine, NoPoint, "cruise_filling"), ""), 1e-3)
}

// The coil of the six at 4800 rpm has the dwell that the shorter interval leaves;
// its current is never more than at the speed of rated power, and by the law of the
// first-order circuit it is the same at the same interval.
func TestCoilAtTheHighestSpeed(t *testing.T) {
	s := loaded(t, variant(t))
	i := &s.design.Ignition
	full, most := in(t, s.On(i, FullLoad, "coil_current"), "A"), in(t, s.On(i, NoPoint, "coil_current_at_maximum_speed"), "A")
	assert.Less(t, most, full+1e-9)
	same := loaded(t, variant(t, "maximum_speed: 4800 rpm", "maximum_speed: 4200 rpm"))
	assert.InDelta(t, full, in(t, same.On(&same.design.Ignition, NoPoint, "coil_current_at_maximum_speed"), "A"), 1e-9)
	henries := s.design.Ignition.Coil.Inductance
	l, _ := henries.Get()
	assert.InDelta(t, l.SI()*most*most/2*1e3, in(t, s.On(i, NoPoint, "coil_energy_at_maximum_speed"), "mJ"), 1e-6)
}

// What the inputs see, by hand: 2500 ohm at 20 degC, 325 at 80 degC (B = 3520.26 K)
// make 2500 ohm in the six's cold start of 20 degC and 148.9 at 110 degC; 100 ohm lie in
// the wiring, 2490 to the reference.
func TestWhatTheInputSees(t *testing.T) {
	s := loaded(t, variant(t))
	coolant := &s.design.Sensors.Coolant
	assert.InDelta(t, 2600/(2600+2490.0), in(t, s.On(coolant, NoPoint, "cold_share"), "share"), 1e-5)
	assert.InDelta(t, 248.93/(248.93+2490), in(t, s.On(coolant, NoPoint, "hot_share"), "share"), 1e-4)
	// The other sensor's hot end is the air under the bonnet, 80 degC.
	cooler := loaded(t, variant(t, "under_bonnet: 80 degC", "under_bonnet: 60 degC"))
	air := func(s *Session) *schema.IntakeAirSensor { return &s.design.Sensors.IntakeAir }
	assert.Greater(t, in(t, cooler.On(air(cooler), NoPoint, "hot_share"), "share"), in(t, s.On(air(s), NoPoint, "hot_share"), "share"))
	assert.InDelta(t, in(t, s.On(coolant, NoPoint, "hot_share"), "share"), in(t, cooler.On(&cooler.design.Sensors.Coolant, NoPoint, "hot_share"), "share"), 1e-12)
}
