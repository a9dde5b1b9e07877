package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// What decides on the parts of a planned job comes first, by where the answer is: remembered, seen, printed. A job that is further,
// or is judged without patterns, has none.
func TestWhatDecidesComesFirst(t *testing.T) {
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	decisive := func(text string, with []*pattern.Pattern) []engine.Ranked {
		d, err := schema.Load("x", []byte("plumbline: 1\n"+text))
		require.NoError(t, err)
		var out []engine.Ranked
		rest := false
		for _, r := range engine.Rank(lib.Judge(d, engine.Options{Patterns: with}), func(p string) string { return p }) {
			if r.Decides == 0 && !r.Figure {
				rest = true
				continue
			}
			assert.False(t, rest, "%s stands behind what does not decide", r.Path)
			assert.True(t, r.From.AtCounter(), "%s is found %s", r.Path, r.From)
			assert.NotEmpty(t, r.Rules, r.Path)
			if n := len(out); n > 0 && !r.Refines {
				assert.LessOrEqual(t, out[n-1].From.Rank(), r.From.Rank(), "%s before %s", out[n-1].Path, r.Path)
			}
			out = append(out, r)
		}
		return out
	}
	paths := func(list []engine.Ranked) []string {
		var out []string
		for _, r := range list {
			out = append(out, r.Path)
		}
		return out
	}
	blank := paths(decisive("", patterns))
	require.NotEmpty(t, blank)
	assert.Equal(t, "design.engine.power", blank[0])
	assert.Subset(t, blank, []string{"design.pump.rated_flow", "design.regulator.setting", "design.throttle_body.injectors.static_flow", "design.feed.runs"})

	powered := paths(decisive("engine: {power: 150 hp}\n", patterns))
	assert.NotContains(t, powered, "design.engine.power")
	assert.Equal(t, []string{"design.fuel.ethanol", "design.pump.place"}, powered[:2], "then the fuel, and its way")
	assert.Contains(t, powered, "design.regulator.style")

	known := paths(decisive("engine: {power: 150 hp}\npump: {place: frame_rail, rated_flow: 190 L/h, rated_pressure: 300 kPa}\n", patterns))
	assert.NotContains(t, known, "design.pump.rated_flow")
	assert.NotContains(t, known, "design.pump.place")

	// In a surge tank the pump sits only where there is one: no usual way holds before that is said.
	assert.Contains(t, paths(decisive("engine: {power: 150 hp}\npump: {place: in_surge_tank}\n", patterns)), "design.surge_tank")

	assert.Empty(t, decisive("", nil))
	assert.Empty(t, decisive("stage: ordered\n", patterns))
}
