package quantity

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNumbersAreReadExactly(t *testing.T) {
	for text, metres := range map[string]float64{
		"3/8 in": 0.009525, "3/8in": 0.009525, "1 1/2 in": 0.0381, "1-1/2 in": 0.0381, "1½ in": 0.0381, "-1 1/2 in": -0.0381, "⅜″": 0.009525,
		"14 ft 6 in": 4.4196, "14' 6\"": 4.4196, "14'6\"": 4.4196, "14′ 6″": 4.4196, "14'-6\"": 4.4196, "14 ft 6 1/2 in": 4.4323,
		"-14 ft 6 in": -4.4196, "−0' 6\"": -0.1524, "0 ft 6 in": 0.1524, "2 feet 3 inches": 0.6858,
		"0.1 m": 0.1, ".5 m": 0.5, "1e3 mm": 1, "1E-3 km": 1, "1.5e+2 cm": 1.5, "+5 mm": 0.005, "0 m": 0, "-0 m": 0, "5 µm": 5e-6, "5 μm": 5e-6, "5 micron": 5e-6,
		"5\u00a0mm": 0.005, "5\u202fmm": 0.005, " 5 mm ": 0.005, "0.1 in": 0.00254, "40 thou": 0.001016,
	} {
		v, err := Parse(text, DimLength)
		if assert.NoError(t, err, text) {
			assert.Equal(t, metres, v.SI(), text)
		}
	}
}

func TestCompoundQuantities(t *testing.T) {
	for _, c := range []struct {
		text string
		want Dimension
		si   float64
	}{{"1 h 30 min", DimTime, 5400}, {"2 years 6 months", DimTime, 78894000}, {"2 lb 8 oz", DimMass, 2.5 * 0.45359237},
		{"1 ft 11 in", DimLength, 23 * 0.0254}, {"1 h 59 min", DimTime, 7140}} {
		v, err := Parse(c.text, c.want)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.si, v.SI(), c.text)
	}
	// The second number is less than one of the first unit: 12 in are 1 ft, as a tape reads.
	for text, d := range map[string]Dimension{"1 ft 12 in": DimLength, "1' 12\"": DimLength, "1 h 60 min": DimTime, "2 min 60 s": DimTime, "2 lb 16 oz": DimMass} {
		_, err := Parse(text, d)
		assert.ErrorContains(t, err, "less than one of the first unit", text)
	}
	for _, text := range []string{"14 ft 13 in", "14.5 ft 6 in", "14 ft 6 mm", "14 ft 6", "14 ft 6 in 2 in", "6 in 14 ft"} {
		_, err := Parse(text, DimLength)
		assert.Error(t, err, text)
	}
}

