package engine_test

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
)

// slipFloors are what must be noticed of single slips, in percent: of those the facts' ranges let through, how many any
// finding notices; and of those a check of sense notices, for how many it names the value that stood there. Raise them with the
// library; they are not to fall.
const leastSlipsNoticed, leastSlipsNamed = 60, 80

// slipTally counts what becomes of single slips.
type slipTally struct{ tried, refused, noticed, sensed, named int }

func (a *slipTally) add(b slipTally) {
	a.tried, a.refused, a.noticed, a.sensed, a.named = a.tried+b.tried, a.refused+b.refused, a.noticed+b.noticed, a.sensed+b.sensed, a.named+b.named
}

// Every quantity of two finished builds is written in another unit, or with its point moved, one at a time: the slips
// of quantity.Slips. It is noticed when a complaint or an open point is there that was not before.
func TestSlipsAreNoticed(t *testing.T) {
	t.Parallel()
	lib := library(t)
	step, slack := 3, 1 // a third
	if !proofs.Whole() {
		step, slack = 40, 15 // a sample of a fortieth
	}
	total, silent, at := slipTally{}, map[string]int{}, 0
	for _, name := range []string{"demo/six-return.yaml", "demo/van-v6-in-tank.yaml"} {
		d, err := schema.Load(name, designText(t, name))
		require.NoError(t, err)
		o := engine.Options{Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}
		before := complaints(lib.Judge(d, o))
		var tally slipTally
		schema.Walk(d, func(v schema.Visit) {
			own, ok := v.Quantity()
			if !ok {
				return
			}
			for _, x := range quantity.Slips(v.Reading.Text(), v.Dimension) {
				if at++; at%step != 0 {
					continue
				}
				got := oneSlip(lib, d, o, before, v.Path, x.Text, own)
				tally.add(got)
				if got.noticed+got.refused == 0 {
					silent[string(schema.Path(v.Path).Generic())]++
				}
			}
		})
		t.Logf("%s: %s", name, tally)
		total.add(tally)
	}
	t.Logf("together: %s", total)
	paths := slices.SortedFunc(maps.Keys(silent), func(a, b string) int { return cmp.Or(silent[b]-silent[a], cmp.Compare(a, b)) })
	for _, path := range paths[:min(len(paths), 40)] {
		t.Logf("passes %d times: %s", silent[path], path)
	}
	assert.GreaterOrEqual(t, 100*total.noticed, (leastSlipsNoticed-slack)*(total.tried-total.refused), "slips noticed: %s", total)
	assert.GreaterOrEqual(t, 100*total.named, (leastSlipsNamed-slack)*total.sensed, "slips named: %s", total)
}

// String says the counts in words.
func (a slipTally) String() string {
	left := max(1, a.tried-a.refused)
	return fmt.Sprintf("%d slips; %d refused by the facts' ranges; of the other %d a finding notices %d (%.1f %%), a check of sense %d (%.1f %%), and names what stood there for %d of them (%.1f %%)",
		a.tried, a.refused, left, a.noticed, 100*float64(a.noticed)/float64(left), a.sensed, 100*float64(a.sensed)/float64(left), a.named, 100*float64(a.named)/float64(max(1, a.sensed)))
}

// oneSlip judges a design with one slip in it.
func oneSlip(lib *engine.Library, d *schema.Design, o engine.Options, before map[string]bool, path, text string, own quantity.Value) slipTally {
	out := slipTally{tried: 1}
	other, err := d.Instead(path, text)
	if err != nil {
		out.refused = 1
		return out
	}
	r := lib.Judge(other, o)
	for key := range complaints(r) {
		if !before[key] {
			out.noticed = 1
		}
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if !f.Sense || f.Outcome != engine.Warn {
			continue
		}
		out.sensed = 1
		for _, l := range f.Likely {
			v, err := quantity.Parse(l.Meant, own.Dimension())
			if l.Path == path && err == nil && math.Abs(v.SI()-own.SI()) <= 1e-9*math.Abs(own.SI()) {
				out.named = 1
			}
		}
	}
	return out
}

// complaints are what fails, warns or stays open, by rule and subject.
func complaints(r *engine.Report) map[string]bool {
	out := map[string]bool{}
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Outcome == engine.Fail || f.Outcome == engine.Warn || f.Outcome == engine.Open {
			out[fmt.Sprint(f.Outcome, f.Rule, f.Subject)] = true
		}
	}
	return out
}
