package derive

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/quantity"
)

// boostedSix is the six of the tests with 100 kPa of boost.
func boostedSix(t *testing.T, side, location, reference string) *Session {
	t.Helper()
	return loaded(t, variant(t, "aspiration: natural", "aspiration: turbocharged\n  boost: 100 kPa\n  charge_temperature: 70 degC",
		"  bores: 2\n", "  bores: 2\n  compressor_side: "+side+"\n", "air_rating: 350 cfm", "air_rating: 900 cfm",
		"location: above_throttle", "location: "+location, "reference: atmosphere", "reference: "+reference))
}

// What rail and nozzle see at full load with 100 kPa of boost and 300 kPa set,
// by where the compressor sits. In whole kPa: the losses of cleaner and throttle
// (k and d) stand as names. Definition of gauge pressure.
func TestWhatNozzleAndRegulatorSeeUnderBoost(t *testing.T) {
	for _, c := range []struct {
		side, location, reference string
		rail, across              func(k, d float64) float64 // kPa
		how                       string
	}{
		{"after_compressor", "above_throttle", "atmosphere", at(300, 0, 0), at(200, 0, -1), "sprays into boost: lean"},
		{"after_compressor", "above_throttle", "throttle_inlet", at(400, 0, 1), at(300, 0, 0), "the right hose"},
		{"after_compressor", "above_throttle", "manifold_vacuum", at(400, 0, 0), at(300, 0, -1), "short of the throttle's loss only"},
		{"after_compressor", "below_throttle", "atmosphere", at(300, 0, 0), at(200, 0, 0), "sprays into boost: lean"},
		{"after_compressor", "below_throttle", "manifold_vacuum", at(400, 0, 0), at(300, 0, 0), "the right hose"},
		{"before_compressor", "above_throttle", "atmosphere", at(300, 0, 0), at(300, 0, 0), "boost does not reach the nozzle"},
		{"before_compressor", "above_throttle", "throttle_inlet", at(300, -1, 0), at(300, 0, 0), "both behind the cleaner"},
		{"before_compressor", "above_throttle", "air_cleaner", at(300, -1, 0), at(300, 0, 0), "both behind the cleaner"},
		{"before_compressor", "above_throttle", "manifold_vacuum", at(400, 0, 0), at(400, 0, 0), "boost raises the rail for nothing: rich"},
		{"before_compressor", "below_throttle", "atmosphere", at(300, 0, 0), at(300, 1, 1), "sprays into the depression before the compressor"},
	} {
		t.Run(fmt.Sprintf("%s, %s, %s", c.side, c.location, c.reference), func(t *testing.T) {
			s := boostedSix(t, c.side, c.location, c.reference)
			k, d := in(t, s.At(FullLoad, "cleaner_drop"), "kPa"), in(t, s.At(FullLoad, "throttle_drop"), "kPa")
			require.Greater(t, k, 0.1)
			require.Greater(t, d, 1.0)
			assert.InDelta(t, c.rail(k, d), in(t, s.At(FullLoad, "throttle_body_pressure"), "kPa"), 1e-6, c.how)
			// Orifice law at the label's 300 kPa, hot fuel of 728.2 kg/m3 against 745.
			assert.InDelta(t, 606.9*math.Sqrt(c.across(k, d)/300), in(t, s.At(FullLoad, "injector_flow"), "cc/min"), 0.2, c.how)
			assert.InDelta(t, math.Sqrt(c.across(k, d)/300)-1, in(t, s.At(FullLoad, "regulator_flow_error"), "share"), 1e-9, c.how)
		})
	}
}

// at is whole + cleaner x k + throttle x d.
func at(whole, cleaner, throttle float64) func(k, d float64) float64 {
	return func(k, d float64) float64 { return whole + cleaner*k + throttle*d }
}

// Vacuum read at sea level, road at 3000 m: 101.325 and 70.121 kPa, 0.9093 kg/m3 (US Standard Atmosphere 1976). The engine
// needs the same absolute pressure, 101.325 - 60.955 = 40.370 kPa at idle, so the throttle loses the rest of the thinner air,
// nozzles below it see that vacuum, and a cruise that needs more than the barometer leaves nothing to lose.
func TestVacuumShrinksWithTheBarometer(t *testing.T) {
	change := []string{"altitude: 300 m", "altitude: 3000 m", "vacuum_altitude: 3000 m", "vacuum_altitude: 0 m", "cruise_vacuum: 13 inHg", "cruise_vacuum: 2 inHg", "location: above_throttle", "location: below_throttle"}
	s := loaded(t, variant(t, append([]string{"vacuum_altitude: 0 m", "vacuum_altitude: 300 m"}, change...)...))
	assert.InDelta(t, 40.370, in(t, s.At(Idle, "manifold_pressure"), "kPa abs"), 0.005)
	assert.InDelta(t, 29.751, in(t, s.At(Idle, "throttle_drop"), "kPa"), 0.01)
	assert.InDelta(t, math.Sqrt(329.751/300)-1, in(t, s.At(Idle, "regulator_flow_error"), "share"), 1e-4)
	assert.InDelta(t, 70.121, in(t, s.At(Cruise, "manifold_pressure"), "kPa abs"), 0.01)
	assert.InDelta(t, 0, in(t, s.At(Cruise, "throttle_drop"), "kPa"), 1e-9)
	flow := in(t, s.At(Idle, "air_flow"), "m3/s")
	assert.InDelta(t, 0.9093/2*math.Pow(flow/(0.61*0.012), 2), in(t, s.At(Idle, "cleaner_drop"), "Pa"), 1e-4)
}

