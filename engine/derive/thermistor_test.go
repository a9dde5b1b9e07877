package derive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/schema/quantity"
)

// Hand calculations with the curves of the six of testdata. Coolant: 2500 ohm at
// 20 degC and 325 ohm at 80 degC (a typical pair of a repair manual, from memory)
// give B = ln(2500/325)/(1/293.15 - 1/353.15) = 3520.3 K; the pull-up is 2490 ohm
// to 5 V. Intake air: the three points of the published Steinhart-Hart example of
// a 10 kohm thermistor, A = 8.975540e-4, B = 2.501791e-4, C = 1.948344e-7.
func TestThermistorReadingErrors(t *testing.T) {
	s := loaded(t, variant(t))
	coolant, air := &s.Design().Sensors.Coolant, &s.Design().Sensors.IntakeAir
	assert.InDelta(t, -9.255, in(t, s.On(coolant, NoPoint, "series_error"), "K"), 0.002,
		"425 ohm is 1/(1/353.15 + ln(425/325)/3520.3) = 343.90 K, 70.7 degC: a corroded pin of 100 ohm reads cold")
	assert.InDelta(t, -0.4906, in(t, s.On(air, NoPoint, "series_error"), "K"), 0.002,
		"5821 ohm at 40 degC; 5921 ohm read as 39.51 degC")
	for _, p := range Points() {
		offset := in(t, s.At(p, "sensor_ground_offset"), "V")
		v := offset + (5-offset)*325/(325+2490)
		ohms := 2490 * v / (5 - v)
		assert.InDelta(t, 1/(1/353.15+math.Log(ohms/325)/3520.26)-353.15, in(t, s.On(coolant, p, "ground_error"), "K"), 1e-3, "%s at %.4f V", p, offset)
	}
}

// 50 mV on the sensor ground read a coolant of 80 degC as 77.05 degC: 0.05 + 4.95 x
// 325/2815 = 0.6215 V is read as 353.4 ohm.
func TestThermistorReadsColdOverAHighGround(t *testing.T) {
	d := six(t)
	s := NewSession(d, Options{Overrides: map[string]any{"at.idle.sensor_ground_offset": quantity.MustNew(0.05, quantity.DimVoltage)}})
	assert.InDelta(t, -2.947, in(t, s.On(&d.Sensors.Coolant, Idle, "ground_error"), "K"), 0.002)
}

func TestThermistorNeedsTwoOrThreePoints(t *testing.T) {
	const curve = "curve: [{temperature: 20 degC, resistance: 2500 ohm}, {temperature: 80 degC, resistance: 325 ohm}]"
	s := loaded(t, variant(t, curve, "curve: [{temperature: 20 degC, resistance: 2500 ohm}]"))
	r := s.On(&s.Design().Sensors.Coolant, NoPoint, "series_error")
	assert.Equal(t, "design.sensors.coolant.curve has 1 of the two or three points a curve goes through", r.Reason)

	s = loaded(t, variant(t, curve, "curve: [{temperature: 20 degC, resistance: 2500 ohm}, {temperature: 80 degC}]", "  reference_voltage: 5.00 V\n", ""))
	r = s.On(&s.Design().Sensors.Coolant, NoPoint, "series_error")
	assert.ElementsMatch(t, []string{"design.sensors.coolant.curve[1].resistance", "design.sensors.reference_voltage"}, r.Missing)

	s = loaded(t, variant(t, curve, "curve: [{temperature: 80 degC, resistance: 325 ohm}, {temperature: 80 degC, resistance: 320 ohm}]"))
	assert.Contains(t, s.On(&s.Design().Sensors.Coolant, NoPoint, "series_error").Reason, "at least 1 K apart")
}
