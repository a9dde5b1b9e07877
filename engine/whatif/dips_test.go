package whatif_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

const windows = `pack: shop/windows
title: Windows
edition: 1
part: Engine
rules:
  - id: apart
    title: t
    danger: engine
    due: planned
    about: design.engine
    measure: "design.engine.power > kW(AT) ? design.engine.power - kW(AT) : kW(AT) - design.engine.power"
    must: {at_least: WIDE kW}
    say: "{design.engine.power}"
    mend: m
    because: [{practice: p}]
  - id: outside
    title: t
    danger: engine
    due: planned
    about: design.engine
    must: "!(design.engine.displacement > L(FROM) && design.engine.displacement < L(TO))"
    say: "{design.engine.displacement}"
    mend: m
    because: [{practice: p}]
`

// A finding that fails in a window of what a number may be, and passes on both sides of it, is found: by its number however narrow the window is (2 kW of 2000), by a condition
// alone where the window is wider than an even step.
func TestAFindingThatFailsAndPassesAgainIsFound(t *testing.T) {
	numbers, series := numbersAndSeries(t)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nengine: {power: 100 kW, displacement: 4 L}\n"))
	require.NoError(t, err)
	for _, at := range []float64{101.9, 104, 113, 127.3, 190, 340, 500, 760, 1100, 1490} {
		text := windows
		for from, to := range map[string]string{"AT": fmt.Sprint(at), "WIDE": "1", "FROM": "9", "TO": "12"} {
			text = strings.ReplaceAll(text, from, to)
		}
		lib, err := engine.Load(fstest.MapFS{"windows.yaml": {Data: []byte(text)}})
		require.NoError(t, err)
		h := whatif.Rooms(lib, d, engine.Options{Units: quantity.Metric}, numbers, series, nil)
		found := map[string]whatif.Room{}
		for _, r := range append(h.Headlines, h.Rooms...) {
			found[r.Facts[0]+r.Name] = r
		}
		power := found["design.engine.power"].Up
		require.NotNil(t, power.Next, at)
		assert.InDelta(t, (at-1)*1e3, power.To.Value, 600, at)
		require.NotEmpty(t, power.Turns)
		assert.NotNil(t, power.Turns[0].Again, "it turns back at %g", at+1)
		room := found["design.engine.displacement"].Up
		require.NotNil(t, room.Next)
		assert.InDelta(t, 9e-3, room.To.Value, 2e-5)
	}
}

// The room that is told of a number holds all along the way: nothing is worse at any of many even values between what is stated and the end told, each judged by itself, nor, where
// nothing is said to turn, up to all it may be.
func TestNothingTurnsWithinTheRoomTold(t *testing.T) {
	numbers, series := numbersAndSeries(t)
	lib := shipped.Library(t)
	every, steps := 47, 60
	if proofs.Whole() {
		every, steps = 5, 200
	}
	for n, file := range proofs.Sample([]string{"four-frame-pump", "hatchback-four-1988", "big-v8-surge-tank"}, 1) {
		d := builds.Design(t, "../../designs/good/"+file+".yaml")
		o := engine.Options{Units: schema.Habit(d), Waiting: true}
		h := whatif.Rooms(lib, d, o, numbers, series, nil)
		tried, missed := 0, 0
		for k, r := range append(h.Headlines, h.Rooms...) {
			if len(r.Facts) != 1 || (k+n)%every != 0 {
				continue
			}
			bench := lib.Bench(d, o, [][]string{r.Facts}, engine.Glance)
			late := map[string]bool{}
			for _, f := range bench.Findings(engine.Glance) {
				late[f.Rule] = f.Sense || engine.StageRank(f.Due) > engine.StageRank("built") && r.Kind != whatif.Entered
			}
			bench.Leave(late)
			for _, reach := range []whatif.Reach{r.Down, r.Up} {
				for s := 1; s < steps; s++ {
					x := r.Stated.Value + (reach.To.Value-r.Stated.Value)*float64(s)/float64(steps)
					var value any = int(x)
					if v, is := d.FactAt(r.Facts[0]).Any().(interface{ Dimension() quantity.Dimension }); is {
						value = quantity.MustNew(x, v.Dimension())
					}
					tried++
					for _, turned := range bench.TurnedOnly(engine.Glance, engine.Change{Path: r.Facts[0], Value: value}) {
						if turned.Worse() {
							missed++
							t.Errorf("%s of %s: %s is worse at %g, before %s", r.Facts[0], file, turned.Finding().Key(), x, reach.To.Text)
						}
					}
				}
			}
		}
		t.Logf("%s: %d values tried", file, tried)
		assert.Greater(t, tried, 300)
	}
}
