package drawing_test

import (
	"encoding/xml"
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/drawing"
	"plumbline/engine/sheet"
)

func numberIn(t *testing.T, svg, pattern string) float64 {
	t.Helper()
	found := regexp.MustCompile(pattern).FindStringSubmatch(svg)
	require.NotNil(t, found, "%s in %s", pattern, svg)
	n, err := strconv.ParseFloat(found[1], 64)
	require.NoError(t, err)
	return n
}

// A hole of 52 mm is 52 mm wide on paper: CSS has 96 pixels in an inch of 25.4 mm (CSS Values and Units, absolute lengths), and the
// drawing says how many millimetres its width is.
func TestOutlineIsAsLargeAsThePart(t *testing.T) {
	svg := drawing.Outline(&sheet.Outline{Title: "hole", Describes: "a hole", Rounds: []sheet.Round{{Name: "hole 52 mm", Diameter: 0.052, Cut: true}},
		Face: &sheet.Face{Name: "plug", Width: 0.038, Height: 0.024}}, drawing.Options{ID: "x"})
	require.NoError(t, xml.Unmarshal([]byte(svg), new(struct{})))
	perPixel := numberIn(t, svg, `width="([0-9.]+)mm"`) / numberIn(t, svg, `viewBox="0 0 ([0-9.]+) `)
	assert.InDelta(t, 25.4/96, perPixel, 1e-5)
	assert.InDelta(t, perPixel, numberIn(t, svg, `height="([0-9.]+)mm"`)/numberIn(t, svg, `viewBox="0 0 [0-9.]+ ([0-9.]+)"`), 1e-5)
	assert.InDelta(t, 52, 2*perPixel*numberIn(t, svg, `<circle cx="[0-9.]+" cy="[0-9.]+" r="([0-9.]+)" fill="none" stroke="currentColor" stroke-width="2.4"`), 0.06)
	bars := regexp.MustCompile(`<rect x="[0-9.]+" y="[0-9.]+" width="([0-9.]+)" height="7"`).FindAllStringSubmatch(svg, -1)
	long := 0.0
	for _, b := range bars {
		n, err := strconv.ParseFloat(b[1], 64)
		require.NoError(t, err)
		long += n * perPixel
	}
	assert.InDelta(t, 50, long, 0.15, "the bar that proves the printer")
}

// A chart puts a value where its axis says it is: half of the last mark lies half way along.
func TestChartPutsValuesWhereTheAxisSays(t *testing.T) {
	svg := drawing.Chart(&sheet.Chart{Title: "t", Describes: "d", X: sheet.Axis{Name: "flow", Unit: "L/h", One: 1.0 / 3.6e6}, Y: sheet.Axis{Name: "pressure", Unit: "kPa", One: 1e3},
		Lines:  []sheet.Line{{Name: "curve", Points: []sheet.Point{{X: 0, Y: 500e3}, {X: 190 / 3.6e6, Y: 0}}, Weight: 2}},
		Levels: []sheet.Level{{Name: "need", At: 50 / 3.6e6}}}, drawing.Options{Width: 760, ID: "x"})
	require.NoError(t, xml.Unmarshal([]byte(svg), new(struct{})))
	marks := regexp.MustCompile(`<text x="([0-9.]+)" y="[0-9.]+" font-size="10.5" text-anchor="middle" class="axis">([0-9]+)<`).FindAllStringSubmatch(svg, -1)
	require.NotEmpty(t, marks)
	at := map[string]float64{}
	for _, m := range marks {
		n, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		at[m[2]] = n
	}
	require.Contains(t, at, "0")
	require.Contains(t, at, "100")
	level := numberIn(t, svg, `<line x1="([0-9.]+)" y1="40" x2="[0-9.]+" y2="[0-9.]+" fill="none" stroke="currentColor" stroke-width="1.5"`)
	assert.InDelta(t, at["0"]+(at["100"]-at["0"])/2, level, 0.2)
}

// What lies beyond the range of a log axis, or is nothing, is no number that cannot be drawn.
func TestChartByPowersOfTen(t *testing.T) {
	svg := drawing.Chart(&sheet.Chart{Title: "t", Describes: "d", X: sheet.Axis{Name: "current", Unit: "A", One: 1, Log: true}, Y: sheet.Axis{Name: "time", Unit: "s", One: 1, Log: true},
		Lines: []sheet.Line{{Name: "fuse", Points: []sheet.Point{{X: 20, Y: 100}, {X: 200, Y: 0.01}}}, {Name: "none"}}}, drawing.Options{Width: 350, ID: "x"})
	assert.NotContains(t, svg, "NaN")
	assert.NotContains(t, svg, "Inf")
	assert.Contains(t, svg, ">100<")
	assert.False(t, math.IsNaN(numberIn(t, svg, `<path d="M([0-9.]+) `)))
}
