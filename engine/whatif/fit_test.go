package whatif

import (
	"fmt"
	"math/rand"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// randomShelf holds a few pumps, regulators and sets of injectors, some of whose labels say little.
func randomShelf(t testing.TB, r *rand.Rand, pumps, regulators, injectors int) *schema.Shelf {
	t.Helper()
	var b strings.Builder
	b.WriteString("shelf: 1\nparts:\n")
	head := func(name string) {
		fmt.Fprintf(&b, "  - {name: %s, read_from: box, read_on: 2026-11-20, price: %d, ", name, 10+r.Intn(90))
	}
	for i := range pumps {
		flow := 60 + r.Intn(110)
		head(fmt.Sprintf("pump-%d", i))
		fmt.Fprintf(&b, "pump: {kind: turbine, curve: [{pressure: 200 kPa, flow: %d L/h, current: 5 A}, {pressure: 300 kPa, flow: %d L/h, current: 6 A}, {pressure: 400 kPa, flow: %d L/h, current: 7 A}, {pressure: 500 kPa, flow: %d L/h, current: 8 A}], curve_voltage: 13.5 V, dead_head_pressure: 900 kPa, maximum_pressure: %d kPa",
			flow+20, flow, flow-20, flow-45, 400+100*r.Intn(3))
		if r.Intn(4) > 0 {
			fmt.Fprintf(&b, ", rated_flow: %d L/h, rated_pressure: 300 kPa", flow)
		}
		if r.Intn(4) > 0 {
			b.WriteString(", check_valve: true, ethanol_rating: 85 %, rated_submersible: true, motor_resistance: 0.35 ohm, outlet: {kind: spigot, size: 8 mm, beaded: true}")
		}
		b.WriteString("}}\n")
	}
	for i := range regulators {
		head(fmt.Sprintf("regulator-%d", i))
		fmt.Fprintf(&b, "regulator: {style: return_style, setting: %d kPa, construction: diaphragm, maximum_flow: %d L/h, seat_drop: %d kPa, gauge_port: true, outlet: {kind: spigot, size: %s mm, beaded: true}}}\n", 200+50*r.Intn(5), 80+40*r.Intn(6), 2+r.Intn(30), []string{"8", "9.5", "9.5"}[r.Intn(3)])
	}
	for i := range injectors {
		head(fmt.Sprintf("set-%d", i))
		fmt.Fprintf(&b, "injectors: {count: 2, static_flow: %d cc/min, test_pressure: 300 kPa, location: above_throttle, resistance: 12 ohm, smallest_pulse: 1.2 ms, dead_time: 0.8 ms, ethanol_rating: 85 %%}}\n", 300+50*r.Intn(10))
	}
	s, err := schema.ReadShelf([]schema.ShelfText{{Name: "s.yaml", Data: []byte(b.String())}})
	require.NoError(t, err)
	return s
}

// tryAll finds the choices for one thing that is wrong by judging the whole design with every part, and where none does with every pair of
// parts, and where no pair does with every three, in every place.
func tryAll(lib *engine.Library, f *fitter, goal key) (sure, unsure []string) {
	base := badIn(lib.Judge(f.d, f.o).Findings)
	does := func(list [][]change) {
		slices.SortFunc(list, cheaper)
		for _, c := range list {
			found := lib.Judge(f.with(c), f.o).Findings
			ok, open := true, false
			for k := range badIn(found) {
				ok = ok && base[k] != nil && k != goal
			}
			for _, x := range found {
				before, known := f.outcomes[key{x.Rule, x.Subject}]
				open = open || x.Outcome == engine.Open && !x.Sense && engine.StageRank(x.Due) <= engine.StageRank("built") && known && before != engine.Open && before != engine.NotApplicable
			}
			switch {
			case ok && open:
				unsure = append(unsure, told(c))
			case ok:
				sure = append(sure, told(c))
			}
		}
	}
	sets := [][]change{nil}
	for range 3 {
		var more [][]change
		for _, set := range sets {
			for _, s := range f.seats {
				if len(set) > 0 && s.at <= set[len(set)-1].at || slices.ContainsFunc(set, func(c change) bool { return overlap(c.seat, s) }) {
					continue
				}
				for _, one := range f.singles(s) {
					more = append(more, append(slices.Clone(set), one...))
				}
			}
		}
		sets = more
		if does(slices.Clone(sets)); len(sure)+len(unsure) > 0 {
			break
		}
	}
	return sure, unsure
}

func told(c []change) string {
	var out []string
	for _, one := range c {
		out = append(out, one.path+"="+one.option.part.Called())
	}
	return strings.Join(out, " ")
}

// sameAsTryingAll holds the choices for one thing that is wrong against trying all, and gives of each how many changes it is.
func sameAsTryingAll(t *testing.T, lib *engine.Library, f *fitter, goal key, name string) (changes []int) {
	t.Helper()
	a, _ := f.answer([]key{goal}, f.bearing(goal), f.seats)
	sure, unsure := tryAll(lib, f, goal)
	want := sure
	if len(want) == 0 {
		want = unsure
	}
	var got []string
	for _, c := range a.Choices {
		var one []string
		for _, x := range c.Changes {
			one = append(one, x.Path+"="+x.Part)
		}
		got, changes = append(got, strings.Join(one, " ")), append(changes, len(c.Changes))
	}
	assert.Equal(t, want, got, "%s, %s", name, goal.rule)
	return changes
}

// threeShelf holds strong pumps, which overrun the regulator of the design, regulators that spill as much but hold another pressure than its
// throttle body is made for, and throttle bodies for that pressure: a weak pump is mended by one of each and by no two.
func threeShelf(t testing.TB, r *rand.Rand) *schema.Shelf {
	t.Helper()
	var b strings.Builder
	b.WriteString("shelf: 1\nparts:\n")
	head := func(name string) {
		fmt.Fprintf(&b, "  - {name: %s, read_from: box, read_on: 2026-11-20, price: %d, ", name, 10+r.Intn(90))
	}
	for i := range 3 {
		flow := 110 + r.Intn(60)
		head(fmt.Sprintf("pump-%d", i))
		fmt.Fprintf(&b, "pump: {kind: turbine, curve: [{pressure: 100 kPa, flow: %d L/h, current: 4 A}, {pressure: 200 kPa, flow: %d L/h, current: 5 A}, {pressure: 500 kPa, flow: %d L/h, current: 8 A}], curve_voltage: 13.5 V, dead_head_pressure: 700 kPa, maximum_pressure: 700 kPa, check_valve: true, ethanol_rating: 85 %%, rated_submersible: true, motor_resistance: 0.35 ohm, rated_flow: %d L/h, rated_pressure: 200 kPa, outlet: {kind: spigot, size: 8 mm, beaded: true}}}\n",
			flow+20, flow, flow-45, flow)
	}
	for i := range 3 {
		head(fmt.Sprintf("regulator-%d", i))
		fmt.Fprintf(&b, "regulator: {style: return_style, setting: %d kPa, construction: diaphragm, maximum_flow: %d L/h, seat_drop: 5 kPa, gauge_port: true, outlet: {kind: spigot, size: 9.5 mm, beaded: true}}}\n", 190+20*r.Intn(3), 150+150*r.Intn(2))
	}
	for i := range 3 {
		head(fmt.Sprintf("body-%d", i))
		fmt.Fprintf(&b, "throttle_body: {bores: 2, bore_diameter: 43 mm, air_rating: 400 cfm, air_rating_depression: 3.0 inHg, lowest_pressure: %d kPa, highest_pressure: 250 kPa, injectors: {count: 2, static_flow: %d cc/min, test_pressure: 200 kPa, location: above_throttle, resistance: 12 ohm, smallest_pulse: 1.2 ms, dead_time: 0.8 ms, ethanol_rating: 85 %%}, idle_air: stepper_valve, cleaner_flange: 130 mm, bleeds_down: false, fuel_inlet: {kind: spigot, size: 9.5 mm, beaded: true}}}\n",
			150+50*r.Intn(2), 380+60*r.Intn(3))
	}
	s, err := schema.ReadShelf([]schema.ShelfText{{Name: "s.yaml", Data: []byte(b.String())}})
	require.NoError(t, err)
	return s
}

// Where no two parts will do, fit finds the three that judging the whole design anew with every part, every pair and every three finds, in the
// same order; and where these are more than it may try, it finds some of them and says that it has not tried all.
func TestFitFindsThreeChanges(t *testing.T) {
	lib := shipped.Library(t)
	data, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(t, err)
	text := weakPump(string(data))
	text = strings.Replace(text, "maximum_flow: 300 L/h", "maximum_flow: 50 L/h", 1)
	text = strings.Replace(text, "\nstage: started", "\nstage: built", 1)
	d, err := schema.Load("six.yaml", []byte(text))
	require.NoError(t, err)
	threes := 0
	shelves := 3
	if proofs.Whole() {
		shelves = 12
	}
	for n := range shelves {
		shelf := threeShelf(t, rand.New(rand.NewSource(int64(n))))
		f := newFitter(lib, d, engine.Options{}, shelf, nil, FitOptions{Choices: 1000, MostPairs: 100_000})
		goal := key{"fuel/delivery.flow-at-full-load", "design.pump"}
		require.Contains(t, f.worst, goal)
		for _, c := range sameAsTryingAll(t, lib, f, goal, fmt.Sprintf("shelf %d", n)) {
			if c == 3 {
				threes++
			}
		}
		all, _ := f.answer([]key{goal}, f.bearing(goal), f.seats)
		few := newFitter(lib, d, engine.Options{}, shelf, nil, FitOptions{Choices: 1000, MostPairs: 20})
		some, _ := few.answer([]key{goal}, few.bearing(goal), few.seats)
		assert.True(t, some.Few)
		for _, c := range some.Choices {
			assert.Contains(t, all.Choices, c)
		}
		t.Logf("shelf %d: %d choices, %d of them where not all are tried", n, len(all.Choices), len(some.Choices))
	}
	assert.Positive(t, threes)
}

// weakPump gives the demo's pump a tenth of its flow or so.
func weakPump(text string) string {
	for _, flow := range []string{"176", "160", "140", "114"} {
		text = strings.Replace(text, "flow: "+flow+" L/h, current", "flow: "+flow[:2]+" L/h, current", 1)
	}
	return text
}

// Fit finds what judging the whole design anew with every part and every pair of parts finds, in the same order: on random small shelves,
// for complete designs with a weak pump, a wrong regulator or small injectors, and for what a counter knows of one.
func TestFitEqualsTryingAll(t *testing.T) {
	lib, patterns := shipped.Library(t), shipped.Patterns(t)
	data, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(t, err)
	answered, pairs := 0, 0
	shelves := 4
	if proofs.Whole() {
		shelves = 12
	}
	for n := range shelves {
		r := rand.New(rand.NewSource(int64(n)))
		text := weakPump(string(data))
		if n%2 == 0 { // a pump strong enough overruns it
			text = strings.Replace(text, "maximum_flow: 300 L/h", "maximum_flow: 50 L/h", 1)
		} else {
			text = strings.Replace(text, "setting: 300 kPa", "setting: 420 kPa", 1)
		}
		text = strings.Replace(text, "\nstage: started", "\nstage: built", 1)
		d, err := schema.Load("six.yaml", []byte(text))
		require.NoError(t, err)
		o := engine.Options{}
		if n%4 == 3 {
			d = d.Keep(func(path string) bool { return counterKnows(string(schema.Path(path).Generic())) })
			o = engine.Options{Patterns: patterns, Stage: "planned"}
		}
		shelf := randomShelf(t, r, 3, 2, 2)
		f := newFitter(lib, d, o, shelf, nil, FitOptions{Choices: 1000, MostPairs: 100_000})
		for i, goal := range f.worst {
			if len(f.bearing(goal)) == 0 || i%3 != 0 {
				continue
			}
			changes := sameAsTryingAll(t, lib, f, goal, fmt.Sprintf("shelf %d", n))
			for _, c := range changes {
				answered++
				if c == 2 {
					pairs++
				}
			}
		}
	}
	assert.Positive(t, answered)
	t.Logf("%d choices, %d of them pairs", answered, pairs)
}

// manyParts is a shelf of so many parts, a third of them each of a kind, the files as long as one may be.
func manyParts(t testing.TB, n int) *schema.Shelf {
	r := rand.New(rand.NewSource(1))
	all := &schema.Shelf{}
	for len(all.Parts) < n {
		all.Parts = append(all.Parts, randomShelf(t, r, 30, 20, 50).Parts...)
	}
	return all
}
