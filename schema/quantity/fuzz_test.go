package quantity

import (
	"errors"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
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
	patterns := allPatterns()
	f.Fuzz(func(t *testing.T, text string, which uint8) {
		readsSoundly(t, patterns, text, Dimension(which%uint8(dimensionCount)))
	})
}

func allPatterns() map[Dimension]*regexp.Regexp {
	patterns := map[Dimension]*regexp.Regexp{}
	for _, d := range Dimensions() {
		patterns[d] = regexp.MustCompile(Pattern(d))
	}
	return patterns
}

// readsSoundly holds what is true of any text: it reads as a number of its dimension that prints and that looks
// like one, or it is refused in a short and valid message.
func readsSoundly(t *testing.T, patterns map[Dimension]*regexp.Regexp, text string, d Dimension) {
	t.Helper()
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
}

// Texts made of numbers, the spellings of every unit and the marks of typography reach what random bytes rarely do.
func TestAnyMixtureOfSpellingsReadsSoundly(t *testing.T) {
	patterns, dimensions := allPatterns(), Dimensions()
	var spellings []string
	for _, u := range units().list {
		spellings = append(spellings, u.spellings()...)
	}
	numbers := []string{"", "1", "-1", "10", "0.5", "3/8", "1 1/2", "\u00bd", "4/0", "0000", "E10", "1e3"}
	marks := strings.Split("\t|\u00a0|\u2007|\u2212|\u2010|\u00b5|\u03bc|\u03a9|\u2126|\u00b0|\u2103|\u2109|\u00b9|\u00b2|\u2082|\u00b3|\u00b7|\u00d7|"+
		"\u2032|\u2019|\u2033|\u201d|\u2044|\u2215|\u2236|\u00bc|\u215e|\u017f|\u212a|\ufffd|\x01|/|*|-|(|)|.|^| |:|#|+|'|\"|%|,|_|0|2|3|per|PER|deg|ohm|"+
		"AWG|gauge|ga|size|dash|AN|JIC|E|e|e-3|(a)|(abs)|(g)|vol|abs", "|")
	random := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		text := numbers[random.IntN(len(numbers))]
		for range 1 + random.IntN(5) {
			if random.IntN(3) == 0 {
				text += spellings[random.IntN(len(spellings))]
			} else {
				text += marks[random.IntN(len(marks))]
			}
		}
		readsSoundly(t, patterns, text, None)
		readsSoundly(t, patterns, text, dimensions[random.IntN(len(dimensions))])
		if v, err := parse(text, None); err == nil {
			readsSoundly(t, patterns, text, v.Dimension())
		}
	}
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
