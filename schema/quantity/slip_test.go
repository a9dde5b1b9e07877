package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The ratios between a text and what it was perhaps meant to be: NIST SP 811 (2008) App. B gives the factors of the
// units, the rest are powers of ten.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		text  string
		d     Dimension
		meant string
		ratio float64
		point bool
	}{
		{"3.0 inH2O", DimPressure, "3.0 inHg", 13.595, false},
		{"13 kPa", DimPressure, "13 psi", 6.894757, false},
		{"3 kPa", DimPressure, "3 bar", 100, false},
		{"66 hp", DimPower, "66 kW", 1 / 0.7456999, false},
		{"108 gal/h", DimFlow, "108 L/h", 1 / 3.785412, false},
		{"40 degF", DimTemperature, "40 degC", 313.15 / 277.594, false},
		{"3.0 cm", DimLength, "3.0 m", 100, false},
		{"30 um", DimLength, "30 thou", 25.4, false},
		{"14 ohm", DimResistance, "14 kohm", 1000, false},
		{"350 cfm", DimFlow, "350 m3/h", 1 / 1.699011, false},
		{"302 L", DimVolume, "302 cu in", 0.016387064, false},
		{"6.6 kW", DimPower, "66 kW", 10, true},
		{"0.08 ms", DimTime, "0.8 ms", 10, true},
		{"2850 rpm", DimRotationalSpeed, "285 rpm", 0.1, true},
		{"250 V", DimVoltage, "2.5 V", 0.01, true},
		{"0.005 kg/L", DimDensity, "5 kg/L", 1000, true},
		{"5 %", DimShare, "50 %", 10, true},
		{"100 ppm", DimShare, "100 %", 1e4, false},
		{"10 mm2", DimWireSize, "10 AWG", 0.5261, false},
		{"10 AWG", DimWireSize, "10 mm2", 1 / 0.5261, false},
	} {
		own, err := Parse(c.text, c.d)
		require.NoError(t, err, c.text)
		found := false
		for _, s := range Slips(c.text, c.d) {
			if s.Text != c.meant {
				continue
			}
			found = true
			assert.InEpsilon(t, c.ratio, s.Value.SI()/own.SI(), 1e-3, "%s for %s", c.text, c.meant)
			assert.Equal(t, c.point, s.Point != 0, c.meant)
		}
		assert.True(t, found, "%s for %s: %v", c.text, c.meant, Slips(c.text, c.d))
	}
	for _, none := range []string{"3/8 in x", "", "quick", "58 pis"} {
		assert.Empty(t, Slips(none, DimLength), none)
	}
	assert.Empty(t, Slips("0 mm", DimLength), "nought is nought in every unit")
}

// No slip has the value of the text, no two have the same, and each reads back as it says.
func TestSlipsDiffer(t *testing.T) {
	for _, d := range Dimensions() {
		own, err := Parse(Example(d), d)
		require.NoError(t, err)
		seen := map[float64]bool{own.SI(): true}
		for _, s := range Slips(Example(d), d) {
			assert.False(t, seen[s.Value.SI()], "%s: %s", d, s.Text)
			seen[s.Value.SI()] = true
			back, err := Parse(s.Text, d)
			require.NoError(t, err)
			assert.Equal(t, s.Value, back)
			assert.False(t, math.IsNaN(back.SI()))
		}
		// Every unit named as confusable is one of its dimension.
		for _, group := range confusions(d) {
			for _, symbol := range group {
				_, ok := units().find(unitKey(symbol), d)
				assert.True(t, ok, "%s is no unit of %s", symbol, d)
			}
		}
	}
}

func TestMoved(t *testing.T) {
	for _, c := range []struct {
		digits, want string
		by           int
	}{
		{"6.6", "66", 1}, {"6.6", "0.66", -1}, {"0.08", "0.8", 1}, {"0.08", "8", 2}, {"2700", "270", -1}, {"3.0", "30", 1},
		{"3", "0.003", -3}, {"12.5", "12500", 3}, {"100", "1", -2}, {"0", "0", 1}, {"0.0050", "0.05", 1},
	} {
		assert.Equal(t, c.want, moved(c.digits, c.by), "%s by %d", c.digits, c.by)
	}
}
