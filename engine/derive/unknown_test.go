package derive

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

func loaded(t *testing.T, text string) *Session {
	t.Helper()
	d, err := schema.Load("six.yaml", []byte(text))
	require.NoError(t, err)
	return NewSession(d, Options{})
}

func TestMissingFactsAreNamedAllAtOnce(t *testing.T) {
	s := loaded(t, variant(t,
		"curve_voltage: 13.5 V", "prime_time: 2 s",
		"{size: 14 AWG, length: 4.0 m, ", "{size: 14 AWG, ",
		"bore: 6.5 mm, ", "",
		"regulated_voltage: 14.0 V, ", ""))
	r := s.At(Idle, "pump_flow")
	assert.False(t, r.Known())
	assert.ElementsMatch(t, []string{
		"design.pump.curve_voltage", "design.circuits[1].feed_wires[1].length",
		"design.return_line.runs[1].bore", "design.alternator.regulated_voltage"}, r.Missing)
}

func TestWhatIsOutOfReachSaysWhy(t *testing.T) {
	for _, test := range []struct {
		name    string
		replace []string
		point   Point
		value   string
		want    string
	}{
		{"ground that is not described", []string{"returns_to: engine", "returns_to: body"}, Idle, "pump_flow",
			`circuit ignition coil returns to "body", which is not among the grounds`},
		{"ground that leads nowhere", []string{"to: chassis,", "to: frame,"}, Idle, "pump_flow",
			`ground "engine" leads to "frame", which is not among the grounds`},
		{"branch of nothing", []string{"branch_of: main relay", "branch_of: big relay"}, Idle, "pump_flow",
			`branches from "big relay", which is not among the circuits`},
		{"no pump circuit", []string{"kind: fuel_pump", "kind: motor, current: 7 A, rated_voltage: 12 V"}, Idle, "pump_flow",
			"no circuit has a load of the kind fuel_pump"},
		{"fuel while cranking", nil, Cranking, "fuel_demand", "fuel demand is not modelled while cranking"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := loaded(t, variant(t, test.replace...)).At(test.point, test.value)
			assert.Empty(t, r.Missing)
			assert.Contains(t, r.Reason, test.want)
		})
	}
}

// stated is a fact of the same kind with a value.
func stated[D quantity.Dim](t *testing.T, _ schema.Fact[quantity.Of[D]], v quantity.Value) schema.Fact[quantity.Of[D]] {
	t.Helper()
	typed, err := quantity.As[D](v)
	require.NoError(t, err)
	return schema.Stated(typed)
}

// A file that states both is refused when it is read; a design built in Go can.
func TestTwoRatingsOfOneInjectorAreRefused(t *testing.T) {
	d := six(t)
	v, err := quantity.Parse("55 lb/h", quantity.DimMassFlow)
	require.NoError(t, err)
	flow := &d.ThrottleBody.Injectors.StaticMassFlow
	*flow = stated(t, *flow, v)
	assert.Contains(t, NewSession(d, Options{}).At(Idle, "injector_flow").Reason, "not both")
}

func TestStarterCurrentMustEnterAtOnePoint(t *testing.T) {
	s := loaded(t, variant(t, "joint_resistance: 0.5 mohm, ambient: 20 degC, carries_starter: false", "joint_resistance: 0.5 mohm, ambient: 20 degC, carries_starter: true"))
	r := s.On(&s.Design().Grounds.Items[0], Cranking, "drop")
	assert.Contains(t, r.Reason, "enters the grounds at 2 points (chassis, engine)")
	assert.True(t, s.On(&s.Design().Grounds.Items[0], Idle, "drop").Known(), "it only matters while cranking")
}

func TestWhatDoesNotApplyIsAbsent(t *testing.T) {
	s := loaded(t, variant(t))
	fan, coil := &s.Design().Circuits.Items[4], &s.Design().Circuits.Items[5]
	assert.Equal(t, "design.circuits[4].load.runs_at", s.On(fan, Cruise, "load_voltage").Absent)
	assert.Equal(t, "design.circuits[5].fuse", s.On(coil, NoPoint, "short_heating").Absent)
	assert.Empty(t, s.On(coil, NoPoint, "short_heating").Missing)
	filter := &s.Design().Feed.Runs.Items[0]
	assert.Equal(t, filter.Bore.Path(), s.On(filter, Idle, "velocity").Absent)
}

