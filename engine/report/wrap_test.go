package report

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"plumbline/schema/quantity"
)

func TestPiecesKeepANumberWithItsUnit(t *testing.T) {
	for text, want := range map[string][]string{
		"open 75.9 % of the time":            {"open", "75.9 %", "of", "the", "time"},
		"of 14 ft 6 in, not (12 AWG).":       {"of", "14 ft", "6 in,", "not", "(12 AWG)."},
		"0.48 lb/(hp h) at 200 hp;":          {"0.48 lb/(hp h)", "at", "200 hp;"},
		"a 3/8 in hose of 5.6 mm2 and -6":    {"a", "3/8 in", "hose", "of", "5.6 mm2", "and", "-6"},
		"2 parts, 1 sensor and 3 more":       {"2", "parts,", "1", "sensor", "and", "3", "more"},
		"with 15 A: it blows (of 30 A)":      {"with", "15 A:", "it", "blows", "(of", "30 A)"},
		"rules 1. and 2. hold at 100 degC.":  {"rules", "1.", "and", "2.", "hold", "at", "100 degC."},
		"":                                   {},
		"no numbers at all: % and mm and in": {"no", "numbers", "at", "all:", "%", "and", "mm", "and", "in"},
	} {
		assert.Equal(t, want, pieces(text), text)
	}
}

// No line ends in a number whose unit begins the next one, no line is too long, and every word is kept in its order.
func TestWrapNeverPartsANumberFromItsUnit(t *testing.T) {
	words := []string{"the", "engine", "needs", "loses", "at", "full", "load,", "of"}
	quantities := []string{"75.9 %", "12 AWG", "0.62 V", "(155 L/h)", "300 kPa,", "3/8 in", "14 ft 6 in", "480 mV:", "60 lb/h."}
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.SampledFrom(slices.Concat(words, quantities)), 1, 40).Draw(t, "parts")
		width := rapid.IntRange(leastWidth, 100).Draw(t, "width")
		text := strings.Join(parts, " ")
		lines := wrap(text, width, width)
		if strings.Join(lines, " ") != text {
			t.Fatalf("words are lost: %q", lines)
		}
		for i, line := range lines {
			if utf8.RuneCountInString(line) > width {
				t.Fatalf("%q is longer than %d", line, width)
			}
			if i == 0 {
				continue
			}
			before := strings.Fields(lines[i-1])
			last, first := strings.TrimLeft(before[len(before)-1], "("), strings.TrimRight(strings.Fields(line)[0], ".,:)")
			if !strings.ContainsAny(last[:1], "0123456789") {
				continue // AWG 14 is a size too, but not here
			}
			if _, err := quantity.ParseAny(last + " " + first); err == nil {
				t.Fatalf("a line ends in %q, the next begins with %q", last, first)
			}
		}
	})
}