// What cannot be is told by a bound, not by silence. A body of 50 cfm on 4.1 L chokes: 0.472 x 101.325 kPa, and the manifold
// holds 0.528 of the barometer's 97.773 kPa (White, Fluid Mechanics, section 9.3). 18 inHg read at 5000 m, where the air has
// 54.05 kPa (US Standard Atmosphere 1976), is no reading.
func TestWhatCannotBeInTheIntake(t *testing.T) {
	s := loaded(t, variant(t, "air_rating: 350 cfm", "air_rating: 50 cfm"))
	assert.InDelta(t, 47.825, in(t, s.At(FullLoad, "throttle_drop"), "kPa"), 0.005)
	assert.InDelta(t, 0.5283*97.773, in(t, s.At(FullLoad, "manifold_pressure"), "kPa abs"), 0.01)
	s = loaded(t, variant(t, "vacuum_altitude: 0 m", "vacuum_altitude: 5000 m"))
	assert.InDelta(t, 1, in(t, s.At(Idle, "manifold_pressure"), "kPa abs"), 1e-9)
}

// A regulator that breathes in the air cleaner holds the rail lower by what the
// cleaner loses, and the nozzles above the throttle see the same air.
func TestRegulatorBreathingInTheAirCleaner(t *testing.T) {
	s := loaded(t, variant(t, "reference: atmosphere", "reference: air_cleaner", "cleaner_area: 120 cm2", "cleaner_area: 40 cm2"))
	// 1.225/2 x (0.1148/(0.61 x 0.004))^2 = 1.356 kPa.
	assert.InDelta(t, 300-1.356, in(t, s.At(FullLoad, "throttle_body_pressure"), "kPa"), 0.001)
	assert.InDelta(t, 300, in(t, s.At(Idle, "throttle_body_pressure"), "kPa"), 1e-6)
	assert.InDelta(t, 0, in(t, s.At(FullLoad, "regulator_flow_error"), "share"), 1e-12)
	assert.InDelta(t, 606.9, in(t, s.At(FullLoad, "injector_flow"), "cc/min"), 0.1)
	below := loaded(t, variant(t, "reference: atmosphere", "reference: air_cleaner", "cleaner_area: 120 cm2", "cleaner_area: 40 cm2",
		"location: above_throttle", "location: below_throttle"))
	assert.InDelta(t, math.Sqrt(304.907/300)-1, in(t, below.At(FullLoad, "regulator_flow_error"), "share"), 1e-5, "the throttle's 4.907 kPa on top of the same cleaner")
}

// More boost is more air: the charge of 99 + 100 kPa at 70 degC is 2.0204 kg/m3,
// against 1.1568 outside; with 150 kPa 2.5280.
func TestBoostFillsTheEngine(t *testing.T) {
	one := boostedSix(t, "after_compressor", "above_throttle", "throttle_inlet")
	assert.InDelta(t, 0.1148*2.0204, in(t, one.At(FullLoad, "air_mass_flow"), "kg/s"), 1e-4)
	assert.InDelta(t, 0.1148*2.0204/1.15676, in(t, one.At(FullLoad, "air_flow"), "m3/s"), 1e-4)
	// The throttle behind the compressor passes 0.1148 m3/s of that charge: 900 cfm = 0.42475 m3/s at 10.159 kPa in air of 1.225.
	assert.InDelta(t, 10.159*math.Pow(0.1148/0.42475, 2)*2.0204/1.225, in(t, one.At(FullLoad, "throttle_drop"), "kPa"), 0.002)
	assert.InDelta(t, 197.773, in(t, one.At(FullLoad, "manifold_pressure"), "kPa abs"), 0.01)
	// 90 kW x (97.773 + 100)/(99 + 100): boost held above outside air.
	engine := &one.design.Engine
	power, _ := one.find(engine, "power_at_altitude", NoPoint).Value().(quantity.Value).In("kW")
	assert.InDelta(t, 89.45, power, 0.01)
	// 298.15 K x (1 + (2.0101^0.2857 - 1)/0.5): 2.0101^0.2857 = 1.2208.
	hottest, _ := one.find(engine, "hottest_charge", NoPoint).Value().(quantity.Value).In("degC")
	assert.InDelta(t, 25+298.15*0.2208/0.5, hottest, 0.1)
	before := boostedSix(t, "before_compressor", "above_throttle", "atmosphere")
	assert.InDelta(t, 10.159*math.Pow(0.1148*2.0204/1.15676/0.42475, 2), in(t, before.At(FullLoad, "throttle_drop"), "kPa"), 0.002, "draws outside air")
	none := boostedSix(t, "no_compressor", "above_throttle", "atmosphere")
	assert.Contains(t, none.At(FullLoad, "throttle_drop").Reason, "compressor_side")
}

