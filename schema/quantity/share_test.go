package quantity

import (
	"bufio"
	"fmt"
	"math"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSharesReadAndPrint(t *testing.T) {
	for _, c := range []struct {
		text    string
		si      float64
		printed string
	}{
		{"85 %", 0.85, "85 %"}, {"85%", 0.85, "85 %"}, {"8.5 pct", 0.085, "8.5 %"}, {"1/2 %", 0.005, "0.5 %"},
		{"100 ppm", 1e-4, "100 ppm"}, {"0.01 %", 1e-4, "100 ppm"}, {"1000 ppm", 1e-3, "0.1 %"}, {"999 ppm", 999e-6, "999 ppm"},
		{"30 PPM", 3e-5, "30 ppm"}, {"500 ppb", 5e-7, "0.5 ppm"}, {"4.5 % vol", 0.045, "4.5 %"}, {"100 ppmv", 1e-4, "100 ppm"},
		{"E10", 0.10, "10 %"}, {"e85", 0.85, "85 %"}, {"E0", 0, "0 %"}, {"E100", 1, "100 %"}, {"E5", 0.05, "5 %"},
		{"-3 %", -0.03, "-3 %"}, {"0 ppm", 0, "0 %"},
	} {
		v, err := Parse(c.text, DimShare)
		if assert.NoError(t, err, c.text) {
			assert.Equal(t, c.si, v.SI(), c.text)
			assert.Equal(t, c.printed, v.Format(Both), c.text)
			assert.Regexp(t, Pattern(DimShare), c.text)
		}
	}
}

// A share without a unit is refused with the two ways to write it, each with its meaning.
func TestABareShareIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"0.1":  "0.1: a share needs its unit; write 10 % for 0.1 of the whole, or 0.1 % for 0.1 in a hundred",
		"1":    "1: a share needs its unit; write 100 % for 1 of the whole, or 1 % for 1 in a hundred",
		"5":    "5: a share needs its unit; write 5 % for 5 in a hundred, or 5 ppm for 5 in a million",
		"0":    "0: a share needs its unit; write 0 % for 0 in a hundred, or 0 ppm for 0 in a million",
		"E101": "E101 is more than the whole; E0 to E100 name the ethanol in a fuel",
		"1:10": "1:10: :10 is not a unit of share; the units are %, ppm, ppb",
	} {
		_, err := Parse(text, DimShare)
		assert.EqualError(t, err, want)
	}
	for _, text := range []string{"E", "E1.5", "E 1000", "10 E", "100 ppt", "5 permille", "5 pm", "1e-3"} {
		_, err := Parse(text, DimShare)
		assert.Error(t, err, text)
	}
	for text, want := range map[string]float64{"1.15": 1.15, "80 %": 0.8, "14.7:1": 14.7} {
		v, err := Parse(text, DimRatio)
		require.NoError(t, err, text)
		assert.Equal(t, want, v.SI(), "a factor may be bare")
	}
	_, err := Parse("100 ppm", DimRatio)
	assert.EqualError(t, err, "100 ppm is a share; a ratio is expected, e.g. 0.85")
}

// proposed is a unit that an error tells the reader to write.
var proposed = regexp.MustCompile(`; write 100 (.+)$`)

// No hint turns a quantity into one of another magnitude: every word that GNU units knows as a unit of one of our
// dimensions and that is not read here is refused with the list, or with a unit of the same size.
func TestNoHintProposesAnotherMagnitude(t *testing.T) {
	words := []string{"ppt", "pptv", "permille", "permill", "ppbw", "hPa", "cmHg", "cmH2O", "daN", "cV", "dL", "cL", "hL", "MN", "kV A", "dm", "hm", "ns", "Ms", "kA", "GW", "kmph"}
	// Units of history one letter from a unit of today.
	historic := []string{"barad", "pfund"}
	unitSize := map[string]float64{}
	if _, err := exec.LookPath("units"); err == nil {
		words = append(words, gnuWords(t)...)
	}
	for _, word := range words {
		for _, d := range Dimensions() {
			if _, err := Parse("100 "+word, d); err != nil {
				m := proposed.FindStringSubmatch(err.Error())
				// A slip of case says that milli and mega differ, and two ways are a choice.
				if m == nil || strings.Contains(m[1], " or 100 ") || strings.Contains(err.Error(), "m is milli, M is mega") || slices.Contains(historic, word) {
					continue
				}
				size, ok := sizes(t, unitSize, word, d)
				hint, errHint := Parse("1 "+m[1], d)
				if assert.NoError(t, errHint, err) && ok {
					assert.InEpsilon(t, size, hint.SI(), 1e-2, "%s as %s: %s", word, d, err)
				}
			}
		}
	}
}

// gnuWords are the names GNU units lists.
func gnuWords(t *testing.T) []string {
	file, err := exec.Command("units", "--list-units").Output()
	if err == nil {
		return strings.Fields(string(file))
	}
	out, err := exec.Command("cat", "/usr/share/units/definitions.units").Output()
	if err != nil {
		t.Log("no list of units found: " + err.Error())
		return nil
	}
	var words []string
	lines := bufio.NewScanner(strings.NewReader(string(out)))
	word := regexp.MustCompile(`^[A-Za-z][A-Za-z]+$`)
	for lines.Scan() {
		if f := strings.Fields(lines.Text()); len(f) > 1 && word.MatchString(f[0]) {
			words = append(words, f[0])
		}
	}
	return words
}

// sizes is a word's size in SI of the dimension by GNU units, false where it is no unit of that.
func sizes(t *testing.T, known map[string]float64, word string, d Dimension) (float64, bool) {
	t.Helper()
	key := fmt.Sprint(word, d)
	if n, ok := known[key]; ok {
		return n, n > 0
	}
	known[key] = 0
	if si := siExpression(d); si != "" {
		out, err := exec.Command("units", "-t", "-o", "%.15g", word, si).Output()
		var n float64
		if _, scan := fmt.Sscan(string(out), &n); err == nil && scan == nil && n > 0 && !math.IsInf(n, 0) {
			known[key] = n
		}
	}
	return known[key], known[key] > 0
}
