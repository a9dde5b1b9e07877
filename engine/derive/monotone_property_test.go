package derive

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// slope is a law of direction: while a fact of the six grows, values never fall (up) or never rise (down). The laws are
// those of the books the formulas name: Ohm and Kirchhoff, Darcy and Weisbach, Clausius and Clapeyron, the orifice.
type slope struct {
	name      string
	from      string // text of the six
	to        string // with %g for the number
	low, high float64
	up, down  []gauge
}

// gauge is a value of the design or of one part at a point.
type gauge struct {
	part  func(d *schema.Design) any
	point Point
	name  string
}

func whole(p Point, name string) gauge { return gauge{point: p, name: name} }

func ofPump(p Point, name string) gauge {
	return gauge{func(d *schema.Design) any { return &d.Circuits.Items[1] }, p, name}
}

func ofFan(name string) gauge {
	return gauge{func(d *schema.Design) any { return &d.Circuits.Items[4] }, Idle, name}
}

func ofPumpWire(name string) gauge {
	return gauge{func(d *schema.Design) any { return &d.Circuits.Items[1].FeedWires.Items[1] }, NoPoint, name}
}

func ofIgnition(p Point, name string) gauge {
	return gauge{func(d *schema.Design) any { return &d.Ignition }, p, name}
}

func ofTube(p Point, name string) gauge {
	return gauge{func(d *schema.Design) any { return &d.Feed.Runs.Items[1] }, p, name}
}

