package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		text       string
		want       Dimension
		metric, us string
	}{
		{"58 psi", DimPressure, "400 kPa", "58 psi"},
		{"-18 inHg", DimPressure, "-61 kPa", "-18 inHg"},
		{"5 inH2O", DimPressure, "1.245 kPa", "0.1806 psi"},
		{"30 inHg", DimAbsolutePressure, "101.6 kPa abs", "14.73 psia"},
		{"255 L/h", DimFlow, "255 L/h", "67.4 gal/h"},
		{"500 cfm", DimFlow, "850 m3/h", "500 cfm"},
		{"210 degF", DimTemperature, "98.9 degC", "210 degF"},
		{"-40 degC", DimTemperature, "-40 degC", "-40 degF"},
		{"0 K", DimTemperature, "-273.15 degC", "-459.67 degF"},
		{"10 K", DimTemperatureDifference, "10 K", "18 degF"},
		{"14 ft 6 in", DimLength, "4.42 m", "14.5 ft"},
		{"3/8 in", DimLength, "9.53 mm", "0.375 in"},
		{"4.1 L", DimVolume, "4.1 L", "250 cu in"},
		{"60 L", DimVolume, "60 L", "15.85 gal"},
		{"0.48 lb/(hp h)", DimSpecificConsumption, "292 g/kWh", "0.48 lb/(hp h)"},
		{"350 mV", DimVoltage, "350 mV", "350 mV"},
		{"13.8 V", DimVoltage, "13.8 V", "13.8 V"},
		{"0 V", DimVoltage, "0 V", "0 V"},
		{"0 psi", DimPressure, "0 kPa", "0 psi"},
		{"0.02 A", DimCurrent, "20 mA", "20 mA"},
		{"5.21 mohm/m", DimResistancePerLength, "5.21 mohm/m", "1.588 ohm/1000 ft"},
		{"0.22 uF", DimCapacitance, "0.22 uF", "0.22 uF"},
		{"12 AWG", DimWireSize, "3.31 mm2", "12 AWG"},
		{"2/0 AWG", DimWireSize, "67.4 mm2", "2/0 AWG"},
		{"3 mm2", DimWireSize, "3 mm2", "3 mm2"},
		{"12 SAE", DimWireSize, "2.96 mm2", "2.96 mm2"},
		{"-6", DimDashSize, "-6", "-6"},
		{"85 %", DimRatio, "0.85", "0.85"},
		{"14.7:1", DimRatio, "14.7", "14.7"},
		{"3254 rpm", DimRotationalSpeed, "3254 rpm", "3254 rpm"},
		{"6 months", DimTime, "6 months", "6 months"},
		{"2 years", DimTime, "2 years", "2 years"},
		{"43 MJ/kg", DimHeatingValue, "43 MJ/kg", "18490 BTU/lb"},
		{"745 kg/m3", DimDensity, "745 kg/m3", "6.22 lb/gal"},
		{"250 hp", DimPower, "186.4 kW", "250 hp"},
		{"60 Ah", DimCharge, "60 Ah", "60 Ah"},
		{"5 mm", DimLength, "5 mm", "0.197 in"},
		{"-0.5 mm", DimLength, "-0.5 mm", "-19.69 thou"},
		{"0.15 mm", DimLength, "0.15 mm", "5.91 thou"},
		{"0.07 mm", DimLength, "70 um", "70 um"},
		{"1 mm", DimLength, "1 mm", "0.039 in"},
		{"-78.3 Pa", DimPressure, "-78.3 Pa", "-0.314 inH2O"},
		{"999.99 mm", DimLength, "1000 mm", "3.28 ft"},
	} {
		v, err := Parse(c.text, c.want)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.metric, v.String(), c.text)
		assert.Equal(t, c.us, v.Format(US), c.text)
	}
}

func TestFormatBoth(t *testing.T) {
	for text, both := range map[string]string{"58 psi": "58 psi (400 kPa)", "13.8 V": "13.8 V", "dash 6": "-6", "12 AWG": "12 AWG (3.31 mm2)", "210 degF": "210 degF (98.9 degC)"} {
		v, err := ParseAny(text)
		require.NoError(t, err)
		assert.Equal(t, both, v.Format(Both))
	}
	assert.Equal(t, "not stated", Value{}.String())
}

