package proof

import (
	"errors"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema/document"
	"plumbline/testdata/proofs"
)

// shipped is the library of the program, loaded once: measuring changes nothing of it.
var shipped = sync.OnceValues(func() (*engine.Library, error) { return engine.Load(rules.Files()) })

// ruleWith loads a pack of one rule.
func ruleWith(t *testing.T, body string) *engine.Library {
	t.Helper()
	l, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(`pack: test/p
title: For tests
edition: 1
part: Fuel pump
limits:
  least: {is: 100 L/h, because: [{practice: for tests}]}
rules:
  - id: r
    title: a rule
    danger: none
    due: built
    about: design.pump
    say: Wrong.
    mend: Mend it.
    because: [{practice: for tests}]
` + body)}})
	require.NoError(t, err)
	return l
}

const flowBody = `
    applies: design.pump.place in ['in_tank', 'frame_rail'] && design.pump.isolated
    must: design.pump.rated_flow >= limit.least || !(design.pump.check_valve)
    cases:
      - {name: pass/flow, given: {pump: {place: in_tank, isolated: true, rated_flow: 101 L/h}}, expect: pass}
      - {name: fail/flow, given: {pump: {place: in_tank, isolated: true, rated_flow: 99 L/h, check_valve: true}}, expect: fail}
      - {name: open, given: {}, expect: open}
      - {name: not-applicable/bay, given: {pump: {place: engine_bay}}, expect: not applicable}
`

// What can go wrong in a rule, written down by hand from the list of mistakes.
func TestEveryKindOfMistakeIsTried(t *testing.T) {
	l := ruleWith(t, flowBody)
	b, err := newBench(l)
	require.NoError(t, err)
	spots, err := spots(l, l.Rules()[0])
	require.NoError(t, err)
	var got []string
	for _, m := range b.mutants(l.Rules()[0], spots) {
		got = append(got, m.what)
	}
	in := "design.pump.place in ['in_tank', 'frame_rail']"
	applies := in + " && design.pump.isolated"
	flow := "design.pump.rated_flow >= limit.least"
	must := flow + " || !design.pump.check_valve"
	assert.ElementsMatch(t, []string{
		"applies: without " + in + " in " + applies,
		"applies: without design.pump.isolated in " + applies,
		"applies: " + applies + " -> " + in + " || design.pump.isolated",
		"applies: " + in + " -> !(" + in + ")",
		"applies: 'in_tank' -> 'in_surge_tank' in " + in,
		"applies: 'frame_rail' -> 'engine_bay' in " + in,
		"applies: design.pump.isolated -> !design.pump.isolated",
		"must: without " + flow + " in " + must,
		"must: without !design.pump.check_valve in " + must,
		"must: " + must + " -> " + flow + " && !design.pump.check_valve",
		"must: " + flow + " -> design.pump.rated_flow > limit.least",
		"must: " + flow + " -> design.pump.rated_flow < limit.least",
		"must: !design.pump.check_valve -> design.pump.check_valve",
		"limit.least + 5 %",
		"limit.least - 5 %",
	}, got)
}

// Worked out by hand from the four cases.
func TestWhatTheCasesNotice(t *testing.T) {
	m, err := Measure(ruleWith(t, flowBody), nil)
	require.NoError(t, err)
	var unseen, survivors []string
	for _, p := range m.Rules[0].Unseen {
		unseen = append(unseen, p.Of+": "+p.Text+": "+p.Missing())
	}
	for _, s := range m.Rules[0].Survivors {
		survivors = append(survivors, s.Mutation)
	}
	// The valve is never said to be missing, and no pump is bolted hard.
	assert.Equal(t, []string{"applies: design.pump.isolated: false", "must: design.pump.check_valve: false"}, unseen)
	assert.Equal(t, 6, m.Parts)
	assert.Equal(t, []string{
		"applies: without design.pump.isolated in design.pump.place in ['in_tank', 'frame_rail'] && design.pump.isolated",
		"must: without !design.pump.check_valve in design.pump.rated_flow >= limit.least || !design.pump.check_valve",
		"must: design.pump.rated_flow >= limit.least -> design.pump.rated_flow > limit.least",
	}, survivors)
}

func TestBoundsAreMeasuredToo(t *testing.T) {
	l := ruleWith(t, `
    measure: design.pump.rated_flow
    must: {between: [limit.least, 200 L/h]}
    cases:
      - {name: pass/low, given: {pump: {rated_flow: 100 L/h}}, expect: pass}
      - {name: fail/low, given: {pump: {rated_flow: 99 L/h}}, expect: fail}
      - {name: pass/high, given: {pump: {rated_flow: 199 L/h}}, expect: pass}
      - {name: open, given: {}, expect: open}
`)
	m, err := Measure(l, nil)
	require.NoError(t, err)
	r := m.Rules[0]
	require.Len(t, r.Unseen, 1)
	assert.Equal(t, "at_most 200 L/h", r.Unseen[0].Text)
	assert.Equal(t, "false", r.Unseen[0].Missing())
	var survivors []string
	for _, s := range r.Survivors {
		survivors = append(survivors, s.Mutation)
	}
	assert.Equal(t, []string{"must: at_most 200 L/h -> less_than", "must: at_most 200 L/h + 5 %", "must: without at_most 200 L/h"}, survivors)
	// Ten in all: five on at_most, three on at_least, two on the limit.
	assert.Equal(t, 7, r.Killed)
}