func slopes() []slope {
	const pumpFuse, pumpWire = "rating: 15 A, kind: blade, resistance: 0 ohm", "{size: 14 AWG, length: 4.0 m, insulation_rating: 125 degC, ambient: 45 degC"
	demanding := []gauge{whole(FullLoad, "fuel_mass_demand"), whole(FullLoad, "fuel_demand"), whole(FullLoad, "injector_duty"), whole(FullLoad, "injector_driven"),
		whole(FullLoad, "injector_pulse"), whole(FullLoad, "feed_loss")}
	fed := []gauge{ofPump(FullLoad, "load_voltage"), ofPump(FullLoad, "load_current"), whole(FullLoad, "pump_voltage"), whole(FullLoad, "pump_flow"), whole(FullLoad, "pump_current"),
		whole(Cranking, "pump_voltage"), whole(FullLoad, "feed_loss"), whole(FullLoad, "return_flow")}
	return []slope{
		{"resistance of a fuse", pumpFuse, "rating: 15 A, kind: blade, resistance: %g mohm", 0, 400, []gauge{ofPump(NoPoint, "resistance"), ofPump(NoPoint, "fuse_drop")},
			append([]gauge{ofPump(NoPoint, "fault_current")}, fed...)},
		{"length of a wire", pumpWire, "{size: 14 AWG, length: %g m, insulation_rating: 125 degC, ambient: 45 degC", 0.1, 12, []gauge{ofPumpWire("resistance")}, append([]gauge{ofPump(NoPoint, "fault_current")}, fed...)},
		{"heat around a wire", pumpWire, "{size: 14 AWG, length: 4.0 m, insulation_rating: 125 degC, ambient: %g degC", -40, 120, []gauge{ofPumpWire("resistance")}, append([]gauge{ofPumpWire("ampacity")}, fed...)},
		{"area of a wire that is no nominal size", pumpWire, "{size: %g mm2, length: 4.0 m, insulation_rating: 125 degC, ambient: 45 degC", 1.01, 1.49,
			append([]gauge{ofPumpWire("ampacity"), ofPump(NoPoint, "fault_current"), ofPump(NoPoint, "fuse_ceiling")}, fed...), []gauge{ofPumpWire("resistance"), ofPump(FullLoad, "feed_drop"), ofPump(NoPoint, "short_heating")}},
		{"bore of the feed, one line", "bore: 8.0 mm, length: 3.6 m", "bore: %g mm, length: 3.6 m", 3, 14, []gauge{whole(FullLoad, "pump_flow"), whole(FullLoad, "return_flow")}, []gauge{whole(FullLoad, "pump_pressure"), whole(FullLoad, "pump_current")}},
		{"length of a tube", "bore: 8.0 mm, length: 3.6 m", "bore: 8.0 mm, length: %g m", 0, 15, []gauge{whole(FullLoad, "pump_pressure"), ofTube(FullLoad, "loss")}, []gauge{whole(FullLoad, "pump_flow")}},
		{"drop of a filter", "rated_drop: 6 kPa", "rated_drop: %g kPa", 0, 90, []gauge{whole(FullLoad, "pump_pressure")}, []gauge{whole(FullLoad, "pump_flow")}},
		{"drop of the strainer", "rated_drop: 2 kPa", "rated_drop: %g kPa", 0, 90, []gauge{whole(FullLoad, "suction_loss")}, []gauge{whole(FullLoad, "pump_inlet_pressure"), whole(FullLoad, "vapour_margin")}},
		{"power", "power: 90 kW", "power: %g kW", 5, 180, demanding[:5], nil},
		{"specific consumption", "specific_consumption: 300 g/kWh", "specific_consumption: %g g/kWh", 200, 600, demanding[:5], []gauge{{func(d *schema.Design) any { return &d.Engine }, NoPoint, "implied_lambda"}}},
		{"ethanol in the fuel", "fuel: {ethanol: 10 %", "fuel: {ethanol: %g %%", 0, 100, append([]gauge{whole(Cruise, "fuel_mass_demand")}, demanding[:5]...), nil},
		{"heat of the fuel", "hot_fuel: 45 degC", "hot_fuel: %g degC", 0, 80, []gauge{whole(Idle, "vapour_pressure"), whole(FullLoad, "fuel_demand")}, []gauge{whole(Idle, "vapour_margin")}},
		{"altitude", "altitude: 300 m, hot", "altitude: %g m, hot", -400, 5000, []gauge{whole(Idle, "air_flow")},
			[]gauge{whole(Idle, "barometer"), whole(Idle, "vapour_margin"), whole(Idle, "manifold_pressure"), whole(Idle, "throttle_drop"), whole(Cruise, "throttle_drop"), whole(FullLoad, "manifold_pressure")}},
		{"vacuum", "idle_vacuum: 18 inHg", "idle_vacuum: %g inHg", 0, 29, []gauge{whole(Idle, "throttle_drop")}, []gauge{whole(Idle, "manifold_pressure")}},
		{"rated air", "air_rating: 350 cfm", "air_rating: %g cfm", 50, 2000, []gauge{whole(FullLoad, "manifold_pressure")}, []gauge{whole(FullLoad, "throttle_drop")}},
		{"area of the cleaner", "cleaner_area: 120 cm2", "cleaner_area: %g cm2", 5, 1000, []gauge{whole(FullLoad, "manifold_pressure")}, []gauge{whole(FullLoad, "cleaner_drop"), whole(Idle, "cleaner_drop")}},
		{"flow of the injectors", "static_flow: 600 cc/min", "static_flow: %g cc/min", 50, 3000, []gauge{whole(FullLoad, "injector_flow")}, []gauge{whole(FullLoad, "injector_duty"), whole(FullLoad, "injector_driven"), whole(Idle, "injector_pulse")}},
		{"dead time", "dead_time: 0.8 ms", "dead_time: %g ms", 0, 5, []gauge{whole(FullLoad, "injector_driven"), whole(FullLoad, "injector_pulse")}, nil},
		{"setting", "setting: 300 kPa", "setting: %g kPa", 210, 480, []gauge{whole(FullLoad, "pump_pressure"), whole(FullLoad, "throttle_body_pressure"), whole(FullLoad, "injector_flow")}, []gauge{whole(FullLoad, "pump_flow"), whole(FullLoad, "injector_duty")}},
		{"other loads", "other_load: 15 A", "other_load: %g A", 0, 120, []gauge{whole(Idle, "electrical_load")},
			[]gauge{whole(Idle, "battery_voltage"), whole(Idle, "charging_balance"), whole(Idle, "pump_flow"), whole(Idle, "controller_voltage"), ofIgnition(Idle, "coil_supply")}},
		{"output at idle", "idle_output: 45 A", "idle_output: %g A", 0, 70, []gauge{whole(Idle, "battery_voltage"), whole(Idle, "charging_balance"), whole(Idle, "pump_flow")}, nil},
		{"cold", "cold_ambient: 20 degC", "cold_ambient: %g degC", -55, 38, []gauge{whole(Cranking, "battery_voltage"), whole(Cranking, "pump_voltage"), whole(Cranking, "controller_voltage")},
			[]gauge{{func(d *schema.Design) any { return &d.Battery }, NoPoint, "cranking_current"}, {func(d *schema.Design) any { return &d.Battery }, NoPoint, "cold_resistance"}}},
		{"charge of the battery", "rest_voltage: 12.6 V", "rest_voltage: %g V", 11, 12.9, []gauge{whole(Cranking, "battery_voltage"), whole(Cranking, "pump_voltage")}, []gauge{{func(d *schema.Design) any { return &d.Battery }, NoPoint, "resistance"}}},
		{"cold cranking current", "cold_cranking: 600 A", "cold_cranking: %g A", 150, 1500, []gauge{whole(Cranking, "battery_voltage"), ofPump(NoPoint, "fault_current")}, []gauge{{func(d *schema.Design) any { return &d.Battery }, NoPoint, "resistance"}}},
		{"resistance of the coil", "coil: {resistance: 1.5 ohm", "coil: {resistance: %g ohm", 0.2, 9, nil, []gauge{ofIgnition(FullLoad, "coil_current"), ofIgnition(FullLoad, "coil_energy"), ofIgnition(Idle, "coil_current")}},
		{"heat of the coil", "driver_drop: 0 V, body_temperature: 20 degC", "driver_drop: 0 V, body_temperature: %g degC", -40, 180, nil, []gauge{ofIgnition(FullLoad, "coil_current"), ofIgnition(Idle, "coil_energy")}},
		{"drop of the driver", "driver_drop: 0 V", "driver_drop: %g V", 0, 4, nil, []gauge{ofIgnition(FullLoad, "coil_current"), ofIgnition(Cranking, "coil_current")}},
		{"current of the fan", "load: {kind: motor, current: 16 A", "load: {kind: motor, current: %g A", 0, 40, []gauge{ofFan("voltage_drop"), whole(Idle, "electrical_load")}, []gauge{whole(Idle, "battery_voltage"), ofFan("load_voltage"), whole(Idle, "pump_voltage")}},
		{"joint of a ground", "joint_resistance: 0.5 mohm", "joint_resistance: %g mohm", 0, 60, []gauge{ofPump(FullLoad, "return_drop"), ofFan("return_drop")}, []gauge{whole(FullLoad, "pump_voltage"), ofPump(NoPoint, "fault_current")}},
	}
}

