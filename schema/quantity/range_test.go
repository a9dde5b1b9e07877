package quantity

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The ends of each form, worked out by hand and written as single values.
func TestParseRange(t *testing.T) {
	for _, c := range []struct {
		text             string
		d                Dimension
		low, usual, high string
	}{
		{"280..320 hp", DimPower, "280 hp", "300 hp", "320 hp"},
		{"280 hp..320 hp", DimPower, "280 hp", "300 hp", "320 hp"},
		{"280 .. 320hp", DimPower, "280 hp", "300 hp", "320 hp"},
		{"280\u2026320 hp", DimPower, "280 hp", "300 hp", "320 hp"},
		{"280..310..320 hp", DimPower, "280 hp", "310 hp", "320 hp"},
		{"200 kW..250 kW", DimPower, "200 kW", "225 kW", "250 kW"},
		{"300 hp +- 5 %", DimPower, "285 hp", "300 hp", "315 hp"},
		{"300 hp \u00b1 15 hp", DimPower, "285 hp", "300 hp", "315 hp"},
		{"300\u00b115 hp", DimPower, "285 hp", "300 hp", "315 hp"},
		{"300 +/- 15 hp", DimPower, "285 hp", "300 hp", "315 hp"},
		{"about 300 hp", DimPower, "270 hp", "300 hp", "330 hp"},
		{"Approx. 300 hp", DimPower, "270 hp", "300 hp", "330 hp"},
		{"approx 300 hp", DimPower, "270 hp", "300 hp", "330 hp"},
		{"ca. 300 hp", DimPower, "270 hp", "300 hp", "330 hp"},
		{"~300 hp", DimPower, "270 hp", "300 hp", "330 hp"},
		{"6.0..6.5..8.1 mm", DimLength, "6.0 mm", "6.5 mm", "8.1 mm"},
		{"1..1-1/2 in", DimLength, "1 in", "1.25 in", "1.5 in"},
		{"1-1/2..2 in", DimLength, "1.5 in", "1.75 in", "2 in"},
		{"3/8..1/2 in", DimLength, "0.375 in", "0.4375 in", "0.5 in"},
		{"14 ft..15 ft 6 in", DimLength, "14 ft", "14.75 ft", "15.5 ft"},
		{"1 m +- 5 cm", DimLength, "0.95 m", "1 m", "1.05 m"},
		{"-10..30 degC", DimTemperature, "-10 degC", "10 degC", "30 degC"},
		{"-40..-20 degC", DimTemperature, "-40 degC", "-30 degC", "-20 degC"},
		{"90 degC +- 5 degC", DimTemperature, "85 degC", "90 degC", "95 degC"},
		{"90 degC +- 5 K", DimTemperature, "85 degC", "90 degC", "95 degC"},
		{"212 degF +- 9 degF", DimTemperature, "203 degF", "212 degF", "221 degF"},
		{"about -10 inHg", DimPressure, "-11 inHg", "-10 inHg", "-9 inHg"},
		{"100 kPa abs +- 5 kPa", DimAbsolutePressure, "95 kPa abs", "100 kPa abs", "105 kPa abs"},
		{"10..15 %", DimShare, "10 %", "12.5 %", "15 %"},
		{"E10..E20", DimShare, "10 %", "15 %", "20 %"},
		{"about 10 %", DimShare, "9 %", "10 %", "11 %"},
		{"0.8..0.9", DimRatio, "0.8", "0.85", "0.9"},
		{"80..90 %", DimRatio, "0.8", "0.85", "0.9"},
		{"12..14:1", DimRatio, "12", "13", "14"},
		{"about 0.5", DimRatio, "0.45", "0.5", "0.55"},
		{"10:1 +- 5 %", DimRatio, "9.5", "10", "10.5"},
		{"14 AWG..12 AWG", DimWireSize, "14 AWG", "", "12 AWG"},
		{"14..12 AWG", DimWireSize, "14 AWG", "", "12 AWG"},
		{"2 AWG..4/0 AWG", DimWireSize, "2 AWG", "", "4/0 AWG"},
		{"-6..-8", DimDashSize, "-6", "", "-8"},
	} {
		r, is, err := ParseRange(c.text, c.d)
		require.NoError(t, err, c.text)
		require.True(t, is, c.text)
		for _, end := range []struct {
			want string
			got  Value
		}{{c.low, r.Low}, {c.high, r.High}} {
			want, err := Parse(end.want, c.d)
			require.NoError(t, err)
			assert.Equal(t, want, end.got, "%s: %s", c.text, end.want)
		}
		if c.usual != "" {
			want, err := Parse(c.usual, c.d)
			require.NoError(t, err)
			assert.InEpsilon(t, want.SI(), r.Usual.SI(), 1e-12, c.text)
		}
	}
}

