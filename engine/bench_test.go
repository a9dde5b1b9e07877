package engine_test

import (
	"os"
	"runtime"
	"testing"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
)

func benchDesign(b *testing.B) (string, []byte) {
	b.Helper()
	data, err := os.ReadFile("../designs/demo/six-return.yaml")
	if err != nil {
		b.Fatal(err)
	}
	return "six-return.yaml", data
}

func benchLibrary(b *testing.B) *engine.Library {
	b.Helper()
	lib, err := engine.Load(rules.Files())
	if err != nil {
		b.Fatal(err)
	}
	return lib
}

// Reading, checking and compiling the whole library.
func BenchmarkLoadLibrary(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		benchLibrary(b)
	}
}

// Judging one complete design by the whole library, derived values included,
// on one core.
func BenchmarkJudge(b *testing.B) {
	lib := benchLibrary(b)
	name, data := benchDesign(b)
	d, err := schema.Load(name, data)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	findings := 0
	for b.Loop() {
		findings = len(lib.Judge(d, engine.Options{}).Findings)
	}
	b.ReportMetric(float64(findings), "findings")
}

// The same on all cores at once; ns/op is wall time per design.
func BenchmarkJudgeParallel(b *testing.B) {
	lib := benchLibrary(b)
	name, data := benchDesign(b)
	b.ReportMetric(float64(runtime.GOMAXPROCS(0)), "cores")
	b.RunParallel(func(pb *testing.PB) {
		d, err := schema.Load(name, data)
		if err != nil {
			b.Error(err)
			return
		}
		for pb.Next() {
			lib.Judge(d, engine.Options{})
		}
	})
}