func TestUnitsAsPrintedOnParts(t *testing.T) {
	same := func(d Dimension, want string, others ...string) {
		t.Helper()
		v, err := Parse(want, d)
		require.NoError(t, err, want)
		for _, o := range others {
			w, err := Parse(o, d)
			if assert.NoError(t, err, o) {
				assert.Equal(t, v, w, o)
			}
		}
	}
	same(DimPressure, "58 psi", "58psi", "58 PSI", "58 psig", "58 PSIG", "58 lb/in²", "58 lbf/in^2", "58 lbs per sq. in.")
	same(DimPressure, "4 bar", "4 Bar", "4 bar(g)", "4 barg", "400 kPa", "0.4 MPa", "4000 mbar")
	same(DimPressure, "5 inHg", "5 in Hg", "5 in. Hg", `5" Hg`, "5 inches of mercury")
	same(DimPressure, "3 kg/cm2", "3 kg/cm²", "3 kgf/cm^2")
	same(DimAbsolutePressure, "100 kPa abs", "100 kPaA", "100 kPa(a)", "100 kPa (abs)", "100 kPa", "1 bar abs", "1 bara", "1 bar")
	same(DimAbsolutePressure, "14.7 psia", "14.7 psi", "14.7 psi abs", "14.7 PSIA")
	same(DimFlow, "255 L/h", "255 lph", "255 LPH", "255 l/h", "255 L/hr", "255 litres per hour", "255 L / h", "0.255 m3/h", "0.255 m³/h")
	same(DimFlow, "67 gal/h", "67 gph", "67 GPH", "67 US gal/h", "67 gallons per hour")
	same(DimFlow, "300 cc/min", "300 cm3/min", "300 mL/min", "300 cm³/min", "0.3 L/min")
	same(DimVolume, "250 cu in", "250 in3", "250 in³", "250 cid", "250 CID", "250 cu. in.")
	same(DimTemperature, "90 degC", "90 °C", "90°C", "90 C", "90 ℃", "90 deg C", "90 º C")
	same(DimTemperature, "210 degF", "210 °F", "210F", "210 ℉")
	same(DimResistance, "2.2 kohm", "2.2 kΩ", "2.2 kΩ", "2200 ohm", "2200 ohms")
	same(DimResistancePerLength, "5 mohm/m", "5 mΩ/m", "5 ohm/km", "0.005 ohm/m")
	same(DimResistancePerLength, "1.588 ohm/1000 ft", "1.588 ohm/1000ft", "1.588 ohm/kft", "1.588 Ω/1000 ft", "1.588 ohms per 1000 ft")
	same(DimSpecificConsumption, "0.48 lb/(hp h)", "0.48 lb/hp/h", "0.48 lb/hp-hr", "0.48 lb/hph", "0.48 lb/(hp·h)", "0.48 lbs per hp hr", "0.48 lb/bhp-hr")
	same(DimTorque, "20 lbf ft", "20 ft lb", "20 ft-lb", "20 lb-ft", "20 lb ft", "20 lbf·ft", "20 ft-lbs")
	same(DimTorque, "20 N m", "20 Nm", "20 N·m", "20 N*m")
	same(DimCapacitance, "0.22 uF", "0.22 µF", "0.22 μF", "220 nF")
	same(DimRotationalSpeed, "4500 rpm", "4500 RPM", "4500 r/min", "4500 1/min")
	same(DimCharge, "60 Ah", "60 A h", "60 A·h", "60 amp hours")
	same(DimRatio, "0.85", "85 %", "85%", "85 percent", "0.85:1", "17:20")
	same(DimHeatingValue, "43 MJ/kg", "43000 kJ/kg")
	same(DimKinematicViscosity, "0.6 mm2/s", "0.6 mm²/s", "0.6 cSt")
	same(DimAcceleration, "9.80665 m/s2", "9.80665 m/s²", "1 g")
	same(DimPower, "100 metric hp", "100 PS", "100 metric_hp")
	same(DimDensity, "0.745 kg/L", "745 kg/m3", "745 g/L", "0.745 g/cm³", "0.745 g/cc")
}

// Milli and mega are never taken for each other, whatever the case of the rest.
func TestMilliAndMegaAreKeptApart(t *testing.T) {
	for _, c := range []struct {
		text string
		want Dimension
		si   float64
	}{{"5 mW", DimPower, 0.005}, {"5 mw", DimPower, 0.005}, {"5 MW", DimPower, 5e6}, {"5 mJ", DimEnergy, 0.005}, {"5 MJ", DimEnergy, 5e6},
		{"5 mohm", DimResistance, 0.005}, {"5 Mohm", DimResistance, 5e6}, {"5 MOHM", DimResistance, 5e6}, {"5 ma", DimCurrent, 0.005}, {"5 KPA", DimPressure, 5000}} {
		v, err := Parse(c.text, c.want)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.si, v.SI(), c.text)
	}
	for _, c := range []struct {
		text    string
		want    Dimension
		suggest string
	}{{"5 MA", DimCurrent, "write 5 mA"}, {"5 MV", DimVoltage, "write 5 mV"}, {"4 mpa", DimPressure, "write 4 MPa"}, {"3 MM", DimLength, "write 3 mm"},
		{"2 MS", DimTime, "write 2 ms"}, {"2 MBAR", DimPressure, "write 2 mbar"}, {"8 MH", DimInductance, "write 8 mH"}} {
		_, err := Parse(c.text, c.want)
		assert.ErrorContains(t, err, c.suggest, c.text)
	}
	_, err := ParseAny("5 m W")
	assert.Error(t, err, "a space does not join a prefix to its unit")
	_, err = Parse("5 m s", DimTime)
	assert.Error(t, err)
}

