package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"plumbline/schema"
)

// slowedSix is the six of the tests with its pump slowed.
func slowedSix(t *testing.T, kind, volts string) (*Session, *schema.SpeedControl) {
	s := loaded(t, variant(t, "{kind: series_resistor, rating: 15 A, full_when_needed: true, reduced_voltage: 11 V", "{kind: "+kind+", rating: 15 A, full_when_needed: true, reduced_voltage: "+volts))
	return s, &s.Design().Pump.SpeedControl.Part
}

// By hand from the printed curve at the pump's rise of 312.6 kPa: 180 - 0.126 x 18 = 177.7 L/h and 6.6 + 0.126 x 1.3 = 6.76 A at
// 13.5 V. Less 6.76 A x 0.35 ohm, 11 V turn the motor at (11 - 2.367)/(13.5 - 2.367) = 0.7754 of that speed. A displacement pump
// loses that much of its flow without leakage, 195 L/h: 177.7 - 0.2246 x 195 = 133.9 L/h. Its current stays.
func TestSlowedPump(t *testing.T) {
	s, control := slowedSix(t, "series_resistor", "11 V")
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
	// The resistor takes what the circuit leaves and the pump does not get.
	amps, heat := number(t, s.On(control, Idle, "current")), number(t, s.On(control, Idle, "heat"))
	assert.InDelta(t, 11, state.voltage, 1e-12)
	left := heat/amps + 11
	assert.Less(t, left, number(t, s.At(Idle, "supply_voltage")))
	assert.InDelta(t, number(t, s.At(Idle, "pump_voltage")), left, 0.1, "the circuit leaves as much as at full speed but for the current's difference")

	// A module wastes a twentieth of what it passes.
	s, control = slowedSix(t, "pulsed_module", "11 V")
	assert.InDelta(t, 0.05*11*amps, number(t, s.On(control, Idle, "heat")), 1e-9)
	// Nothing adds volts.
	s, control = slowedSix(t, "pulsed_module", "16 V")
	assert.InDelta(t, full, number(t, s.On(control, Idle, "capacity")), 1e-15)
	r := s.On(control, FullLoad, "capacity")
	assert.Contains(t, r.Reason, "not at full_load")
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
