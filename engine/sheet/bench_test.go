package sheet_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// BenchmarkSlip judges lists of some fifteen facts with the patterns and makes their slips, sizes included: one with nothing to
// size, and two with a thing to size.
func BenchmarkSlip(b *testing.B) {
	lib, patterns := shipped.Library(b), shipped.Patterns(b)
	series, err := whatif.ReadSeries("series.yaml", designs.Series())
	require.NoError(b, err)
	for _, name := range []string{"appendix-a", "fuel-six-low-pressure", "wire-van-16-gauge"} {
		data, err := os.ReadFile("../../testdata/counter/" + name + ".yaml")
		require.NoError(b, err)
		var l counterList
		require.NoError(b, yaml.Unmarshal(data, &l))
		text, err := yaml.Marshal(&l.Design)
		require.NoError(b, err)
		d, err := schema.Load(l.Name, text)
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r := lib.Judge(d, engine.Options{Patterns: patterns, Things: whatif.Things(d, series)})
				sheet.SlipOf(d, r, whatif.NewSizer(d, series, r))
			}
		})
	}
}