func TestParseAnyTakesTheUsualMeaning(t *testing.T) {
	for text, want := range map[string]Dimension{
		"58 psi": DimPressure, "14.7 psia": DimAbsolutePressure, "100 kPa abs": DimAbsolutePressure, "210 degF": DimTemperature, "20 C": DimTemperature,
		"85 %": DimShare, "14.7:1": DimRatio, "255 L/h": DimFlow, "3 mm2": DimArea, "12 AWG": DimWireSize, "12 SAE": DimWireSize, "dash 6": DimDashSize,
		"10 N m": DimTorque, "5 g": DimMass, "5 lb": DimMass, "14 ft 6 in": DimLength, "10 min": DimTime, "60 Ah": DimCharge, "4.1 L": DimVolume,
		"43 MJ/kg": DimHeatingValue, "1 F": DimTemperature, "0.48 lb/(hp h)": DimSpecificConsumption, "20 ft lb": DimTorque,
	} {
		v, err := ParseAny(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, v.Dimension(), text)
		}
	}
	for _, text := range []string{"5", "-6", "0.85", "12 gauge", "psi", "5 parsnips"} {
		_, err := ParseAny(text)
		assert.Error(t, err, text)
	}
}

func TestErrorsSayWhatToWrite(t *testing.T) {
	for _, c := range []struct {
		text  string
		want  Dimension
		error string
	}{
		{"58", DimPressure, "58: a pressure needs a unit; write 58 psi or 58 kPa or 58 bar"},
		{"58 L/h", DimPressure, "58 L/h is a flow; a pressure is expected, e.g. 58 psi"},
		{"58 pis", DimPressure, "58 pis: pis is not a unit of pressure; write 58 psi"},
		{"12 gauge", DimWireSize, "12 gauge: a gauge may be AWG or SAE, whose areas differ; write 12 AWG or 12 SAE"},
		{"12 ga", DimWireSize, "12 ga: a gauge may be AWG or SAE, whose areas differ; write 12 AWG or 12 SAE"},
		{"12", DimWireSize, "12: a wire size needs a unit; write 12 AWG or 12 mm2 or 12 SAE"},
		{"1,000 psi", DimPressure, "1,000 psi: a comma in a number can be read in two ways; write 1000 without a comma, or 1.000 with a point"},
		{"3,5 bar", DimPressure, "3,5 bar: a comma in a number can be read in two ways; write 3.5 with a point"},
		{"0100 psi", DimPressure, "0100 psi: a number with leading zeros can be read in two ways; write 100"},
		{"00.5 psi", DimPressure, "00.5 psi: a number with leading zeros can be read in two ways; write 0.5"},
		{"1_000 psi", DimPressure, "1_000 psi: an underscore in a number is not read; write the digits without it"},
		{"1 000 psi", DimPressure, "1 000 psi: a space inside a number is not read; write 1000 for 1 000, or 1 1/2 for one and a half"},
		{"3-5 bar", DimPressure, "3-5 bar: one value is expected, not a range; write it like 58 psi"},
		{"", DimPressure, `"": a quantity is expected, not an empty text; write it like 58 psi`},
		{"fast", DimFlow, "fast: does not start with a number; write it like 255 L/h"},
		{"6", DimDashSize, "6: a dash size is written with its dash; write -6"},
		{"3/8 in", DimDashSize, "3/8 in is a length; a dash size is expected; write -6 for a tube of that outside diameter"},
		{"-300 degC", DimTemperature, "-300 degC is below absolute zero, -273.15 degC; write it like 210 degF"},
		{"1/0 in", DimLength, "1/0 in: a fraction over zero has no value; write it like 3/8"},
		{"18 inHg vacuum", DimPressure, "18 inHg vacuum: a vacuum is a pressure below zero; write -18 inHg for 18 inHg of vacuum, or the absolute pressure"},
	} {
		_, err := Parse(c.text, c.want)
		var parse *ParseError
		require.ErrorAs(t, err, &parse, c.text)
		assert.Equal(t, c.want, parse.Want)
		assert.EqualError(t, err, c.error)
	}
	_, err := Parse("58 psia", DimPressure)
	assert.ErrorContains(t, err, "58 psia is an absolute pressure")
	_, err = Parse("58 psig", DimAbsolutePressure)
	assert.ErrorContains(t, err, "58 psig is a gauge pressure")
	_, err = Parse("5 psi", None)
	assert.Error(t, err)
	_, err = Parse("5 psi", Dimension(200))
	assert.Error(t, err)
}

