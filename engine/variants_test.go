package engine_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// near is a derived value worked out by hand.
type near struct {
	point derive.Point
	name  string
	// want is in unit; the sum by hand is within this many of it.
	want, within float64
	unit         string
}

// variantCase is a demo design with one or two facts changed.
type variantCase struct {
	design string
	// change lists texts of the design and what stands in their place.
	change []string
	// fails and warns are the rules that must find it, and no others.
	fails, warns []string
	numbers      []near
	// chain are facts that the account of the first number must show, as written.
	chain map[string]string
}

// What a mechanic expects of five faulty variants of the demo designs. The
// numbers are worked out by hand, from the tables and formulas named beside them.
func TestVariants(t *testing.T) {
	t.Parallel()
	lib := library(t)
	for name, c := range variants() {
		t.Run(name, func(t *testing.T) {
			text := string(designText(t, c.design))
			for i := 0; i < len(c.change); i += 2 {
				require.Equal(t, 1, strings.Count(text, c.change[i]), "the text must stand once in the design: %s", c.change[i])
				text = strings.Replace(text, c.change[i], c.change[i+1], 1)
			}
			report := judged(t, lib, name+".yaml", []byte(text))
			assert.Equal(t, c.fails, rulesOf(having(report, engine.Fail)), lines(having(report, engine.Fail)))
			assert.Equal(t, c.warns, rulesOf(having(report, engine.Warn)), lines(having(report, engine.Warn)))

			design, err := schema.Load(name+".yaml", []byte(text))
			require.NoError(t, err)
			session := lib.Session(design, engine.Options{})
			for _, n := range c.numbers {
				r := session.At(n.point, n.name)
				require.True(t, r.Known(), "%s: %s %v", r.Path, r.Reason, r.Missing)
				got, err := r.Value().(quantity.Value).In(n.unit)
				require.NoError(t, err)
				assert.InDelta(t, n.want, got, n.within, r.Path)
			}
			first := c.numbers[0]
			shown := map[string]string{}
			collect(session.Explain(derive.All().Find("Design", first.name), design, first.point, quantity.Both), shown)
			for path, text := range c.chain {
				assert.Equal(t, text, shown[path], "%s in the account of %s", path, first.name)
			}
		})
	}
}

