package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyValue draws a value of every dimension over many magnitudes, within what such a quantity can be.
func anyValue(t *rapid.T) Value {
	d := rapid.SampledFrom(Dimensions()).Draw(t, "dimension")
	if d == DimDashSize {
		si, _ := dashDiameter(float64(rapid.IntRange(dashLeast, dashMost).Draw(t, "dash")))
		return MustNew(si, d)
	}
	si := rapid.Float64Range(1, 10).Draw(t, "mantissa") * math.Pow(10, float64(rapid.IntRange(-13, 12).Draw(t, "power")))
	positive := d == DimTemperature || d == DimAbsolutePressure || d == DimWireSize
	if !positive && rapid.Bool().Draw(t, "negative") {
		si = -si
	}
	return MustNew(si, d)
}

func TestPrintedTextReadsBackWithinItsDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyValue(t)
		system := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		text := v.Format(system)
		back, err := Parse(text, v.Dimension())
		if err != nil {
			t.Fatalf("%v prints as %q: %v", v.SI(), text, err)
		}
		// Half a unit of the third digit; 1 % of a wire gauge; a twentieth of a degree; inches below one in thousandths.
		tolerance := 0.005 * math.Abs(v.SI())
		switch v.Dimension() {
		case DimLength:
			if system == US && math.Abs(v.SI()) < 0.0254 {
				tolerance = max(tolerance, 0.0127e-3) // half a thousandth of an inch
			}
		case DimWireSize:
			tolerance *= 2.1
		case DimTemperature:
			tolerance = 0.0501 + 1e-14*v.SI()
		}
		if math.Abs(back.SI()-v.SI()) > tolerance*(1+1e-9) {
			t.Fatalf("%v prints as %q, which reads as %v", v.SI(), text, back.SI())
		}
		// What is read prints the same again, unless rounding carried it over to the next unit.
		again := back.Format(system)
		_, unit, _ := strings.Cut(text, " ")
		_, unitAgain, _ := strings.Cut(again, " ")
		if unit == unitAgain && v.Dimension() != DimTemperature && again != text {
			t.Fatalf("%q reads and prints as %q", text, again)
		}
	})
}

func TestExactTextReadsBackBitForBit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyValue(t)
		text, err := v.Exact()
		if err != nil {
			t.Fatal(err)
		}
		if back, err := Parse(text, v.Dimension()); err != nil || back != v {
			t.Fatalf("%v writes %q, which reads %v, %v", v.SI(), text, back.SI(), err)
		}
	})
}

// linearUnits are the units whose value is a multiple of the number.
func linearUnits() []Unit {
	var all []Unit
	for _, u := range Units() {
		if u.toSI == nil && u.offset == nil && u.Symbol != ":1" {
			all = append(all, u)
		}
	}
	return all
}

func TestParsingScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(linearUnits()).Draw(t, "unit")
		n := rapid.IntRange(1, 1<<30).Draw(t, "n")
		one, err := Parse(strconv.Itoa(n)+" "+u.Symbol, u.Dimension)
		if err != nil {
			t.Fatal(err)
		}
		// Twice the number is exactly twice the value, and a fraction equals its decimal.
		two, err := Parse(strconv.Itoa(2*n)+" "+u.Symbol, u.Dimension)
		if err != nil || two.SI() != 2*one.SI() {
			t.Fatalf("%d %s doubled: %v, %v, %v", n, u.Symbol, one.SI(), two.SI(), err)
		}
		part, err := Parse(strconv.Itoa(n)+"/8 "+u.Symbol, u.Dimension)
		if err != nil || part.SI() != one.SI()/8 {
			t.Fatalf("%d/8 %s: %v, %v", n, u.Symbol, part.SI(), err)
		}
		number, err := one.In(u.Symbol)
		if err != nil || math.Abs(number-float64(n)) > 1e-15*2*float64(n) {
			t.Fatalf("%d %s is %v of itself, %v", n, u.Symbol, number, err)
		}
	})
}

// microPrefix writes a leading u, which stands for micro, as one of the two signs for it.
func microPrefix(unit, sign string) string {
	if rest, ok := strings.CutPrefix(unit, "u"); ok {
		return sign + rest
	}
	return unit
}

// Whatever Parse accepts looks like a quantity, by the pattern told apart from it.
func TestPatternAcceptsWhatParseAccepts(t *testing.T) {
	compiled := map[Dimension]*regexp.Regexp{}
	for _, d := range Dimensions() {
		re, err := regexp.Compile(Pattern(d))
		require.NoError(t, err, "%s", d)
		compiled[d] = re
		assert.Regexp(t, re, Example(d))
		for _, bad := range []string{"", "psi", "5 parsnips", "5 psi 6", "5,5 psi", "NaN"} {
			assert.NotRegexp(t, re, bad, "%s", d)
		}
	}
	assert.Empty(t, Pattern(None))
	numbers := []string{"5", "-5", "−5", "+5", "0.5", ".5", "1e3", "1.5E-3", "3/8", "1 1/2", "1-1/2", "1½", "⅜", "0", "12", "1/0", "0000", "#12", "14 ft 6", "14'6", "2 lb 3", "1 h 30"}
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(Units()).Draw(t, "unit")
		spelt := rapid.SampledFrom(u.spellings()).Draw(t, "spelling")
		change := rapid.SampledFrom([]func(string) string{
			strings.ToUpper, strings.ToLower, func(s string) string { return s },
			strings.NewReplacer("2", "²", "3", "³", "ohm", "Ω", "deg", "°", `"`, "″", "'", "′").Replace,
			func(s string) string { return microPrefix(s, "µ") }, func(s string) string { return microPrefix(s, "μ") },
			strings.NewReplacer("2", "^2", "3", "^3", " ", "·", "ohm", "Ω", "deg", "deg ").Replace,
			strings.NewReplacer("/", " per ", " ", "-").Replace,
			strings.NewReplacer("/", " / ", " ", "\u00a0").Replace,
			func(s string) string { return s + "." }, func(s string) string { return "(" + s + ")" },
		}).Draw(t, "change")
		number := rapid.SampledFrom(numbers).Draw(t, "number")
		gap := rapid.SampledFrom([]string{"", " ", "\u00a0", "  "}).Draw(t, "gap")
		text := number + gap + change(spelt)
		for _, d := range Dimensions() {
			if _, err := Parse(text, d); err == nil && !compiled[d].MatchString(text) {
				t.Fatalf("%q is %s but does not match its pattern", text, d)
			}
		}
	})
}