func TestTextsThatAreNoQuantity(t *testing.T) {
	for _, text := range []string{"NaN psi", "Inf psi", "inf", "-", "+", ".", "5. psi", "5.5.5 psi", "5/ psi", "5//2 psi", "1.5/2 psi", "5/2/2 psi", "0x10 psi", "--5 psi", "+-5 psi",
		"5 psi psi", "psi 5", "5 psi!", "5\npsi", "5 psi\x00", "5 \xff", "1e psi", "5e3e3 psi", "01/2 psi", "1/02 psi", "٥ psi", "5 ps\u200bi", "5:1", "5 %", "½", "½0 psi", "1½5 psi", "½.5 psi", "1,2,3 psi", "1.5,0 psi", "5 /psi", "10³ psi", "¹ psi", "5² psi", "10^3 psi"} {
		_, err := Parse(text, DimPressure)
		assert.Error(t, err, "%q", text)
	}
	for _, text := range []string{"1:0", "1:", ":1", "1:-1", "1:1:1", "1:1 %", "%"} {
		_, err := Parse(text, DimRatio)
		assert.Error(t, err, "%q", text)
	}
}

func TestWireSizesThatAreNone(t *testing.T) {
	for _, text := range []string{"-5 AWG", "-5AWG", "12.5 AWG", "41 AWG", "5/0 AWG", "00000 AWG", "012 AWG", "AWG", "13 SAE", "12 AWG 3", "0 mm2", "-3 mm2", "12 V"} {
		_, err := Parse(text, DimWireSize)
		assert.Error(t, err, text)
	}
}

// No input may cost more than its hundred bytes are worth.
func TestHostileInputsFailFast(t *testing.T) {
	huge := strings.Repeat("9", 1<<26)
	start := time.Now()
	for _, text := range []string{huge, huge + " psi", "1e999999999 psi", "1e-999999999 psi", "1e" + strings.Repeat("9", 90) + " psi", strings.Repeat("9", 90) + " psi",
		"1/" + strings.Repeat("9", 80) + " psi", "1 " + strings.Repeat(" ", 80) + "psi e", strings.Repeat("(", 99), "5 " + strings.Repeat("é", 49), "5 " + strings.Repeat("/", 95), strings.Repeat(" ", 1<<20)} {
		for _, d := range append(Dimensions(), None) {
			_, err := parse(text, d)
			var parse *ParseError
			require.True(t, errors.As(err, &parse), "%.20q", text)
			assert.Less(t, len(err.Error()), 700, "%.20q", text)
		}
	}
	assert.Less(t, time.Since(start), 5*time.Second)
}
