package engine_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// What is decided of a design with ranges is so of every design within them: narrowing a range never changes a pass or a fail.
func TestWhatRangesDecideHoldsWithinThem(t *testing.T) {
	lib := shipped.Library(t)
	files, err := filepath.Glob("../designs/good/*.yaml")
	require.NoError(t, err)
	decided := 0
	proofs.Fewer(t, 10)
	rapid.Check(t, func(t *rapid.T) {
		file := rapid.SampledFrom(files).Draw(t, "design")
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		whole, err := schema.LoadBased(file, data, os.ReadFile)
		require.NoError(t, err)
		var numbers []string
		schema.Walk(whole, func(v schema.Visit) {
			if q, ok := v.Quantity(); ok && q.SI() != 0 {
				numbers = append(numbers, v.Path)
			}
		})
		ranged := whole.Clone()
		for range rapid.IntRange(1, 4).Draw(t, "ranges") {
			path := rapid.SampledFrom(numbers).Draw(t, "number")
			if ranged.FactAt(path).Ranged() {
				continue
			}
			width := rapid.Float64Range(0.01, 0.2).Draw(t, "width")
			at := rapid.Float64Range(0, 1).Draw(t, "place of the true value")
			widen(t, ranged, path, width, at)
		}
		before := judgedAs(lib.Judge(ranged, engine.Options{}))
		after := judgedAs(lib.Judge(whole, engine.Options{}))
		for what, o := range before {
			if o == engine.Open || o == engine.NotApplicable {
				continue
			}
			decided++
			if after[what] != o {
				t.Fatalf("%s: %s with ranges, %s without", what, o, after[what])
			}
		}
	})
	assert.Positive(t, decided)
}

func judgedAs(r *engine.Report) map[string]engine.Outcome {
	out := map[string]engine.Outcome{}
	for _, f := range r.Findings {
		out[f.Rule+" "+f.Subject] = f.Outcome
	}
	return out
}

// widen states a number as a range around it.
func widen(t *rapid.T, d *schema.Design, path string, width, at float64) {
	si := sizeAt(d, path)
	span := width * math.Abs(si)
	if err := d.PutRange(path, si-at*span, si, si+(1-at)*span); err != nil {
		t.Logf("%s: %v", path, err)
	}
}

func sizeAt(d *schema.Design, path string) float64 {
	if q, ok := d.FactAt(path).Any().(interface{ SI() float64 }); ok {
		return q.SI()
	}
	return 0
}

// A finding that rests on usual values stays open; with patterns or without, what is decided is the same.
func TestPatternsDecideNothing(t *testing.T) {
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	files, err := filepath.Glob("../designs/demo/*.yaml")
	require.NoError(t, err)
	leaning := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		d, err := schema.LoadBased(file, data, os.ReadFile)
		require.NoError(t, err)
		n := 0
		half := d.Keep(func(string) bool { n++; return n%3 != 0 })
		plain, leant := lib.Judge(half, engine.Options{Stage: "planned"}), lib.Judge(half, engine.Options{Stage: "planned", Patterns: patterns})
		assert.Equal(t, judgedAs(plain), judgedAs(leant), file)
		for _, f := range leant.Findings {
			if f.Leaning != nil {
				leaning++
				assert.Equal(t, engine.Open, f.Outcome, fmt.Sprint(f.Rule, f.Subject))
			}
		}
	}
	assert.Positive(t, leaning)
}
