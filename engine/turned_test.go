package engine_test

import (
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// A bench finds after random changes of facts what judging the changed design whole and from nothing finds: every finding, word
// for word. Numbers are moved over all they may be, words and answers to any other; several facts at once too. The bench is as it
// was afterwards, which the next change of the same bench shows.
func TestBenchEqualsWholeJudging(t *testing.T) {
	proofs.Fewer(t, 20)
	lib := shipped.Library(t)
	files, err := filepath.Glob("../designs/*/*.yaml")
	require.NoError(t, err)
	files = slices.DeleteFunc(files, func(f string) bool { return !slices.Contains([]string{"good", "demo"}, filepath.Base(filepath.Dir(f))) })
	whole := map[string]*schema.Design{}
	for _, f := range files {
		whole[f] = builds.Design(t, f)
	}
	rapid.Check(t, func(t *rapid.T) {
		file := rapid.SampledFrom(files).Draw(t, "file")
		d := whole[file]
		var facts []schema.Visit
		schema.Walk(d, func(v schema.Visit) {
			if v.Reading.Known() && movable(v) {
				facts = append(facts, v)
			}
		})
		var things [][]string
		var changes [][]engine.Change
		for range 3 {
			var paths []string
			var change []engine.Change
			for _, v := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(facts)-1), 1, 3, rapid.ID).Draw(t, "facts") {
				v := facts[v]
				paths = append(paths, v.Path)
				change = append(change, engine.Change{Path: v.Path, Value: otherValue(t, v)})
			}
			things, changes = append(things, paths), append(changes, change)
		}
		o := engine.Options{Waiting: true}
		bench := lib.Bench(d, o, things, engine.Whole)
		base := map[string]engine.Finding{}
		for _, f := range bench.Findings(engine.Whole) {
			base[f.Key()] = plainly(f)
		}
		for _, change := range changes {
			other := d.Clone()
			for _, c := range change {
				require.NoError(t, other.Put(c.Path, c.Value))
			}
			want := map[string]engine.Finding{}
			for _, f := range lib.Judge(other, o).Findings {
				if !strings.HasPrefix(f.Rule, "design/") {
					want[f.Key()] = plainly(f)
				}
			}
			got := map[string]engine.Finding{}
			for k, f := range base {
				got[k] = f
			}
			for _, f := range bench.Try(engine.Whole, change...) {
				got[f.Key()] = plainly(f)
			}
			for _, x := range bench.Turned(engine.Whole, change...) {
				if x.After == nil {
					delete(got, x.Before.Key())
				}
			}
			for k := range want {
				if !reflect.DeepEqual(want[k], got[k]) {
					require.Equal(t, want[k], got[k], "%s with %v", k, change)
				}
			}
			require.Len(t, got, len(want), "with %v", change)
		}
	})
}

// movable reports whether a fact is of the vehicle, not of the file or of what the file says is complete, and no item of a list
// of words.
func movable(v schema.Visit) bool {
	return !strings.HasSuffix(v.Path, "]") && !slices.Contains([]string{"plumbline", "title", "notes", "based_on", "leave_out", "complete", "stage", "regions", "concessions"}, schema.Path(v.Path).Section()) &&
		(v.Kind == schema.KindQuantity || v.Kind == schema.KindInt || v.Kind == schema.KindBool || v.Kind == schema.KindWord)
}

func otherValue(t *rapid.T, v schema.Visit) any {
	low, high, _ := schema.RangeOf(v.Type, v.Key)
	switch v.Kind {
	case schema.KindWord:
		return rapid.SampledFrom(v.Words).Draw(t, "word")
	case schema.KindBool:
		return rapid.Bool().Draw(t, "answer")
	case schema.KindInt:
		return rapid.IntRange(int(low), int(high)).Draw(t, "number")
	}
	q, _ := v.Quantity()
	near := []float64{q.SI() * 0.9, q.SI() * 1.1, q.SI() * 1.5, q.SI() * 0.5, low, high, low + (high-low)/3, low + (high-low)*2/3}
	near = slices.DeleteFunc(near, func(x float64) bool { return x < low || x > high })
	return quantity.MustNew(rapid.SampledFrom(near).Draw(t, "value"), v.Dimension)
}

// plainly is a finding without what a whole report adds to it, and without the list of what was read: of lists gone through before
// it names the items or not. The name of a subject may hang on words that the rule does not read.
func plainly(f engine.Finding) engine.Finding {
	f.Doubts, f.Likely, f.Cause, f.Facts, f.Derived, f.SubjectName = nil, nil, nil, nil, nil, ""
	if len(f.Assumed) == 0 {
		f.Assumed = nil
	}
	return f
}