// The same power on E85 takes 1.42 times the mass of E10: 41.69 over 29.29 MJ/kg
// (Alternative Fuels Data Center, lower heating values). A figure given for
// petrol is brought to the blend, one given for the blend stays.
func TestConsumptionFollowsTheFuel(t *testing.T) {
	mass := func(given, filled string) float64 {
		s := loaded(t, variant(t, "consumption_ethanol: 10 %", "consumption_ethanol: "+given, "fuel: {ethanol: 10 %", "fuel: {ethanol: "+filled))
		return in(t, s.At(FullLoad, "fuel_mass_demand"), "kg/h")
	}
	assert.InEpsilon(t, 27*41.69/29.29, mass("10 %", "85 %"), 1e-3)
	assert.InEpsilon(t, 27*43.44/29.29, mass("0 %", "85 %"), 1e-3)
	assert.InEpsilon(t, 27, mass("85 %", "85 %"), 1e-9)
	assert.InEpsilon(t, 27*29.29/43.44, mass("85 %", "0 %"), 1e-3)
}

// 90 kW at the wheels are 112.5 at the crankshaft where a fifth is lost, 90 gross 76.5 net where what the engine drives takes
// 15 %: by hand.
func TestPowerAsMeasured(t *testing.T) {
	for as, want := range map[string]float64{"net": 27, "gross\n  net_share: 85 %": 27 * 0.85, "at_wheels\n  net_share: 125 %": 27 / 0.8} {
		s := loaded(t, variant(t, "power_as: net", "power_as: "+as))
		assert.InEpsilon(t, want, in(t, s.At(FullLoad, "fuel_mass_demand"), "kg/h"), 1e-9, as)
	}
}

// A label by mass holds for the test liquid: 55 lb/h = 6.9299 g/s of 745 kg/m3
// are 558.1 cc/min of it, and 558.1 x sqrt(745/728.2) = 564.5 of the hot fuel
// (orifice law), not 558.1 x 745/728.2.
func TestLabelByMass(t *testing.T) {
	s := loaded(t, variant(t, "static_flow: 600 cc/min", "static_mass_flow: 55 lb/h"))
	assert.InDelta(t, 564.5, in(t, s.At(FullLoad, "injector_flow"), "cc/min"), 0.2)
}

// A pulse longer than its period is an answer: 4 pulses a revolution at 70 rev/s
// leave 3.571 ms; 37.08 L/h through two of 303.5 cc/min take 1.0183 of it and
// 0.8 ms more.
func TestPulseThatDoesNotFit(t *testing.T) {
	s := loaded(t, variant(t, "pulses_per_revolution: 1.5", "pulses_per_revolution: 4", "static_flow: 600 cc/min", "static_flow: 300 cc/min"))
	assert.InDelta(t, 1.0183+0.224, in(t, s.At(FullLoad, "injector_driven"), "share"), 1e-3)
	assert.InDelta(t, (1.0183+0.224)*3.5714, in(t, s.At(FullLoad, "injector_pulse"), "ms"), 5e-3)
}

// Idle keeps its absolute pressure: 13 inHg read at 2000 m (79.501 kPa) are 19.4
// inHg at sea level and 11.3 at 2600 m (73.76 kPa).
func TestIdleVacuumByAltitude(t *testing.T) {
	s := loaded(t, variant(t, "idle_vacuum: 18 inHg", "idle_vacuum: 13 inHg", "vacuum_altitude: 0 m", "vacuum_altitude: 2000 m", "altitude: 300 m", "altitude: 2600 m"))
	assert.InDelta(t, 79.501-44.023, in(t, s.At(Idle, "manifold_pressure"), "kPa abs"), 0.01)
	engine := &s.design.Engine
	sea, _ := s.find(engine, "idle_vacuum_at_sea_level", NoPoint).Value().(quantity.Value).In("inHg")
	assert.InDelta(t, 19.44, sea, 0.02)
	high, _ := s.find(engine, "idle_vacuum_at_altitude", NoPoint).Value().(quantity.Value).In("inHg")
	assert.InDelta(t, 11.30, high, 0.02)
}
