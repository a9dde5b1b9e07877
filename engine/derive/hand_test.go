package derive

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What entries, blends and leaks do to the fuel correction, by hand: 5.7 L entered for 5.0 is 5.0/5.7 - 1 = -12.3 %; 600 entered for 500 is +20 %; a
// gauge of 58 psi where 43.5 are entered at the test pressure is sqrt(43.5/58) - 1 = -13.4 %; E85 in the tank with petrol entered asks for some 41 % more
// volume; a drop a second, 0.18 L/h, of 2.74 L/h is -6.6 %; one of two injectors dead is 1/(1 - 1/2) - 1 = +100 %; a tenth more pulses counted than come
// is 1/1.1 - 1 = -9.1 %.
func TestFuelCorrectionByHand(t *testing.T) {
	correction := func(faults map[string]float64, swaps ...string) float64 {
		text := variant(t, append([]string{"setup: {displacement: 4.1 L, injector_flow: 600 cc/min, injector_flow_at: system_pressure, fuel_pressure: 300 kPa, ethanol: 10 %,",
			"setup: {displacement: 4.1 L, injector_flow: 600 cc/min, injector_flow_at: test_pressure, fuel_pressure: 300 kPa, ethanol: 10 %,"}, swaps...)...)
		s := loaded(t, text)
		return si(t, NewSession(s.design, Options{Faults: faults}).At(Idle, "fuel_correction"))
	}
	sound := correction(nil)
	against := func(x float64) float64 { return (1+x)/(1+sound) - 1 }
	assert.InDelta(t, 0, sound, 0.03)
	assert.InDelta(t, 5.0/5.7-1, against(correction(nil, "setup: {displacement: 4.1 L", "setup: {displacement: 4.674 L")), 1e-9)
	assert.InDelta(t, 0.2, against(correction(nil, "injector_flow: 600 cc/min, injector_flow_at: test", "injector_flow: 720 cc/min, injector_flow_at: test")), 1e-9)
	assert.InDelta(t, -0.134, against(correction(nil, "test_pressure, fuel_pressure: 300 kPa", "test_pressure, fuel_pressure: 225 kPa")), 5e-4)
	assert.InDelta(t, 1.0, against(correction(map[string]float64{fuelLost: 0.5})), 1e-9)
	assert.InDelta(t, -1.0/11, against(correction(map[string]float64{falsePulses: 0.1})), 1e-9)

	s := loaded(t, variant(t))
	demand := si(t, s.At(Idle, "fuel_demand"))
	drop := 0.18e-3 / 3600
	assert.InDelta(t, -drop/demand, correction(map[string]float64{rawFuel: drop})-sound, 1e-9)

	// 0.3.10 of no one's making but the densities and air needs of the blends: the volume of E85 over that of petrol is 1.41 to 1.43.
	blend := correction(nil, "ethanol: 10 %, load_signal", "ethanol: 0 %, load_signal") // E10 in the tank, petrol entered
	assert.InDelta(t, 0.036, against(blend), 0.004)
}

// A hole of 2 mm lets 0.60 g/s in, one of 4 mm 2.40 g/s (choked, discharge 0.8, 20 degC; White, Fluid Mechanics, chapter 9). With the throttle as load signal that is
// unmetered, with manifold pressure it is not, and the vacuum falls in both.
func TestAirLeakByHand(t *testing.T) {
	hole := map[string]float64{airLeak: 3.1416e-6}
	text := variant(t)
	s := loaded(t, text)
	air := si(t, s.At(Idle, "air_mass_flow"))
	by := func(text string) float64 {
		d := loaded(t, text).design
		return si(t, NewSession(d, Options{Faults: hole}).At(Idle, "fuel_correction")) - si(t, NewSession(d, Options{}).At(Idle, "fuel_correction"))
	}
	assert.InDelta(t, 0, by(text), 1e-12)
	assert.InEpsilon(t, 0.60e-3/air, by(strings.Replace(text, "load_signal: manifold_pressure", "load_signal: throttle_position", 1)), 0.02)
	leaking := NewSession(s.design, Options{Faults: hole})
	m := &s.design.Measured
	assert.Less(t, si(t, leaking.On(m, NoPoint, "expected_idle_vacuum")), si(t, s.On(m, NoPoint, "expected_idle_vacuum")))
	assert.Greater(t, si(t, leaking.On(m, NoPoint, "expected_idle_speed")), si(t, s.On(m, NoPoint, "expected_idle_speed")))
}

// With the engine still the pump's volts are those of the battery at rest less what its own way takes: by Ohm's law through the wires' resistances, the main
// relay's wire with the pump alone on it.
func TestPumpWithTheEngineStill(t *testing.T) {
	s := loaded(t, variant(t))
	d := s.Design()
	m := &d.Measured
	amps := si(t, s.On(m, NoPoint, "expected_test_pump_current"))
	ohms := si(t, s.On(&d.Circuits.Items[0].FeedWires.Items[0], NoPoint, "resistance")) + si(t, s.On(&d.Circuits.Items[1], NoPoint, "resistance"))
	rest := si(t, s.On(&d.Battery, NoPoint, "conversion_rest_voltage"))
	volts := si(t, s.On(m, NoPoint, "expected_test_pump_voltage"))
	assert.InDelta(t, rest-amps*ohms, volts, 0.06, "the chassis' own path takes some millivolts more")
	assert.Less(t, volts, rest-amps*ohms+1e-9)
	assert.InDelta(t, 300e3, si(t, s.On(m, NoPoint, "expected_prime_pressure")), 1)
	assert.Positive(t, si(t, s.On(m, NoPoint, "expected_can_flow")))
}
