package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

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
