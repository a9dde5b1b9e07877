package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/schema"
)

// one is a circuit of 10 A over 4 m of 2.5 mm2 out and back, 7.98 mohm/m each (IEC 60228 class 5).
func one(fuse, relay, joints, more string) string {
	wire := "[{size: 2.5 mm2, length: 4 m, ambient: 20 degC, conductor: stranded_copper, joints: " + joints + "}]"
	return "circuits: [{name: a, fuse: " + fuse + ", relay: " + relay + ", feed_wires: " + wire + ", return_wires: " + wire +
		", source: battery_post, returns_to: battery_negative, load: {kind: constant_current, current: 10 A, rated_voltage: 12 V, runs_at: [cruise]}}]\n" +
		"battery: {system_voltage: 12 V}\nclimate: {under_bonnet: 80 degC}\n" +
		"alternator: {rated_output: 90 A, cruise_output: 50 A, other_load: 0 A, regulated_voltage: 14 V}\n" + more
}

// Ohm's law by hand: the drop is 10 A over 63.84 mohm of wire and whatever stands between.
func TestEveryElementDropsVoltage(t *testing.T) {
	const wires = 10 * 8 * 0.00798
	for _, test := range []struct {
		name, design string
		want         float64
	}{
		{"wires alone", one("none", "none", "none", ""), wires},
		{"fuse 6 mohm", one("{resistance: 6 mohm}", "none", "none", ""), wires + 0.06},
		{"contact 4 mohm", one("none", "{contact_resistance: 4 mohm}", "none", ""), wires + 0.04},
		{"two joints of 2 mohm each way", one("none", "none", "[{resistance: 2 mohm}, {resistance: 2 mohm}]", ""), wires + 0.08},
		{"one burnt joint", one("none", "none", "[{resistance: 100 mohm}]", ""), wires + 2},
	} {
		t.Run(test.name, func(t *testing.T) {
			results := byPath(load(t, test.design))
			assert.InDelta(t, test.want, in(t, results["design.circuits[0].at.cruise.voltage_drop"], "V"), 1e-9)
			assert.InDelta(t, 14-test.want, in(t, results["design.circuits[0].at.cruise.load_voltage"], "V"), 1e-9)
		})
	}
	results := byPath(load(t, one("{resistance: 6 mohm}", "{contact_resistance: 4 mohm}", "[{resistance: 2 mohm}, {resistance: 3 mohm}]", "")))
	for path, want := range map[string]float64{"fuse_drop": 0.06, "contact_drop": 0.04, "feed_wires[0].joints[1].drop": 0.03, "return_wires[0].joints[0].drop": 0.02} {
		// A load of 10 A at 12 V is 1.2 ohm, and divides the 12 V with what stands before it.
		assert.InDelta(t, 12*want/(12+want), in(t, results["design.circuits[0]."+path], "V"), 1e-12, path)
	}
}

