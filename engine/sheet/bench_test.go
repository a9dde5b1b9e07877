package sheet_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// BenchmarkSlip judges a list of fifteen facts with the patterns and makes its slip.
func BenchmarkSlip(b *testing.B) {
	lib, patterns := shipped(b)
	data, err := os.ReadFile("../../testdata/counter/appendix-a.yaml")
	require.NoError(b, err)
	var l counterList
	require.NoError(b, yaml.Unmarshal(data, &l))
	text, err := yaml.Marshal(&l.Design)
	require.NoError(b, err)
	d, err := schema.Load(l.Name, text)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		sheet.SlipOf(d, lib.Judge(d, engine.Options{Patterns: patterns}))
	}
}