// A part behind a guard may be dropped from the rule only if the rule still loads.
func TestWhatWouldNotLoadIsNotCounted(t *testing.T) {
	l := ruleWith(t, `
    applies: design.return_line.fitted && design.return_line.rise > mm(2)
    must: design.pump.rated_flow > limit.least
    cases:
      - {name: open, given: {}, expect: open}
`)
	m, err := Measure(l, nil)
	require.NoError(t, err)
	for _, s := range m.Rules[0].Survivors {
		assert.NotContains(t, s.Mutation, "without design.return_line.fitted")
	}
	assert.True(t, slices.ContainsFunc(m.Rules[0].Survivors, func(s Survivor) bool { return strings.Contains(s.Mutation, "without design.return_line.rise > mm(2)") }))
}

func TestListedMistakesAreChecked(t *testing.T) {
	l := ruleWith(t, flowBody)
	list := func(mutations ...string) *Measurement {
		text := "# a comment\n\n"
		for _, m := range mutations {
			text += m + "\tno difference, for tests\n"
		}
		equals, err := Equals(fstest.MapFS{"a/survivors.txt": {Data: []byte(text)}})
		require.NoError(t, err)
		m, err := Measure(l, equals)
		require.NoError(t, err)
		return m
	}
	before := list()
	edge := "must: design.pump.rated_flow >= limit.least -> design.pump.rated_flow > limit.least"
	after := list("test/p.r\t" + edge)
	assert.Empty(t, after.Problems)
	assert.Equal(t, before.Mutants-1, after.Mutants)
	assert.Equal(t, 1, after.Listed)
	for line, want := range map[string]string{
		"test/p.r\tmust: gone":        "a/survivors.txt:3:1: test/p.r: the rule has no such place for a mistake any more: must: gone",
		"test/p.r\tlimit.least + 5 %": "a/survivors.txt:3:1: test/p.r: a case notices it now: limit.least + 5 %",
		"test/p.none\tmust: a":        "a/survivors.txt:3:1: test/p.none: there is no rule test/p.none",
	} {
		m := list(line)
		require.Len(t, m.Problems, 1, line)
		assert.Equal(t, want, m.Problems[0].String())
		assert.Equal(t, before.Tally, m.Tally)
	}
	for name, text := range map[string]string{"spaces": "test/p.r  must: a  why\n", "no reason": "test/p.r\tmust: a\t \n", "twice": "r\tm\ty\nr\tm\ty\n"} {
		_, err := Equals(fstest.MapFS{"survivors.txt": {Data: []byte(text)}})
		var problems document.Problems
		require.True(t, errors.As(err, &problems), name)
	}
}

// Watching must not change what a rule says, and a place must lead to the text
// it is about: both are tried on every rule of the library.
func TestTheLibraryCanBeMeasured(t *testing.T) {
	t.Parallel()
	l, err := shipped()
	require.NoError(t, err)
	b, err := newBench(l)
	require.NoError(t, err)
	files := map[string][]string{}
	for _, r := range proofs.Sample(l.Rules(), 4) {
		spots, err := spots(l, r)
		require.NoError(t, err, r.ID)
		cases := openCases(l, r)
		require.Len(t, cases, len(r.Decl.Cases), r.ID)
		parts, err := b.watch(r, spots, cases)
		require.NoError(t, err, r.ID)
		for _, c := range cases {
			assert.Equal(t, c.given, c.outcome(r), "%s, %s", r.ID, c.decl.Name)
		}
		for _, p := range parts {
			lines, ok := files[p.Place.File]
			if !ok {
				data, err := fs.ReadFile(rules.Files(), p.Place.File)
				require.NoError(t, err)
				lines = strings.Split(string(data), "\n")
				files[p.Place.File] = lines
			}
			raw := string([]rune(lines[p.Place.Line-1])[p.Place.Column-1:])
			want := strings.FieldsFunc(p.Text, func(r rune) bool { return strings.ContainsRune(" !('.[", r) })[0]
			begin := strings.TrimLeft(raw, `!('"[`)
			if strings.HasPrefix(p.Text, "at_") || strings.HasPrefix(p.Text, "more_than ") || strings.HasPrefix(p.Text, "less_than ") {
				want = strings.Fields(p.Text)[1]
			}
			assert.True(t, strings.HasPrefix(begin, want), "%s: %s: %q does not begin with %q", p.Place, p.Text, raw, want)
		}
	}
}

func TestMeasuringGivesTheSameAgain(t *testing.T) {
	proofs.Only(t)
	l, err := shipped()
	require.NoError(t, err)
	a, err := Measure(l, nil)
	require.NoError(t, err)
	b, err := Measure(l, nil)
	require.NoError(t, err)
	assert.Equal(t, a, b)
	assert.Len(t, a.Rules, len(l.Rules()))
	var sum Tally
	for _, p := range a.Rules {
		sum.add(p.Tally)
	}
	assert.Equal(t, a.Tally, sum)
}

func TestNoMoreMistakesThanTheMost(t *testing.T) {
	var all []mutant
	for i := range 1000 {
		all = append(all, mutant{what: strings.Repeat("x", i)})
	}
	never := func(mutant) bool { return false }
	for _, n := range []int{0, 1, 39, 40, 41, 79, 80, 123, 1000} {
		chosen := choose(all[:n], never)
		assert.Len(t, chosen, min(n, mostMutants), n)
	}
	assert.Contains(t, choose(all, func(m mutant) bool { return len(m.what) == 7 }), all[7])
}
