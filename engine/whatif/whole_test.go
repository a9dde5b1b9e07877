package whatif

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/schema"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// whole judges the changed design by the whole library, from nothing, every time.
type whole struct {
	lib    *engine.Library
	design *schema.Design
	o      engine.Options
}

func (w whole) Try(_ engine.Depth, changes ...engine.Change) []engine.Finding {
	d := w.design.Clone()
	for _, c := range changes {
		if err := d.Put(c.Path, c.Value); err != nil {
			panic(err)
		}
	}
	return w.lib.Judge(d, w.o).Findings
}

// exhaustive are the places of the sizes that work, each judged whole.
func exhaustive(s *search) []int {
	var out []int
	for i := range s.series.Sizes {
		if s.right(i) {
			out = append(out, i)
		}
	}
	return out
}

// Judging by the rules that rest on a fact, with values kept from size to size, gives what judging the whole library from
// nothing gives: on complete designs, and on what a counter knows of them. And what works is one stretch of the series.
func TestQuickEqualsWhole(t *testing.T) {
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	series, err := ReadSeries("series.yaml", designs.Series())
	require.NoError(t, err)
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	compared := 0
	every := 12
	if proofs.Whole() {
		every = 8
	}
	for n, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		complete, err := schema.LoadBased(file, data, os.ReadFile)
		require.NoError(t, err)
		half := complete.Keep(func(path string) bool { return counterKnows(pattern.Generic(path)) })
		for k, d := range []*schema.Design{complete, half} {
			if (n+k)%(8*every) != 0 {
				continue
			}
			o := engine.Options{}
			if k == 1 {
				o = engine.Options{Patterns: patterns, Stage: "planned"}
			}
			groups := sizable(d, series, "")
			bench := lib.BenchForSizes(d, o, things(groups))
			for i, g := range groups {
				if (i+n)%every != 0 {
					continue
				}
				quick := g.search(bench, engine.Whole).size()
				slow := g.search(whole{lib, d, o}, engine.Whole)
				name := filepath.Base(file) + " " + g.of
				want := slow.size()
				want.Usual = quick.Usual // judged whole, rules that do not rest on the size lean too
				assert.Equal(t, want, quick, name)
				works := exhaustive(slow)
				for at, i := range works[min(1, len(works)):] {
					assert.Equal(t, works[at]+1, i, "%s: what works has a gap", name)
				}
				if len(works) > 0 && quick.Least != "" {
					assert.Equal(t, g.series.Sizes[works[0]], quick.Least, name)
				}
				compared++
			}
		}
	}
	assert.Positive(t, compared)
	t.Logf("%d things compared", compared)
}

// counterKnows reports whether a counter has a fact of a customer's list.
func counterKnows(path string) bool {
	for _, known := range strings.Fields(`vehicle.model_year vehicle.class engine.displacement engine.cylinders engine.power engine.aspiration fuel.ethanol
pump.place pump.rated_flow pump.rated_pressure feed.runs.kind feed.runs.bore return_line return_line.runs.kind return_line.runs.bore regulator.style regulator.setting
throttle_body.injectors.count throttle_body.injectors.static_flow throttle_body.injectors.static_mass_flow throttle_body.injectors.test_pressure
battery.system_voltage circuits.purpose circuits.name circuits.fuse.rating circuits.feed_wires.size circuits.feed_wires.length passages.hole`) {
		if path == known {
			return true
		}
	}
	return false
}
