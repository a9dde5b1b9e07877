package quantity

import (
	"errors"
	"math"
	"regexp"
	"testing"
	"unicode/utf8"
)

func FuzzParse(f *testing.F) {
	for _, d := range Dimensions() {
		f.Add(Example(d), uint8(d))
	}
	for _, text := range []string{"", "1e999999999 psi", "14' 6 1/2\"", "1½″", "0000 AWG", "-06", "14.7:1", "3,5 bar", "−40 ℃", "0℃", "¹″", "12 gauge", "5 lb per hp-hr", "1 h 30 min", "E10", "e 085", "100 ppm", "-3 %", "0.5 pct", "½ vol %"} {
		f.Add(text, uint8(None))
		f.Add(text, uint8(DimTemperature))
		f.Add(text, uint8(DimWireSize))
		f.Add(text, uint8(DimShare))
	}
	patterns := map[Dimension]*regexp.Regexp{}
	for _, d := range Dimensions() {
		patterns[d] = regexp.MustCompile(Pattern(d))
	}
	f.Fuzz(func(t *testing.T, text string, which uint8) {
		d := Dimension(which % uint8(dimensionCount))
		v, err := parse(text, d)
		if err != nil {
			var parse *ParseError
			if !errors.As(err, &parse) || !v.IsZero() {
				t.Fatalf("%q: %v with %v", text, err, v)
			}
			if message := err.Error(); len(message) > 700 || !utf8.ValidString(message) {
				t.Fatalf("%q: message %q", text, message)
			}
			return
		}
		if v.IsZero() || math.IsNaN(v.SI()) || math.IsInf(v.SI(), 0) || d != None && v.Dimension() != d {
			t.Fatalf("%q reads as %v in %s", text, v.SI(), v.Dimension())
		}
		if d != None && !patterns[d].MatchString(text) {
			t.Fatalf("%q is %s but does not match its pattern", text, d)
		}
		for _, s := range []System{Metric, US, Both} {
			if v.Format(s) == "" {
				t.Fatalf("%q prints as nothing", text)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		text string
		want Dimension
	}{{"58 psi", DimPressure}, {"14 ft 6 in", DimLength}, {"12 AWG", DimWireSize}, {"0.48 lb/(hp h)", DimSpecificConsumption}, {"1e999999999 psi", DimPressure}, {"58 pis", DimPressure}} {
		b.Run(c.text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = Parse(c.text, c.want)
			}
		})
	}
}

func BenchmarkUnitValue(b *testing.B) {
	psi, _ := UnitByCEL("psi")
	b.ReportAllocs()
	for b.Loop() {
		_, _ = psi.Value(58)
	}
}

func BenchmarkFormatBoth(b *testing.B) {
	v := MustNew(399896, DimPressure)
	b.ReportAllocs()
	for b.Loop() {
		_ = v.Format(Both)
	}
}