// What is not stated is assumed by the facts that decide it, noted as assumed, and left open without assumptions or
// while a deciding fact is missing.
func TestAssumptionByFacts(t *testing.T) {
	ohms := func(text string) any {
		d := load(t, "circuits: [{fuse: {resistance: "+text+"}}]\n")
		return d.Circuits.Items[0].Fuse.Part.Resistance.Any()
	}
	table := map[string]any{"design.circuits[].fuse.resistance": &ByFacts{
		By: []string{"design.circuits[].fuse.kind", "design.circuits[].fuse.rating"},
		Rows: []AssumedRow{
			{[]any{"blade", 1.0}, ohms("100 mohm")}, {[]any{"blade", 10.0}, ohms("10 mohm")}, {[]any{"blade", 20.0}, ohms("5 mohm")},
			{[]any{"glass", 1.0}, ohms("50 mohm")},
		}}}
	drop := func(fuse string, o Options) *Result {
		d := load(t, one(fuse, "none", "none", ""))
		return NewSession(d, o).On(&d.Circuits.Items[0], Cruise, "voltage_drop")
	}
	const wires = 10 * 8 * 0.00798
	for fuse, want := range map[string]float64{
		"{kind: blade, rating: 5 A}": 1, "{kind: blade, rating: 10 A}": 0.1, "{kind: blade, rating: 15 A}": 0.1,
		"{kind: blade, rating: 40 A}": 0.05, "{kind: glass, rating: 40 A}": 0.5,
	} {
		r := drop(fuse, Options{Assumptions: table})
		assert.InDelta(t, wires+want, in(t, r, "V"), 1e-9, fuse)
		assert.Equal(t, []string{"design.circuits[0].fuse.resistance"}, r.Assumed)
	}
	stated := drop("{kind: blade, rating: 15 A, resistance: 7 mohm}", Options{Assumptions: table})
	assert.InDelta(t, wires+0.07, in(t, stated, "V"), 1e-9)
	assert.Empty(t, stated.Assumed)
	assert.Equal(t, []string{"design.circuits[0].fuse.kind"}, drop("{rating: 15 A}", Options{Assumptions: table}).Missing)
	assert.Equal(t, []string{"design.circuits[0].fuse.resistance"}, drop("{kind: blade, rating: 15 A}", Options{}).Missing)
	assert.Equal(t, []string{"design.circuits[0].fuse.resistance"}, drop("{kind: breaker, rating: 15 A}", Options{Assumptions: table}).Missing, "no row")
}

// A ground strap at 80 degC has 1 + 0.00393 x 60 times the resistance it has at 20 degC (NBS Handbook 100).
func TestGroundStrapIsHot(t *testing.T) {
	ohms := func(ambient string) float64 {
		return in(t, byPath(load(t, "grounds: [{name: a, to: battery_negative, size: 35 mm2, length: 1 m, joint_resistance: 1 mohm, ambient: "+ambient+"}]\n"))["design.grounds[0].resistance"], "mohm")
	}
	assert.InDelta(t, 1.554, ohms("20 degC"), 1e-3)
	assert.InDelta(t, 1+0.554*1.2358, ohms("80 degC"), 1e-3)
}

// short is a vehicle whose alternator gives 30 A at 14.0 V and that draws the loads given, in A at 14 V; the battery
// has 9 mohm (600 A) behind 12.6 V.
func short(t *testing.T, kind, amps, other string) float64 {
	d := load(t, "circuits: [{name: a, load: {kind: "+kind+", current: "+amps+", rated_voltage: 14 V, runs_at: [idle]}}]\n"+
		"battery: {system_voltage: 12 V, cold_cranking: 600 A, rest_voltage: 12.6 V}\nalternator: {idle_output: 30 A, regulated_voltage: 14 V, other_load: "+other+"}\n")
	return in(t, NewSession(d, Options{}).At(Idle, "battery_voltage"), "V")
}

// By hand: loads that draw in proportion to voltage settle where they draw what there is, V = 14 x 30 / I; below the
// rest voltage the battery helps: 30 + (12.6 - V)/0.009 = I V / 14.
func TestAlternatorBeyondItsLimit(t *testing.T) {
	assert.InDelta(t, 14, short(t, "resistive", "10 A", "20 A"), 1e-9, "just enough")
	assert.InDelta(t, 14*30/31.0, short(t, "resistive", "11 A", "20 A"), 1e-9, "1 A short of 31: 13.55 V, no cliff")
	assert.InDelta(t, (30+12.6/0.009)/(40/14.0+1/0.009), short(t, "resistive", "20 A", "20 A"), 1e-9, "10 A short: the battery helps")
	// 20 A at any voltage and 20 A by resistance: 10 A are left for these at 7 V, so the battery helps.
	assert.InDelta(t, (10+12.6/0.009)/(20/14.0+1/0.009), short(t, "motor", "20 A", "20 A"), 1e-9)
	// An electronic load draws more as the voltage falls: 140 W / V + 25 A x V / 14 is above 30 A at every voltage, so the
	// battery helps: 1.5 A more at 12.6 V, which is 0.03 V under 9 mohm and the slope of the loads.
	assert.InDelta(t, 12.57, short(t, "electronic", "10 A", "25 A"), 0.02)
}