func TestDeadHeadAndInTankSystems(t *testing.T) {
	dead := loaded(t, variants(t)["dead head, turbine"])
	assert.InDelta(t, 300, in(t, dead.At(FullLoad, "throttle_body_pressure"), "kPa"), 1e-9)
	assert.InDelta(t, 450, in(t, dead.At(FullLoad, "pump_pressure"), "kPa"), 1e-9, "the relief valve is open")
	assert.Greater(t, in(t, dead.At(FullLoad, "pump_capacity"), "L/h"), in(t, dead.At(FullLoad, "pump_flow"), "L/h"),
		"at the pressure needed the pump gives more than at its relief valve")

	tank := loaded(t, variants(t)["in tank"])
	held := in(t, tank.At(Idle, "throttle_body_pressure"), "kPa") + in(t, tank.At(Idle, "feed_loss"), "kPa")
	lift := in(t, tank.On(&tank.Design().Fuel, NoPoint, "hot_density"), "kg/m3") * 9.80665 * 0.6 / 1000
	// 18 inHg of vacuum at sea level are 60.955 - (101.325 - 97.773) kPa at the road's 300 m.
	assert.InDelta(t, 300-57.403, held+lift, 2e-3, "setting less the manifold's vacuum, held at the pump")
	feed := &tank.Design().Feed.Runs.Items[1]
	assert.InDelta(t, in(t, tank.At(Idle, "engine_flow"), "m3/s")/(3.14159265/4*0.008*0.008), in(t, tank.On(feed, Idle, "velocity"), "m/s"), 1e-6,
		"the feed carries what the engine takes")
	assert.InDelta(t, in(t, tank.At(Idle, "engine_flow"), "L/h"), in(t, tank.On(feed, Idle, "flow"), "L/h"), 1e-9)
	assert.InDelta(t, in(t, dead.At(Idle, "engine_flow"), "L/h"), in(t, dead.On(&dead.Design().Feed.Runs.Items[1], Idle, "flow"), "L/h"), 1e-9)
}

func TestStarvation(t *testing.T) {
	// 450 kW at 300 g/kWh is 135 kg/h, 185 L/h of hot fuel: the pump gives that only
	// below the 320 kPa it works at.
	s := loaded(t, variant(t, "power: 90 kW", "power: 450 kW"))
	starved := s.At(FullLoad, "starved")
	assert.Equal(t, true, starved.Value())
	assert.Less(t, in(t, s.At(FullLoad, "throttle_body_pressure"), "kPa"), 300.0)
	assert.Less(t, in(t, s.At(FullLoad, "pump_capacity"), "L/h"), in(t, s.At(FullLoad, "fuel_demand"), "L/h"))
	assert.Less(t, in(t, s.At(FullLoad, "pressure_headroom"), "kPa"), 0.0)
	assert.Equal(t, 0.0, in(t, s.At(FullLoad, "return_flow"), "L/h"))
	assert.Equal(t, false, s.At(Idle, "starved").Value())

	beyond := loaded(t, variants(t)["starved"])
	assert.Equal(t, Span{true}, beyond.Span(beyond.At(FullLoad, "starved")), "starved with any end of the curve")
	assert.Less(t, in(t, beyond.At(FullLoad, "throttle_body_pressure"), "kPa"), 300.0)
}

func TestOverridesReplaceAComputation(t *testing.T) {
	d := six(t)
	flow := NewSession(d, Options{}).At(Idle, "fuel_demand").Value()
	s := NewSession(schema.Empty(), Options{Overrides: map[string]any{"at.full_load.pump_flow": flow}})
	assert.Equal(t, flow, s.At(FullLoad, "pump_flow").Value())
}

// With a compressor the manifold stands above the outside air by the stated
// boost, and the pump of a manifold-referenced regulator works against it.
func TestBoost(t *testing.T) {
	s := loaded(t, variant(t, "aspiration: natural", "aspiration: turbocharged\n  boost: 60 kPa"))
	manifold, outside := s.At(FullLoad, "manifold_pressure"), s.At(FullLoad, "barometer")
	require.True(t, manifold.Known(), manifold.Reason)
	assert.InDelta(t, 60e3, manifold.Value().(quantity.Value).SI()-outside.Value().(quantity.Value).SI(), 1)

	s = loaded(t, variant(t, "aspiration: natural", "aspiration: turbocharged"))
	assert.Equal(t, []string{"design.engine.boost"}, s.At(FullLoad, "manifold_pressure").Missing)

	cranking := loaded(t, variant(t)).At(Cranking, "manifold_pressure")
	assert.True(t, cranking.Known(), cranking.Reason)
}

// A thinner and longer feed lowers the pump's voltage step by step, and the
// solution is found as long as there is one: no length in between is missed
// because a step of the search left the pump's curve.
func TestLongThinFeedHasNoGaps(t *testing.T) {
	last, stopped := math.Inf(1), 0.0
	for metres := 1.0; metres < 30; metres++ {
		s := loaded(t, variant(t, "{size: 14 AWG, length: 4.0 m, ", fmt.Sprintf("{size: 22 AWG, length: %g m, ", metres)))
		volts := si(t, s.At(Idle, "pump_voltage"))
		assert.Less(t, volts, last, "%g m", metres)
		last = volts
		if si(t, s.At(Idle, "pump_flow")) == 0 && stopped == 0 {
			stopped = metres
		}
	}
	assert.Greater(t, stopped, 20.0, "at some length the pump stands still")
	assert.Less(t, last, 3.0)
}
