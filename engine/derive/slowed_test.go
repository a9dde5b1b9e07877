package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"plumbline/schema"
)

// slowedSix is the six of the tests with its pump slowed.
func slowedSix(t *testing.T, kind, volts string) (*Session, *schema.SpeedControl) {
	s := loaded(t, variant(t, "{kind: series_resistor, rating: 15 A, full_when_needed: true, resistance: 400 mohm, reduced_voltage: 11 V", "{kind: "+kind+", rating: 15 A, full_when_needed: true, resistance: 400 mohm, reduced_voltage: "+volts))
	return s, &s.Design().Pump.SpeedControl.Part
}

// behindResistor is the same with a resistor of so much before it.
func behindResistor(t *testing.T, ohms string) (*Session, *schema.SpeedControl) {
	s := loaded(t, variant(t, "resistance: 400 mohm, reduced_voltage", "resistance: "+ohms+", reduced_voltage"))
	return s, &s.Design().Pump.SpeedControl.Part
}

// By hand from the printed curve at the pump's rise of 312.6 kPa: 180 - 0.126 x 18 = 177.7 L/h and 6.6 + 0.126 x 1.3 = 6.76 A at
// 13.5 V. Less 6.76 A x 0.35 ohm, 11 V turn the motor at (11 - 2.367)/(13.5 - 2.367) = 0.7754 of that speed. A displacement pump
// loses that much of its flow without leakage, 195 L/h: 177.7 - 0.2246 x 195 = 133.9 L/h. Its current stays.
func TestSlowedPump(t *testing.T) {
	s, control := slowedSix(t, "pulsed_module", "11 V")
	state := slowedAt(s.begin(entryNamed("capacity"), control, Idle))
	full := number(t, s.At(Idle, "pump_flow"))
	flow := in(t, s.On(control, Idle, "capacity"), "L/h")
	assert.InDelta(t, number(t, s.At(Idle, "throttle_body_pressure")), number(t, s.On(control, Idle, "throttle_body_pressure")), 2e3, "the regulator holds")
	assert.InDelta(t, 312.6e3, state.state.PumpRise, 100)
	assert.InDelta(t, 133.9, flow, 0.1)
	assert.InDelta(t, 6.76, in(t, s.On(control, Idle, "current"), "A"), 0.005)
	assert.Less(t, flow, full*3.6e6)
	// What goes in comes out: pump flow is the engine's and the return's.
	assert.InDelta(t, flow, in(t, s.On(control, Idle, "return_flow"), "L/h")+in(t, s.At(Idle, "fuel_demand"), "L/h"), 1e-6)
	assert.InDelta(t, 11, in(t, s.On(control, Idle, "voltage"), "V"), 1e-12)
	// A module wastes a twentieth of what it passes.
	amps := number(t, s.On(control, Idle, "current"))
	assert.InDelta(t, 0.05*11*amps, number(t, s.On(control, Idle, "heat")), 1e-9)
	// Nothing adds volts.
	s, control = slowedSix(t, "pulsed_module", "16 V")
	assert.InDelta(t, full, number(t, s.On(control, Idle, "capacity")), 1e-15)
	r := s.On(control, FullLoad, "capacity")
	assert.Contains(t, r.Reason, "not at full_load")
}

// The resistor is one more piece of the pump's circuit: a displacement pump draws 6.76 A at its pressure whatever its speed, so
// 0.4 ohm take 6.76 x 0.4 = 2.70 V and turn 6.76 x 6.76 x 0.4 = 18.3 W into heat; flow and current are those of a pump given the
// rest by other means.
func TestPumpBehindAResistor(t *testing.T) {
	s, control := behindResistor(t, "400 mohm")
	volts := in(t, s.On(control, Idle, "voltage"), "V")
	assert.InDelta(t, 6.76, in(t, s.On(control, Idle, "current"), "A"), 0.01)
	assert.InDelta(t, number(t, s.At(Idle, "pump_voltage"))-2.70, volts, 0.01)
	assert.InDelta(t, 18.3, in(t, s.On(control, Idle, "heat"), "W"), 0.05)
	same, module := slowedSix(t, "pulsed_module", figure(volts)+" V")
	assert.InDelta(t, in(t, same.On(module, Idle, "capacity"), "L/h"), in(t, s.On(control, Idle, "capacity"), "L/h"), 0.05)

	// So much that the motor cannot turn: it stands, winding and resistor share the voltage, and the pressure is gone.
	s, control = behindResistor(t, "8 ohm")
	assert.Less(t, in(t, s.On(control, Cruise, "voltage"), "V"), 2.4)
	assert.InDelta(t, 0, in(t, s.On(control, Cruise, "capacity"), "L/h"), 1e-9)
	s, control = behindResistor(t, "50 mohm")
	assert.Greater(t, in(t, s.On(control, Cruise, "capacity"), "L/h"), 150.0)
}

func entryNamed(name string) *Entry {
	for _, e := range slowedEntries() {
		if e.Name == name {
			return &e
		}
	}
	return nil
}

// More voltage never gives less, and never more than the full voltage does.
func TestSlowedPumpGrowsWithItsVoltage(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		low := rapid.Float64Range(9, 13).Draw(r, "low")
		high := low + rapid.Float64Range(0, 2).Draw(r, "more")
		at := func(volts float64) float64 {
			s, control := slowedSix(t, "pulsed_module", figure(volts)+" V")
			return number(r, s.On(control, Cruise, "capacity"))
		}
		full := number(r, loaded(t, variant(t)).At(Cruise, "pump_capacity"))
		assert.LessOrEqual(r, at(low), at(high)*(1+1e-9))
		assert.LessOrEqual(r, at(high), full*(1+1e-9))
	})
}
