package derive

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// withPump is the six with one more circuit like the pump's, for another purpose.
func withPump(t *testing.T, purpose string, replace ...string) string {
	t.Helper()
	text := variant(t)
	own, next := strings.Index(text, "  - name: fuel pump\n"), strings.Index(text, "  - name: injectors\n")
	more := strings.NewReplacer("name: fuel pump", "name: second pump", "purpose: fuel_pump", "purpose: "+purpose).Replace(text[own:next])
	for i := 0; i < len(replace); i += 2 {
		require.Contains(t, more, replace[i])
		more = strings.ReplaceAll(more, replace[i], replace[i+1])
	}
	return text[:next] + more + text[next:]
}

// Two pumps side by side on wires of their own behind one relay: what the feed of the main relay carries is Kirchhoff's sum, and
// each pump gets what Ohm's law leaves behind the shared feed and its own wires. By continuity the line carries twice the flow
// that one of them gives at the same pressure and voltage.
func TestPumpsSideBySide(t *testing.T) {
	s := loaded(t, withPump(t, "parallel_pump"))
	d := s.Design()
	relay, first, second := &d.Circuits.Items[0], &d.Circuits.Items[1], &d.Circuits.Items[2]
	for _, p := range Points() {
		for _, name := range []string{"load_voltage", "load_current"} {
			assert.InDelta(t, s.On(first, p, name).Value().(interface{ SI() float64 }).SI(), s.On(second, p, name).Value().(interface{ SI() float64 }).SI(), 1e-8, "%s at %s: equal wires", name, p)
		}
		amps, own := in(t, s.At(p, "pump_current"), "A"), in(t, s.On(relay, p, "load_current"), "A")
		assert.InDelta(t, amps, in(t, s.On(second, p, "load_current"), "A"), 1e-8)
		// 0.8 m of 10 AWG at 60 degC and 1.0 m, 4.0 m and 0.5 m of 14 AWG at 60, 45 and 45 degC; ASTM B258: 3.277 and 8.285 mohm/m at 20 degC, 0.393 % a kelvin.
		hot := func(celsius float64) float64 { return 1 + 0.00393*(celsius-20) }
		shared, wires := 0.8*3.277e-3*hot(60), 1.0*8.285e-3*hot(60)+4.5*8.285e-3*hot(45)
		ground := in(t, s.On(&d.Grounds.Items[0], p, "drop"), "V")
		want := in(t, s.At(p, "supply_voltage"), "V") - shared*(2*amps+2+own) - wires*amps - ground
		assert.InDelta(t, want, in(t, s.At(p, "pump_voltage"), "V"), 0.01, "at %s", p)
	}

	// By hand from the printed table between 300 and 400 kPa: a displacement pump of 0.35 ohm loses (1 - s) x 195 L/h of its flow,
	// with s = (V - I R) / (13.5 V - I R).
	alone := loaded(t, variant(t))
	rise, volts, amps := in(t, s.At(Idle, "pump_pressure"), "kPa"), in(t, s.At(Idle, "pump_voltage"), "V"), in(t, s.At(Idle, "pump_current"), "A")
	slower := 1 - (volts-0.35*amps)/(13.5-0.35*amps)
	at := func(kPa, flow, next float64) float64 { return flow + (next-flow)*(rise-kPa)/100 }
	require.True(t, rise > 300 && rise < 400, "%g kPa", rise)
	assert.InEpsilon(t, 2*(at(300, 180, 162)-slower*195), in(t, s.At(Idle, "pump_flow"), "L/h"), 0.002)
	assert.InEpsilon(t, at(300, 6.6, 7.9), amps, 1e-6)
	assert.Less(t, in(t, s.At(Idle, "pump_voltage"), "V"), in(t, alone.At(Idle, "pump_voltage"), "V"), "they share the main relay's feed")

	// One that runs at full load alone leaves idle as it was.
	staged := loaded(t, withPump(t, "parallel_pump", "runs_at: [cranking, idle, cruise, full_load]", "runs_at: [full_load]"))
	assert.InDelta(t, in(t, alone.At(Idle, "pump_flow"), "L/h"), in(t, staged.At(Idle, "pump_flow"), "L/h"), 1e-6)
	assert.InDelta(t, in(t, s.At(FullLoad, "pump_flow"), "L/h"), in(t, staged.At(FullLoad, "pump_flow"), "L/h"), 0.01)

	// Thin wires of its own, grounded at the battery: the second one is slower, and both are known.
	uneven := loaded(t, withPump(t, "parallel_pump", "size: 14 AWG, length: 4.0 m", "size: 20 AWG, length: 4.0 m", "returns_to: chassis", "returns_to: battery_negative"))
	one, other := &uneven.Design().Circuits.Items[1], &uneven.Design().Circuits.Items[2]
	assert.Less(t, in(t, uneven.On(other, Idle, "load_voltage"), "V"), in(t, uneven.On(one, Idle, "load_voltage"), "V")-0.3)
	assert.Less(t, in(t, uneven.At(Idle, "pump_flow"), "L/h"), in(t, s.At(Idle, "pump_flow"), "L/h"))
}

