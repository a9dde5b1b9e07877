package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// A pump behind a converter that has dropped out stands still: no flow, no pressure, no current, and its circuit is known to
// be dead. What coil and injectors get with the engine running is the converter's 13.6 V, not the vehicle's 28 V
// (by hand).
func TestConversionBehindAConverter(t *testing.T) {
	change := func(least string) *Session {
		return loaded(t, variant(t, "system_voltage: 12 V", "system_voltage: 24 V", "rest_voltage: 12.6 V", "rest_voltage: 25.2 V",
			"regulated_voltage: 14.0 V", "regulated_voltage: 28.0 V", "battery: {place", "battery: {converter: {output_voltage: 13.6 V, rated_current: 40 A, lowest_input: "+least+"}, place"))
	}
	s := change("25 V")
	for _, name := range []string{"pump_flow", "pump_current", "pump_voltage", "supply_voltage"} {
		r := s.At(Cranking, name)
		require.True(t, r.Known(), "%s: %s", name, r.Reason)
		assert.Zero(t, r.Value().(quantity.Value).SI(), name)
	}
	assert.Equal(t, true, s.At(Cranking, "starved").Value())
	assert.InDelta(t, 13.6, in(t, s.At(Idle, "supply_voltage"), "V"), 1e-9)
	// One of two injectors on each of two outputs, 12 ohm each.
	assert.InDelta(t, 13.6/12, in(t, s.On(&s.Design().ThrottleBody.Injectors, NoPoint, "output_current"), "A"), 1e-9)
	// Half of it over the coil of 1.5 ohm behind a ballast of 1.5 ohm for two thirds of the time.
	assert.InDelta(t, 13.6*(1-0.667/2), in(t, s.On(&s.Design().Ignition, NoPoint, "coil_supply_running"), "V"), 1e-9)
}

// In a 12 V vehicle the conversion lives on the battery, whether a converter is stated or not; in one of another voltage
// on its converter, and on the battery where there is none (by hand).
func TestConversionSupply(t *testing.T) {
	for _, c := range []struct {
		battery                 string
		nominal, rest, cranking float64
	}{
		{"{system_voltage: 12 V, rest_voltage: 12.6 V, cranking_voltage: 10.8 V}", 12, 12.6, 10.8},
		{"{system_voltage: 12 V, rest_voltage: 12.6 V, cranking_voltage: 10.8 V, converter: {output_voltage: 13.6 V}}", 12, 12.6, 10.8},
		{"{system_voltage: 24 V, rest_voltage: 25.2 V, cranking_voltage: 22 V, converter: {output_voltage: 13.6 V}}", 12, 13.6, 13.6},
		{"{system_voltage: 24 V, rest_voltage: 25.2 V, cranking_voltage: 22 V, converter: none}", 24, 25.2, 22},
		{"{system_voltage: 6 V, rest_voltage: 6.3 V, cranking_voltage: 5 V, converter: none}", 6, 6.3, 5},
	} {
		d, err := schema.Load("d.yaml", []byte("plumbline: 1\nbattery: "+c.battery+"\n"))
		require.NoError(t, err)
		s := NewSession(d, Options{})
		for name, want := range map[string]float64{"conversion_voltage": c.nominal, "conversion_rest_voltage": c.rest, "conversion_cranking_voltage": c.cranking} {
			assert.InDelta(t, want, s.On(&d.Battery, NoPoint, name).Value().(quantity.Value).SI(), 1e-9, "%s of %s", name, c.battery)
		}
	}
}

// A driver that keeps more than the coil's circuit brings leaves the coil nothing: no current, no fill, by Ohm's law.
func TestStarvedCoilFillsNothing(t *testing.T) {
	d := load(t, variant(t, "driver_drop: 0 V", "driver_drop: 4 V")[len("plumbline: 1\n"):])
	supply, err := quantity.Parse("3 V", quantity.DimVoltage)
	require.NoError(t, err)
	s := NewSession(d, Options{Overrides: map[string]any{"design.ignition.at.idle.coil_supply": supply}})
	assert.Zero(t, in(t, s.On(&d.Ignition, Idle, "coil_current"), "A"))
	assert.Zero(t, in(t, s.On(&d.Ignition, Idle, "coil_fill"), "share"))
}
