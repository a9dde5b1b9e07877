package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// si is the SI number of a result that must be known.
func si(t *testing.T, r *Result) float64 {
	t.Helper()
	require.True(t, r.Known(), "%s: missing %v, absent %s, %s", r.Path, r.Missing, r.Absent, r.Reason)
	if q, ok := r.Value().(quantity.Value); ok {
		return q.SI()
	}
	f, ok := r.Value().(float64)
	require.True(t, ok, "%s is a %T", r.Path, r.Value())
	return f
}

func TestFuelSupplyBalances(t *testing.T) {
	s := NewSession(six(t), Options{})
	for _, p := range Points() {
		t.Run(p.String(), func(t *testing.T) {
			at := func(name string) float64 { return si(t, s.At(p, name)) }
			assert.InDelta(t, at("pump_flow"), at("engine_flow")+at("return_flow"), 1e-12)
			assert.InDelta(t, 300e3, at("throttle_body_pressure"), 1e-3, "a diaphragm regulator referenced to the atmosphere holds its setting")

			// Pressure round the loop: throttle body + feed + suction, with the heights
			// of the design: 600 mm up in the feed, 60 mm down in the suction.
			density := si(t, s.On(&s.Design().Fuel, NoPoint, "hot_density"))
			heights := density * 9.80665 * (0.600 - 0.060)
			assert.InDelta(t, at("pump_pressure"), at("throttle_body_pressure")+at("feed_loss")+at("suction_loss")+heights, 1e-3)

			// The losses of the runs add up to that of the line; the strainer is not a run.
			runs := 0.0
			for i := range s.Design().Feed.Runs.Items {
				runs += si(t, s.On(&s.Design().Feed.Runs.Items[i], p, "loss"))
			}
			assert.InDelta(t, at("feed_loss"), runs, 1e-6)

			// Positive displacement: flow at 300 to 400 kPa of the curve less (1 - V/13.5)
			// of the 195 L/h it moves without leakage, both voltages less what the motor's
			// 0.35 ohm take at the current of each point; current by pressure alone.
			litre := 1e-3 / 3600
			share := (at("pump_pressure") - 300e3) / 100e3
			moved := func(flow, current float64) float64 {
				return flow - (1-(at("pump_voltage")-current*0.35)/(13.5-current*0.35))*195
			}
			flow := moved(180, 6.6) + share*(moved(162, 7.9)-moved(180, 6.6))
			assert.InDelta(t, flow*litre, at("pump_flow"), 1e-10)
			assert.InDelta(t, 6.6+share*(7.9-6.6), at("pump_current"), 1e-9)
		})
	}
}

func TestVoltagesObeyKirchhoff(t *testing.T) {
	s := NewSession(six(t), Options{})
	d := s.Design()
	for _, p := range Points() {
		t.Run(p.String(), func(t *testing.T) {
			current := func(i int) float64 { return si(t, s.On(&d.Circuits.Items[i], p, "load_current")) }
			supply := si(t, s.At(p, "battery_voltage"))
			for i := range d.Circuits.Items {
				ct := &d.Circuits.Items[i]
				if s.On(ct, p, "load_voltage").Absent != "" {
					assert.Zero(t, current(i), "what does not run draws nothing")
					continue
				}
				load, drop := si(t, s.On(ct, p, "load_voltage")), si(t, s.On(ct, p, "voltage_drop"))
				assert.InDelta(t, supply, load+drop, 1e-9, ct.Path())
				assert.InDelta(t, drop, si(t, s.On(ct, p, "feed_drop"))+si(t, s.On(ct, p, "return_drop")), 1e-12)
			}

			// Chassis: relay, pump and fan arrive, path 0 leaves, path 2 arrives from the
			// engine. Engine: coil (and starter) arrive, paths 1 and 2 leave.
			ground := func(i int) float64 { return si(t, s.On(&d.Grounds.Items[i], p, "current")) }
			assert.InDelta(t, ground(0), current(0)+current(1)+current(4)+ground(2), 1e-6)
			starter := 0.0
			if p == Cranking {
				starter = 180
			}
			assert.InDelta(t, ground(1)+ground(2), current(5)+starter, 1e-6)
			for i := range d.Grounds.Items {
				g := &d.Grounds.Items[i]
				assert.InDelta(t, ground(i)*si(t, s.On(g, NoPoint, "resistance")), si(t, s.On(g, p, "drop")), 1e-9)
			}

			// The relay's feed wire carries relay, pump and injectors, the pump's only the pump.
			wires := func(l []schema.Wire) (sum float64) {
				for i := range l {
					sum += si(t, s.On(&l[i], NoPoint, "resistance"))
				}
				return sum
			}
			relay, pump := &d.Circuits.Items[0], &d.Circuits.Items[1]
			shared := (current(0) + current(1) + current(2)) * wires(relay.FeedWires.Items)
			assert.InDelta(t, shared+current(1)*wires(pump.FeedWires.Items), si(t, s.On(pump, p, "feed_drop")), 1e-7)
			chassis := si(t, s.On(&d.Grounds.Items[0], p, "drop"))
			assert.InDelta(t, chassis+current(1)*wires(pump.ReturnWires.Items), si(t, s.On(pump, p, "return_drop")), 1e-7)
			assert.InDelta(t, si(t, s.At(p, "pump_voltage")), si(t, s.On(pump, p, "load_voltage")), 1e-7)
			assert.InDelta(t, si(t, s.At(p, "pump_current")), current(1), 1e-9)
		})
	}
}

func TestControllerAndSensorGroundOffsets(t *testing.T) {
	s := NewSession(six(t), Options{})
	d := s.Design()
	for _, p := range Points() {
		controller := &d.Circuits.Items[3]
		offset := si(t, s.At(p, "controller_ground_offset"))
		assert.Equal(t, si(t, s.On(controller, p, "return_drop")), offset)
		assert.Equal(t, si(t, s.On(controller, p, "load_voltage")), si(t, s.At(p, "controller_voltage")))
		engine := si(t, s.On(&d.Grounds.Items[1], p, "drop"))
		assert.InDelta(t, engine-offset, si(t, s.At(p, "sensor_ground_offset")), 1e-9)
	}
	own := load(t, "sensors: {sensor_ground: controller_pin}\n")
	assert.Zero(t, si(t, NewSession(own, Options{}).At(Idle, "sensor_ground_offset")))
}

// BenchmarkAll evaluates every derived value of a design in a new session; to
// find the parts is not counted.
func BenchmarkAll(b *testing.B) {
	d := six(b)
	list := asks(d)
	b.ReportAllocs()
	for b.Loop() {
		s := NewSession(d, Options{})
		for _, a := range list {
			s.Evaluate(a.entry, a.part, a.point)
		}
	}
}