// A standby pump takes the first one's place: nothing is counted twice, and its own circuit is judged as it runs.
func TestStandbyPump(t *testing.T) {
	alone := loaded(t, variant(t))
	s := loaded(t, withPump(t, "standby_pump", "length: 4.0 m", "length: 8.0 m"))
	for _, p := range Points() {
		for name, unit := range map[string]string{"pump_flow": "L/h", "pump_current": "A", "pump_voltage": "V", "battery_voltage": "V", "conversion_load": "A"} {
			assert.InDelta(t, in(t, alone.At(p, name), unit), in(t, s.At(p, name), unit), 1e-9, "%s at %s", name, p)
		}
	}
	d := s.Design()
	own := in(t, s.On(&d.Circuits.Items[2], Idle, "load_voltage"), "V")
	amps := in(t, s.On(&d.Circuits.Items[2], Idle, "load_current"), "A")
	// 4 m more of 14 AWG at 45 degC: 8.285 mohm/m at 20 degC (ASTM B258) x 1.098.
	assert.InDelta(t, in(t, s.At(Idle, "pump_voltage"), "V")-amps*4*8.285e-3*1.098, own, 0.005)
	relay := in(t, alone.On(&alone.Design().Circuits.Items[0], NoPoint, "steady_current"), "A")
	assert.InDelta(t, relay, in(t, s.On(&d.Circuits.Items[0], NoPoint, "steady_current"), "A"), 1e-9, "one of the two runs")
}

// A lift pump whose load is told as a fuel pump is a motor of its stated current, and no second injection pump.
func TestLiftPumpToldAsAFuelPump(t *testing.T) {
	const load = "kind: fuel_pump, lowest_voltage"
	s := loaded(t, withPump(t, "lift_pump", load, "kind: fuel_pump, current: 3 A, rated_voltage: 13.5 V, lowest_voltage"))
	motor := loaded(t, withPump(t, "lift_pump", load, "kind: motor, current: 3 A, rated_voltage: 13.5 V, lowest_voltage"))
	for _, p := range Points() {
		assert.InDelta(t, in(t, motor.At(p, "pump_voltage"), "V"), in(t, s.At(p, "pump_voltage"), "V"), 1e-9)
		assert.InDelta(t, 3, in(t, s.On(&s.Design().Circuits.Items[2], p, "load_current"), "A"), 1e-9)
	}
}

// One circuit feeds the pump while cranking, another afterwards, as behind an oil pressure switch with a bypass in START.
func TestPumpFedByTwoCircuitsInTurn(t *testing.T) {
	text := withPump(t, "fuel_pump", "runs_at: [cranking, idle, cruise, full_load]", "runs_at: [cranking]", "length: 4.0 m", "length: 2.0 m")
	text = strings.Replace(text, "runs_at: [cranking, idle, cruise, full_load]}\n  - name: second pump", "runs_at: [idle, cruise, full_load]}\n  - name: second pump", 1)
	s, alone := loaded(t, text), loaded(t, variant(t))
	for _, p := range []Point{Idle, Cruise, FullLoad} {
		assert.InDelta(t, in(t, alone.At(p, "pump_voltage"), "V"), in(t, s.At(p, "pump_voltage"), "V"), 1e-9)
	}
	assert.InDelta(t, in(t, s.On(&s.Design().Circuits.Items[2], Cranking, "load_voltage"), "V"), in(t, s.At(Cranking, "pump_voltage"), "V"), 1e-9)
	assert.Greater(t, in(t, s.At(Cranking, "pump_voltage"), "V"), in(t, alone.At(Cranking, "pump_voltage"), "V"))
}