// rulesOf lists the rules of findings, each once, in order.
func rulesOf(list []engine.Finding) []string {
	var out []string
	for _, f := range list {
		out = append(out, f.Rule)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// collect lists what an account shows: texts by path.
func collect(s *derive.Step, shown map[string]string) {
	shown[s.Path] = s.Text
	for _, in := range s.Inputs {
		collect(in, shown)
	}
	for _, in := range s.Together {
		collect(in, shown)
	}
}

func variants() map[string]variantCase {
	const six, van = "demo/six-return.yaml", "demo/van-v6-in-tank.yaml"
	return map[string]variantCase{
		// A pump for half the engine. To hold the setting at the demand it must make
		// 300 kPa + 0.55 m x 728 kg/m3 x 9.81 m/s2 (4 kPa) + about 1 kPa of line at 41 L/h = 305 kPa.
		// It runs at 13.6 V, 1.007 of the curve's 13.5 V: 305 kPa stand for 305 / 1.007^2 = 301 kPa there, 36.0 L/h,
		// and 36.0 x 1.007 = 36.2 L/h. The engine burns 90 kW x 335 g/kWh / 728 g/L = 41.4 L/h. The pump gives that
		// where the curve shows 41.4 / 1.007 = 41.1 L/h: at 236 kPa, x 1.007^2 = 240 kPa, less 5 kPa up front: 235 kPa.
		"starved": {
			design: six,
			change: []string{
				`    - {pressure: 200 kPa, flow: 176 L/h, current: 4.9 A}
    - {pressure: 300 kPa, flow: 160 L/h, current: 5.8 A}
    - {pressure: 400 kPa, flow: 140 L/h, current: 6.8 A}
    - {pressure: 500 kPa, flow: 114 L/h, current: 7.9 A}
`, `    - {pressure: 200 kPa, flow: 44 L/h, current: 4.9 A}
    - {pressure: 300 kPa, flow: 36 L/h, current: 5.8 A}
    - {pressure: 400 kPa, flow: 26 L/h, current: 6.8 A}
    - {pressure: 500 kPa, flow: 13 L/h, current: 7.9 A}
`},
			fails: []string{"fuel/delivery.flow-at-full-load"},
			// At 240 kPa the injectors are open 0.797 of the time, and 0.8 ms in 1.5 x 66.7 pulses a second come on top.
			warns: []string{"fuel/injectors.time-to-close", "sense/pump.rating-below-curve", "sense/pump.rating-on-curve", "start/measured.full-load-pressure-computed"},
			numbers: []near{
				{derive.FullLoad, "pump_capacity", 36.2, 0.4, "L/h"},
				{derive.FullLoad, "fuel_demand", 41.4, 0.1, "L/h"},
				{derive.FullLoad, "throttle_body_pressure", 235, 3, "kPa"},
				{derive.Idle, "throttle_body_pressure", 300, 0.1, "kPa"},
			},
			chain: map[string]string{
				"design.pump.curve[1].flow":             "36 L/h (9.51 gal/h)",
				"design.engine.specific_consumption":    "0.55 lb/(hp h) (335 g/kWh)",
				"at.full_load.starved":                  "yes",
				"at.full_load.fuel_demand":              "10.92 gal/h (41.3 L/h)",
				"design.regulator.setting":              "300 kPa (43.5 psi)",
				"design.pump.curve_voltage":             "13.5 V",
				"design.circuits[1].feed_wires[1].size": "10 AWG (5.26 mm2)",
			},
		},
		// A return tube of 3 mm bore. At idle nearly all of the pump's 147 L/h go back: 145 L/h = 40.3 mL/s through
		// 7.07 mm2 at 5.70 m/s; Re = 5.70 x 0.003 / 0.5e-6 = 34200; drawn tube of 0.003 mm, 0.001 of the bore;
		// Colebrook f = 0.0252; 0.0252 x 3.6 / 0.003 x 728 x 5.70^2 / 2 = 358 kPa, with the hoses, the
		// changes of bore and the fall to the tank as much behind the regulator. A diaphragm regulator cannot hold less.
		// The pump then makes 358 + 4 + 7 kPa of line = 369 kPa, on its curve at 13.5 V 147 L/h: the flow begun with.
		"over-pressured": {
			design: six,
			change: []string{"- name: return tube       # same tube as the feed, one roll did both\n      kind: tube\n      bore: 8.1 mm",
				"- name: return tube\n      kind: tube\n      bore: 3 mm"},
			fails: []string{"fuel/return.keeps-control", "start/measured.idle-pressure"},
			warns: []string{"fuel/joints.bore-step", "sense/lines.bore-usual", "sense/lines.tube-wall"},
			numbers: []near{
				{derive.Idle, "throttle_body_pressure", 358, 6, "kPa"},
				{derive.Idle, "return_back_pressure", 358, 6, "kPa"},
				{derive.Idle, "pump_flow", 147, 1.5, "L/h"},
			},
			chain: map[string]string{
				"design.return_line.runs[1].bore":   "3 mm (0.118 in)",
				"design.return_line.runs[1].length": "3.6 m (11.81 ft)",
				"design.regulator.construction":     "diaphragm",
				"design.regulator.setting":          "300 kPa (43.5 psi)",
			},
		},
		// The pump fed through 6 m of 22 AWG. 53.0 mohm/m (ASTM B258: 0.326 mm2) x 6.0 m x 1.118 at 50 degC = 355 mohm;
		// with 1.1 m of 10 AWG (4 mohm), the return (1.5 mohm), the grounds (about 1 mohm), fuse 4.5, contact 4 and
		// joints some 6 mohm: 376 mohm. At 10.97 V, 0.813 of the curve's 13.5 V, 404 kPa stand for 404 / 0.813^2 =
		// 612 kPa: 13.0 A on the curve, x 0.813^2 = 8.6 A; 14.2 V - 8.6 A x 0.376 ohm = 10.97 V. Flow: 176 L/h at 612 kPa
		// x 0.813 = 143 L/h, enough for 37 L/h. A short at the pump draws some 33 A, less than twice the 20 A fuse.
		"voltage-starved": {
			design: van,
			change: []string{"- size: 10 AWG\n        length: 3.6 m", "- size: 22 AWG\n        length: 6.0 m"},
			fails: []string{"electrical/fusing.fuse-within-wire", "electrical/fusing.short-heats-wire", "electrical/fusing.short-opens-fuse",
				"electrical/wires.pump-drop", "electrical/wires.wire-carries-load"},
			warns: []string{"electrical/wires.smallest-size", "fuel/delivery.curve-near-voltage", "sense/wiring.insulation-over-copper", "start/measured.pump-current"},
			numbers: []near{
				{derive.FullLoad, "pump_voltage", 10.97, 0.06, "V"},
				{derive.FullLoad, "pump_current", 8.6, 0.1, "A"},
				{derive.FullLoad, "pump_flow", 143, 3, "L/h"},
			},
			chain: map[string]string{
				"design.circuits[1].feed_wires[1].size":       "22 AWG (0.326 mm2)",
				"design.circuits[1].feed_wires[1].length":     "6.0 m (19.69 ft)",
				"design.circuits[1].feed_wires[1].ambient":    "50 degC (122 degF)",
				"design.circuits[1].feed_wires[1].resistance": "355 mohm",
				"at.full_load.battery_voltage":                "14.2 V",
			},
		},
		// Fuel at 55 degC. EPA AP-42 chapter 7.1, figure 7.1-14b, slope 3.0, Reid 9.0 psi: A = 15.64 - 1.854 x 1.732
		// - (0.8742 - 0.3280 x 1.732) ln 9 = 11.756; B = 8742 - 1042 x 1.732 - (1049 - 179.4 x 1.732) ln 9 = 5315;
		// at 131 degF exp(11.756 - 5315 / 590.6) = 15.75 psia = 108.6 kPa. The inlet stands at the barometer of 300 m,
		// 97.8 kPa (US Standard Atmosphere 1976), less 0.7 kPa of strainer: 97.0 kPa.
		"vapour-locking": {
			design: six,
			change: []string{"hot_fuel: 45 degC", "hot_fuel: 55 degC"},
			fails:  []string{"fuel/vapour.inlet-stays-liquid"},
			numbers: []near{
				{derive.FullLoad, "vapour_margin", -11.6, 0.3, "kPa"},
				{derive.FullLoad, "vapour_pressure", 108.6, 0.2, "kPa abs"},
				{derive.FullLoad, "pump_inlet_pressure", 97.0, 0.2, "kPa abs"},
			},
			chain: map[string]string{
				"design.climate.hot_fuel":          "55 degC (131 degF)",
				"design.fuel.reid_vapour_pressure": "9.0 psi (62.1 kPa abs)",
				"design.climate.altitude":          "300 m (984 ft)",
			},
		},
		// The controller grounded through 6 m of 20 AWG and the sensors at the engine. 33.2 mohm/m (ASTM B258: 0.518 mm2)
		// x 6 m x 1.157 at 60 degC = 231 mohm, with 3 mohm of joints 234; the controller's 20 W are 1.49 A at 13.6 V; 1.49 x 0.234 = 349 mV.
		// The engine block lies 4 mV over battery negative: 5.4 A through 0.69 mohm. 4 - 349 = -345 mV at the sensors.
		"ground-shifted": {
			design: six,
			change: []string{"sensor_ground: controller_pin", "sensor_ground: engine",
				controllerReturn, strings.Replace(controllerReturn, "size: 14 AWG\n        length: 1.6 m", "size: 20 AWG\n        length: 6.0 m", 1)},
			fails: []string{"electrical/grounds.controller-offset", "electrical/grounds.sensor-ground", "electrical/wires.allowed-drop"},
			numbers: []near{
				{derive.Idle, "sensor_ground_offset", -345, 3, "mV"},
				{derive.Idle, "controller_ground_offset", 349, 3, "mV"},
			},
			chain: map[string]string{
				"design.sensors.sensor_ground":                  "engine",
				"design.circuits[5].return_wires[0].size":       "20 AWG (0.518 mm2)",
				"design.circuits[5].return_wires[0].length":     "6.0 m (19.69 ft)",
				"design.circuits[5].return_wires[0].resistance": "231 mohm",
				"at.idle.controller_ground_offset":              "349 mV",
			},
		},
	}
}

// controllerReturn is the end of the controller's feed and the beginning of its return in the six's design.
const controllerReturn = `          - {kind: ring_terminal, tool: ratchet, insulation_gripped: true, tinned_before_crimp: false, pull_tested: true, resistance: 1 mohm, distance_from_connector: 250 mm}
          - {kind: crimp_terminal, tool: ratchet, insulation_gripped: true, tinned_before_crimp: false, pull_tested: true, resistance: 2 mohm, distance_from_connector: 0 mm}
    return_wires:
      - size: 14 AWG
        length: 1.6 m`
