package derive

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/schema"
)

// rewired is the text of the six of the tests with other lengths, joints, loads, sources,
// ground points and operating points.
func rewired(t *rapid.T, text string) string {
	circuits := strings.Index(text, "circuits:")
	head, tail := text[:circuits], text[circuits:]
	change := func(in string, pattern string, to func(old string) string) string {
		found := regexp.MustCompile(pattern)
		require.Regexp(t, found, in)
		return found.ReplaceAllStringFunc(in, to)
	}
	drawn := func(name, key string, low, high float64, unit string) func(string) string {
		return func(string) string {
			return fmt.Sprintf("%s: %.3f %s", key, rapid.Float64Range(low, high).Draw(t, name), unit)
		}
	}
	tail = change(tail, `length: [0-9.]+ m\b`, drawn("wire", "length", 0.1, 5, "m"))
	tail = change(tail, `length: [0-9]+ mm`, drawn("strap", "length", 100, 1500, "mm"))
	tail = change(tail, `joint_resistance: [0-9.]+ mohm`, drawn("joint", "joint_resistance", 0, 5, "mohm"))
	tail = change(tail, `\bcurrent: [0-9.]+ A`, drawn("load", "current", 0, 9, "A"))
	tail = change(tail, `kind: (resistive|constant_current|electronic|motor)`, func(string) string {
		return "kind: " + rapid.SampledFrom([]string{"resistive", "constant_current", "electronic", "motor"}).Draw(t, "kind")
	})
	tail = change(tail, `returns_to: \w+`, func(string) string {
		return "returns_to: " + rapid.SampledFrom([]string{"battery_negative", "chassis", "engine"}).Draw(t, "returns to")
	})
	tail = change(tail, `runs_at: \[idle\]`, func(string) string {
		return "runs_at: " + rapid.SampledFrom([]string{"[]", "[idle]", "[cranking, cruise]"}).Draw(t, "runs at")
	})
	head = change(head, `_output: [0-9]+ A`, func(old string) string {
		return fmt.Sprintf("_output: %.3f A", rapid.Float64Range(10, 90).Draw(t, "output"))
	})
	return change(head, `other_load: [0-9]+ A`, drawn("other load", "other_load", 0, 30, "A")) + tail
}

// Whatever is wired how: at every operating point what the sources give is what
// the loads take. Charge: alternator and battery together give the currents of
// all loads, and as much comes back to the battery's negative post, by ground
// paths and by wire. Energy: the power of the sources is that of the loads and of
// every resistance on the way (Kirchhoff's laws; Tellegen's theorem).
func TestChargeAndEnergyBalanceWhateverTheWiring(t *testing.T) {
	text, known, tried := variant(t), 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d, err := schema.Load("six.yaml", []byte(rewired(t, text)))
		require.NoError(t, err)
		s := NewSession(d, Options{})
		for _, p := range Points() {
			tried++
			if !s.At(p, "pump_current").Known() {
				continue // the drop takes the pump off its curve
			}
			known++
			balanceOfCharge(t, s, p)
			balanceOfEnergy(t, s, p)
		}
	})
	assert.Greater(t, known, tried/4, "most designs must have a supply to balance")
}

func number(t require.TestingT, r *Result) float64 {
	require.True(t, r.Known(), "%s: missing %v, absent %s, %s", r.Path, r.Missing, r.Absent, r.Reason)
	return r.quantity.SI()
}

// starterAt is the current of the starter through the grounds.
func starterAt(s *Session, p Point) float64 {
	if p != Cranking {
		return 0
	}
	amps, _ := s.Design().Battery.StarterCurrent.Get()
	return amps.SI()
}

func balanceOfCharge(t require.TestingT, s *Session, p Point) {
	d := s.Design()
	taken, nominal, back := 0.0, 0.0, -starterAt(s, p)
	for i := range d.Circuits.Items {
		ct := &d.Circuits.Items[i]
		if s.On(ct, p, "load_voltage").Absent != "" {
			continue
		}
		amps := number(t, s.On(ct, p, "load_current"))
		taken += amps
		nominal += number(t, s.On(ct, NoPoint, "nominal_current"))
		if to, _ := ct.ReturnsTo.Get(); to == batteryNegative {
			back += amps
		}
	}
	for i := range d.Grounds.Items {
		if to, _ := d.Grounds.Items[i].To.Get(); to == batteryNegative {
			back += number(t, s.On(&d.Grounds.Items[i], p, "current"))
		}
	}
	assert.InDelta(t, taken, back, 1e-9*(taken+starterAt(s, p)+1), "what leaves the battery comes back, %s", p)
	if p == Cranking {
		return
	}
	other, _ := d.Alternator.OtherLoad.Get()
	load := number(t, s.At(p, "electrical_load"))
	assert.InDelta(t, nominal+other.SI(), load, 1e-9)
	// What the alternator gives and what the battery adds is the load.
	output, balance := number(t, s.At(p, "charging_output")), number(t, s.At(p, "charging_balance"))
	assert.InDelta(t, load, math.Min(output, load)+math.Max(0, -balance), 1e-9)
}

func balanceOfEnergy(t require.TestingT, s *Session, p Point) {
	d := s.Design()
	supply, starter := number(t, s.At(p, "battery_voltage")), starterAt(s, p)
	ohms := func(l []schema.Wire) (sum float64) {
		for i := range l {
			sum += number(t, s.On(&l[i], NoPoint, "resistance"))
		}
		return sum
	}
	amps := make([]float64, len(d.Circuits.Items))
	given, used := 0.0, 0.0
	for i := range d.Circuits.Items {
		ct := &d.Circuits.Items[i]
		if s.On(ct, p, "load_voltage").Absent != "" {
			continue
		}
		amps[i] = number(t, s.On(ct, p, "load_current"))
		given += supply * amps[i]
		used += number(t, s.On(ct, p, "load_voltage"))*amps[i] + ohms(ct.ReturnWires.Items)*amps[i]*amps[i]
	}
	// The main relay's feed carries its own load, the pump and the injectors.
	for i := range d.Circuits.Items {
		carried := amps[i]
		if i == 0 {
			carried += amps[1] + amps[2]
		}
		used += ohms(d.Circuits.Items[i].FeedWires.Items) * carried * carried
	}
	// The starter's current enters at the engine, over battery negative by the
	// drop of the second path.
	given += starter * number(t, s.On(&d.Grounds.Items[1], p, "drop"))
	for i := range d.Grounds.Items {
		g := &d.Grounds.Items[i]
		current := number(t, s.On(g, p, "current"))
		used += number(t, s.On(g, NoPoint, "resistance")) * current * current
	}
	assert.InEpsilon(t, given, used, 1e-9, "the sources give what loads and resistances take, %s", p)
}