// Each error says what to write, and what it says to write is read.
func TestParseRangeRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want string
	}{
		{"320..280 hp", DimPower, "begins with the smaller end; write 280 hp..320 hp"},
		{"300..300 hp", DimPower, "ends of a range are the same; write the value alone: 300 hp"},
		{"280..290..300..320 hp", DimPower, "at most the likely value between them; write it like 250..275 hp"},
		{"280..400..320 hp", DimPower, "lies between its ends; write it between 280 hp and 320 hp, or leave it out: 280 hp..320 hp"},
		{"280..320", DimPower, "a power needs a unit; write 280..320 W or 280..320 kW or 280..320 hp"},
		{"280 hp..320", DimPower, "behind the last number, or behind each; write 280..320 hp"},
		{"280 hp..320 kg", DimPower, "is a mass; a power is expected"},
		{"280..", DimPower, "a number on either side"},
		{"..320 hp", DimPower, "a number on either side"},
		{"280...320 hp", DimPower, "two dots"},
		{"about 280..320 hp", DimPower, "not both"},
		{"300 hp +- 5", DimPower, "the width needs a unit; write 300 hp +- 5 hp"},
		{"300 +- 5 %", DimPower, "a power needs a unit"},
		{"300 hp +- 0 hp", DimPower, "a width is more than nothing"},
		{"300 hp +- -5 %", DimPower, "a width is more than nothing"},
		{"300 hp +- 5 kg", DimPower, "is a mass"},
		{"+- 5 %", DimPower, "behind the value"},
		{"about 0 psi", DimPressure, "a width is more than nothing"},
		{"about 300", DimPower, "a power needs a unit"},
		{"280-320 hp", DimPower, "a range is written with two dots; write 280..320 hp"},
		{"280 \u2013 320 hp", DimPower, "a range is written with two dots; write 280..320 hp"},
		{"280 to 320 hp", DimPower, "a range is written with two dots; write 280..320 hp"},
		{"90 degC +- 5 %", DimTemperature, "no width in percent: the nought of its scale is anywhere; write the two ends, such as 85..95 degC"},
		{"about 90 degC", DimTemperature, "write the two ends, such as 85..95 degC"},
		{"-270 degC +- 5 K", DimTemperature, "below absolute zero"},
		{"10 % +- 2 %", DimShare, "write 8..12 % or 9.8..10.2 %"},
		{"10 +- 2 %", DimShare, "write 8..12 % or 9.8..10.2 %"},
		{"85 % +- 5 %", DimRatio, "write 80..90 % or 80.75..89.25 %"},
		{"12..14 AWG", DimWireSize, "a larger gauge is a thinner wire; write 14 AWG..12 AWG"},
		{"about 12 AWG", DimWireSize, "a series, which has no width; write the two sizes"},
		{"-6 +- 10 %", DimDashSize, "a series"},
		{"14..15 ft 6 in", DimLength, "write the unit behind each number"},
		{"14 ft 6 in +- 5 %", DimLength, "write the two ends"},
	} {
		_, is, err := ParseRange(c.text, c.d)
		assert.True(t, is, c.text)
		assert.ErrorContains(t, err, c.want, c.text)
	}
}

// What only looks like a range is left to Parse, and so is what is too long for it.
func TestParseRangeLeavesSingleValues(t *testing.T) {
	long := strings.Repeat("1", 60) + ".." + strings.Repeat("2", 60) + " hp"
	_, is, err := ParseRange(long, DimPower)
	assert.False(t, is || err != nil)
	_, err = Parse(long, DimPower)
	assert.ErrorContains(t, err, "longer than the 100 bytes")

	for text, d := range map[string]Dimension{
		"300 hp": DimPower, "1-1/2 in": DimLength, "-6": DimDashSize, "14.7:1": DimRatio, "14 ft 6 in": DimLength, "-3 %": DimShare, "E10": DimShare,
		"1e-3 m": DimLength, "0.48 lb/(hp h)": DimSpecificConsumption, "AWG 12": DimWireSize, "3-inch": DimLength, "4 cc/min": DimFlow, "60 A-h": DimCharge,
		"1971-12-01": DimLength, "+5 degC": DimTemperature, "60 Ah": DimCharge, "2 t": DimMass,
	} {
		_, is, err := ParseRange(text, d)
		assert.False(t, is, text)
		assert.NoError(t, err, text)
	}
}

