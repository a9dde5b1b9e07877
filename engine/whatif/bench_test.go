package whatif_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// BenchmarkSizes finds all sizes of a half-known design.
func BenchmarkSizes(b *testing.B) {
	lib := shipped.Library(b)
	patterns := shipped.Patterns(b)
	series, err := whatif.ReadSeries("series.yaml", designs.Series())
	require.NoError(b, err)
	data, err := os.ReadFile("testdata/half-known.yaml")
	require.NoError(b, err)
	d, err := schema.Load("half-known.yaml", data)
	require.NoError(b, err)
	o := engine.Options{Patterns: patterns}
	lib.Judge(d, o)
	b.ReportAllocs()
	for b.Loop() {
		whatif.Sizes(lib, d, o, series, "")
	}
}