func TestDecimalNeverHidesItsSize(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1: "1", 0.1: "0.1", 100: "100", 99.96: "100", 9.996: "10", 1.2345: "1.234", 2.345678: "2.35", 1234.4: "1234",
		98766: "98770", 12345: "12340", 123456789: "123500000", 0.00012345: "0.0001234", -2.5: "-2.5", 1e-12: "1e-12", 2.5e20: "2.5e20", -1e-3: "-0.001"} {
		assert.Equal(t, want, decimal(x, 3), "%v", x)
	}
	v := MustNew(99.96e-3/3600, DimFlow)
	assert.Equal(t, "100 L/h", v.String())
	assert.Equal(t, "99.96 L/h", v.FormatDigits(Metric, 4))
}

func TestNewRefusesWhatIsNoQuantity(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := New(x, DimPressure)
		assert.Error(t, err)
	}
	for _, d := range []Dimension{None, Dimension(dimensionCount), 255} {
		_, err := New(1, d)
		assert.Error(t, err)
	}
	assert.Panics(t, func() { MustNew(math.NaN(), DimPressure) })
	zero := MustNew(math.Copysign(0, -1), DimPressure)
	assert.False(t, math.Signbit(zero.SI()))
	assert.False(t, zero.IsZero())
	assert.True(t, Value{}.IsZero())
	_, err := Value{}.In("psi")
	assert.Error(t, err)
	_, err = zero.In("L/h")
	assert.ErrorContains(t, err, "L/h is not a unit of pressure")
}

func TestDimensions(t *testing.T) {
	names := map[string]bool{}
	for _, d := range Dimensions() {
		assert.False(t, names[d.String()] || names[d.Name()])
		names[d.String()], names[d.Name()] = true, true
		v, err := Parse(Example(d), d)
		require.NoError(t, err, "%s", d)
		assert.Equal(t, d, v.Dimension())
		assert.NotEqual(t, None, MustNew(0, d).Dimension())
		assert.NotPanics(t, func() { _ = MustNew(0, d).Format(Both) })
		for _, us := range []bool{false, true} {
			for _, sign := range []float64{1, -1} {
				if d == DimRatio || d == DimDashSize {
					continue
				}
				for _, c := range d.choices(us, sign) {
					u, ok := UnitByCEL(c.cel)
					assert.True(t, ok && u.Dimension == d, "%s prints in %s", d, c.cel)
				}
			}
		}
	}
	assert.Equal(t, "absolute_pressure", DimAbsolutePressure.String())
	assert.Equal(t, "AbsolutePressure", DimAbsolutePressure.Name())
	assert.Equal(t, "none", Dimension(250).String())
}

// What stands in one row is in one unit: that of the first, or of the largest where the first is nothing or the others
// would be unreadable in it.
func TestRow(t *testing.T) {
	for _, c := range []struct {
		dim          Dimension
		values       []string
		metric, both []string
	}{
		{DimTime, []string{"0 s", "10 years"}, []string{"0 years", "10 years"}, []string{"0 years", "10 years"}},
		{DimTime, []string{"3 months", "10 years"}, []string{"3 months", "120 months"}, []string{"3 months", "120 months"}},
		{DimLength, []string{"0 mm", "2 m"}, []string{"0 m", "2 m"}, []string{"0 ft (0 m)", "6.56 ft (2 m)"}},
		{DimLength, []string{"15 mm", "2 m"}, []string{"15 mm", "2000 mm"}, []string{"0.591 in (15 mm)", "78.7 in (2000 mm)"}},
		{DimVoltage, []string{"500 mV", "30 mV", "2.5 V"}, []string{"500 mV", "30 mV", "2500 mV"}, []string{"500 mV", "30 mV", "2500 mV"}},
		{DimCurrent, []string{"200 mA", "60 A"}, []string{"0.2 A", "60 A"}, []string{"0.2 A", "60 A"}},
		{DimShare, []string{"200 ppm", "0.5 %"}, []string{"200 ppm", "5000 ppm"}, []string{"200 ppm", "5000 ppm"}},
		{DimCurrent, []string{"1 mA", "500 A"}, []string{"1 mA", "500 A"}, []string{"1 mA", "500 A"}},
		{DimTemperature, []string{"0 degC", "100 degC"}, []string{"0 degC", "100 degC"}, []string{"32 degF (0 degC)", "212 degF (100 degC)"}},
	} {
		var values []Value
		for _, text := range c.values {
			v, err := Parse(text, c.dim)
			require.NoError(t, err, text)
			values = append(values, v)
		}
		assert.Equal(t, c.metric, Row(Metric, values...))
		assert.Equal(t, c.both, Row(Both, values...))
	}
}