func TestParseWholeRange(t *testing.T) {
	for text, want := range map[string][3]int{"6..8": {6, 7, 8}, "6..7": {6, 6, 7}, "6..8..8": {6, 8, 8}, "7 +- 1": {6, 7, 8}, "7\u00b11": {6, 7, 8}, " 1968 .. 1972 ": {1968, 1970, 1972}, "-3..-1": {-3, -2, -1}} {
		low, usual, high, is, err := ParseWholeRange(text)
		require.NoError(t, err, text)
		require.True(t, is, text)
		assert.Equal(t, want, [3]int{low, usual, high}, text)
	}
	for text, want := range map[string]string{"8..6": "write 6..8", "6..6": "the number alone: 6", "about 1970": "write the two ends, such as 1968..1972", "~6": "4..8", "7 +- 10 %": "two whole ends",
		"6..8 cylinders": "without unit", "6..9..8": "write 6..8", "5..6..7..8": "at most the likely number", "6-8": "write 6..8", "6 to 8": "write 6..8", "6...8": "two dots", "6.5..8": "whole number"} {
		_, _, _, is, err := ParseWholeRange(text)
		assert.True(t, is, text)
		assert.ErrorContains(t, err, want, text)
	}
	for _, text := range []string{"6", "-6", "six", "", "1971-12-01", "about six"} {
		_, _, _, is, err := ParseWholeRange(text)
		if text == "about six" {
			assert.Error(t, err)
			continue
		}
		assert.False(t, is, text)
	}
}

// The ends of a range, written exactly, read back as they were, and any text between them stays between.
func TestRangesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Dimensions()).Draw(t, "dimension")
		if d == DimDashSize {
			return
		}
		a, b := rapid.Float64Range(0.001, 1000).Draw(t, "a"), rapid.Float64Range(0.001, 1000).Draw(t, "b")
		if a == b {
			return
		}
		low, err1 := MustNew(min(a, b), d).Exact()
		high, err2 := MustNew(max(a, b), d).Exact()
		if err1 != nil || err2 != nil {
			return
		}
		r, is, err := ParseRange(low+".."+high, d)
		require.NoError(t, err)
		require.True(t, is)
		require.Equal(t, MustNew(min(a, b), d), r.Low)
		require.Equal(t, MustNew(max(a, b), d), r.High)
		require.LessOrEqual(t, r.Low.SI(), r.Usual.SI())
		require.LessOrEqual(t, r.Usual.SI(), r.High.SI())
	})
}

// Whatever the bytes: no panic, no range of what is a single value without the marks of one, and the ends stand in order.
func FuzzParseRange(f *testing.F) {
	for _, text := range []string{"280..320 hp", "280 hp..300..320 hp", "300 hp +- 5 %", "300\u00b115 hp", "about 90 degC", "~-6", "12..14 AWG", "1-1/2..2 in", "280\u2026320 hp", "1..2..3..4", "0.2...5 mm", "10 % +- 2 %"} {
		f.Add(text, byte(0))
	}
	f.Fuzz(func(t *testing.T, text string, which byte) {
		d := Dimensions()[int(which)%len(Dimensions())]
		r, is, err := ParseRange(text, d)
		if !is {
			require.NoError(t, err)
			return
		}
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.Less(t, r.Low.SI(), r.High.SI())
		require.LessOrEqual(t, r.Low.SI(), r.Usual.SI())
		require.LessOrEqual(t, r.Usual.SI(), r.High.SI())
		require.Equal(t, d, r.Low.Dimension())
	})
}

// What a message proposes is read: two ends of every dimension, the lower first.
func TestExamplesOfRangesAreRead(t *testing.T) {
	for _, d := range Dimensions() {
		r, is, err := ParseRange(RangeExample(d), d)
		assert.NoError(t, err, "%s: %s", d.Name(), RangeExample(d))
		assert.True(t, is, "%s: %s", d.Name(), RangeExample(d))
		if d != DimDashSize && d != DimWireSize {
			assert.Less(t, r.Low.SI(), r.High.SI(), d.Name())
		}
	}
}
