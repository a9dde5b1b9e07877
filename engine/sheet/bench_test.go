package sheet_test

import (
	"os"
	"testing"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/sheet"
	"plumbline/rules"
	"plumbline/schema"
)

// BenchmarkSlip judges a list of fifteen facts with the patterns and makes its slip.
func BenchmarkSlip(b *testing.B) {
	lib, err := engine.OpenImage(rules.Files(), rules.Image())
	if err != nil {
		b.Fatal(err)
	}
	ps, err := pattern.Read(designs.Patterns())
	if err != nil {
		b.Fatal(err)
	}
	data, _ := os.ReadFile("/tmp/lists/A.yaml")
	d, err := schema.Load("a.yaml", data)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		sheet.SlipOf(d, lib.Judge(d, engine.Options{Patterns: ps}))
	}
}