// numbers reads the values of the six with a fact at a number; NaN where a value is not known.
func numbers(t require.TestingT, text string, s slope, x float64) (up, down []float64) {
	to := s.to
	if strings.Contains(to, "%g") {
		to = fmt.Sprintf(s.to, x)
	}
	d, err := schema.Load("six.yaml", []byte(strings.ReplaceAll(text, s.from, to)))
	require.NoError(t, err)
	session := NewSession(d, Options{})
	read := func(list []gauge) (out []float64) {
		for _, r := range list {
			part := any(d)
			if r.part != nil {
				part = r.part(d)
			}
			result, value := session.On(part, r.point, r.name), math.NaN()
			if result.Known() {
				switch v := result.Value().(type) {
				case quantity.Value:
					value = v.SI()
				case float64:
					value = v
				}
				require.False(t, math.IsNaN(value) || math.IsInf(value, 0), result.Path)
			}
			out = append(out, value)
		}
		return out
	}
	return read(s.up), read(s.down)
}

// ordered demands that no known value runs against its law, to rounding.
func ordered(t require.TestingT, s slope, list []gauge, less, more []float64, a, b float64) {
	for i, r := range list {
		if math.IsNaN(less[i]) || math.IsNaN(more[i]) {
			continue
		}
		require.LessOrEqual(t, less[i], more[i]+1e-7*math.Abs(more[i])+1e-12, "%s from %g to %g: %s at %s runs the wrong way", s.name, a, b, r.name, r.point)
	}
}

// More resistance never gives more current, a larger bore never costs more pressure, thinner air never more of it: every
// law over its range in four steps, then between any two numbers of any law, on other layouts too. Each law has points at which its values are known.
func TestValuesRunTheRightWay(t *testing.T) {
	data, err := os.ReadFile("testdata/six.yaml")
	require.NoError(t, err)
	text := string(data)
	others := []string{text, strings.ReplaceAll(text, "kind: roller_vane", "kind: turbine"), variants(t)["in tank"], variants(t)["battery discharges"]}
	pair := func(t require.TestingT, text string, s slope, a, b float64) (known int) {
		upA, downA := numbers(t, text, s, a)
		upB, downB := numbers(t, text, s, b)
		ordered(t, s, s.up, upA, upB, a, b)
		ordered(t, s, s.down, downB, downA, a, b)
		for _, list := range [][]float64{upA, downA} {
			for _, v := range list {
				if !math.IsNaN(v) {
					known++
				}
			}
		}
		return known
	}
	all := slopes()
	const steps = 4
	for _, s := range all {
		t.Run(s.name, func(t *testing.T) {
			require.Contains(t, text, s.from)
			known := 0
			for i := range steps {
				width := (s.high - s.low) / steps
				known += pair(t, text, s, s.low+float64(i)*width, s.low+float64(i+1)*width)
			}
			require.GreaterOrEqual(t, known, steps*(len(s.up)+len(s.down))/2, "most of its values are known")
		})
	}
	rapid.Check(t, func(t *rapid.T) {
		s := all[rapid.IntRange(0, len(all)-1).Draw(t, "law")]
		less := rapid.IntRange(0, 999).Draw(t, "less, of a thousand")
		more := rapid.IntRange(less+1, 1000).Draw(t, "more, of a thousand")
		at := func(share int) float64 { return s.low + (s.high-s.low)*float64(share)/1000 }
		pair(t, rapid.SampledFrom(others).Draw(t, "design"), s, at(less), at(more))
	})
}