// Rated 63 A at 23 degC, by a quarter of a percent a kelvin 54.0 A in 80 degC air (practice).
func TestHotAlternator(t *testing.T) {
	d := load(t, "climate: {under_bonnet: 80 degC}\nalternator: {rated_output: 63 A, cruise_output: 60 A}\n")
	assert.InDelta(t, 54.02, in(t, NewSession(d, Options{}).At(Cruise, "charging_output"), "A"), 0.01)
}

// Cranking by hand: 600 A battery, 9 mohm; at -18 degC 180 A become 324 A: 12.6 - 2.916 V. At 20 degC 12.6 - 1.62 V.
func TestCrankingFollowsTheCold(t *testing.T) {
	heating := "nothing"
	volts := func(cold, rest, system string) float64 {
		d := load(t, "climate: {cold_ambient: "+cold+"}\nengine: {preheating: "+heating+"}\nbattery: {system_voltage: "+system+", cold_cranking: 600 A, rest_voltage: "+rest+", starter_current: 180 A}\n")
		return in(t, NewSession(d, Options{}).At(Cranking, "battery_voltage"), "V")
	}
	assert.InDelta(t, 10.98, volts("20 degC", "12.6 V", "12 V"), 1e-9)
	assert.InDelta(t, 9.684, volts("-18 degC", "12.6 V", "12 V"), 1e-9)
	assert.InDelta(t, 12.2-180*0.009*1.3, volts("20 degC", "12.2 V", "12 V"), 1e-9, "half charged")
	assert.InDelta(t, 13.0-180*0.009, volts("20 degC", "13.0 V", "12 V"), 1e-9, "mat battery, full")
	assert.InDelta(t, 25.2-180*0.018, volts("20 degC", "25.2 V", "24 V"), 1e-9)
	assert.InDelta(t, 6.3-180*0.0045, volts("20 degC", "6.3 V", "6 V"), 1e-9)
	assert.InDelta(t, 0, volts("-29 degC", "4 V", "12 V"), 1e-9, "a dead battery gives nothing")
	// A block heater holds the engine 25 K warmer, at -4 degC: 1.3 + 0.5 x 4/18; the battery stays cold, 9 x 1.33 mohm.
	heating = "block_heater"
	assert.InDelta(t, 12.6-180*(1.3+0.5*4/18)*0.009*1.33, volts("-29 degC", "12.6 V", "12 V"), 1e-9)
}

// A converter of 13.6 V on a 24 V vehicle feeds the circuits while the battery holds its lowest input. At the battery
// 10 A at 13.6 V are 10 x 13.6 / (0.9 x 28) = 5.40 A.
func TestConverter(t *testing.T) {
	at := func(least string) (*schema.Design, *Session) {
		d := load(t, "circuits: [{name: a, load: {kind: constant_current, current: 10 A, rated_voltage: 13.5 V, runs_at: [cranking, idle]}}]\n"+
			"climate: {cold_ambient: 20 degC}\nengine: {preheating: nothing}\nbattery: {system_voltage: 24 V, cold_cranking: 600 A, rest_voltage: 25.2 V, starter_current: 300 A, converter: {output_voltage: 13.6 V, rated_current: 20 A, lowest_input: "+least+"}}\n"+
			"alternator: {idle_output: 30 A, regulated_voltage: 28 V, other_load: 10 A}\n")
		return d, NewSession(d, Options{})
	}
	_, s := at("18 V")
	assert.InDelta(t, 19.8, in(t, s.At(Cranking, "battery_voltage"), "V"), 1e-9)
	assert.InDelta(t, 13.6, in(t, s.At(Cranking, "supply_voltage"), "V"), 1e-9)
	assert.InDelta(t, 10+136/(0.9*28), in(t, s.At(Idle, "electrical_load"), "A"), 1e-9)
	assert.InDelta(t, 28, in(t, s.At(Idle, "battery_voltage"), "V"), 1e-9)
	_, s = at("20 V")
	assert.InDelta(t, 0, in(t, s.At(Cranking, "supply_voltage"), "V"), 1e-9, "the converter drops out")
}
