package whatif

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// judged are the rules that are wrong of a design with a thing at one size, judged whole.
func judged(w whole, g *group, size string) map[string]bool {
	i := slices.Index(g.series.Sizes, size)
	out := map[string]bool{}
	for k := range wrongIn(w.Try(engine.Whole, g.search(w, engine.Whole).changes(i)...)) {
		out[k.rule] = true
	}
	return out
}

// What is said of a size holds when the design is changed to it and judged whole: what is wrong with the size beside it is not
// wrong with the one found. And it is the same in whatever order the things are asked for, by one bench or by many.
func TestSizesHoldAndDoNotDependOnTheOrder(t *testing.T) {
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	series, err := ReadSeries("series.yaml", designs.Series())
	require.NoError(t, err)
	data, err := os.ReadFile("testdata/half-known.yaml")
	require.NoError(t, err)
	d, err := schema.Load("half-known.yaml", data)
	require.NoError(t, err)
	o := engine.Options{Patterns: patterns}
	want := Sizes(lib, d, o, series, "")
	groups := sizable(d, series, "")
	require.Len(t, want, len(groups))
	bench := lib.BenchForSizes(d, o, things(groups))
	decided := 0
	for i, g := range slices.Backward(groups) {
		assert.Equal(t, want[i], g.search(bench, engine.Whole).size(), "asked backwards: %s", g.of)
	}
	for i, g := range groups {
		x := want[i]
		if x.Least == "" || i%2 == 1 && testing.Short() {
			continue
		}
		least := judged(whole{lib, d, o}, g, x.Least)
		for _, beside := range []*Wrong{x.Below, x.Above} {
			if beside != nil && (beside == x.Below || x.Most == x.Least) {
				decided++
				assert.True(t, judged(whole{lib, d, o}, g, beside.Size)[beside.Rule], "%s of %s breaks %s", g.of, beside.Size, beside.Rule)
				assert.False(t, least[beside.Rule], "%s of %s breaks %s too", g.of, x.Least, beside.Rule)
			}
		}
	}
	assert.Positive(t, decided)
}
