package engine_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

const sensePack = `pack: test/sense
title: For tests
edition: 1
part: Engine
rules:
  - id: power-per-litre
    title: the engine makes 10 to 75 kW a litre
    danger: none
    due: planned
    sense: true
    about: design.engine
    measure: (design.engine.power / kW(1)) / (design.engine.displacement / L(1))
    should: {between: [10, 75]}
    say: "{design.engine.power} from {design.engine.displacement}."
    mend: Look again.
    because: [{practice: for tests}]
  - id: cylinder
    title: a cylinder holds 0.2 to 1.2 litres
    danger: none
    due: planned
    sense: true
    about: design.engine
    measure: design.engine.displacement / design.engine.cylinders
    should: {between: [0.2 L, 1.2 L]}
    say: "{design.engine.displacement}."
    mend: Look again.
    because: [{practice: for tests}]
  - id: rating-depression
    title: the rating holds at a customary depression
    danger: none
    due: planned
    sense: true
    about: design.throttle_body
    should: within(design.throttle_body.air_rating_depression, q('3.0 inHg'), kPa(0.2)) || within(design.throttle_body.air_rating_depression, q('1.5 inHg'), kPa(0.1))
    say: "{design.throttle_body.air_rating_depression}."
    mend: Look again.
    because: [{practice: for tests}]
  - id: points
    title: a pump gives less at more pressure
    danger: none
    due: planned
    sense: true
    each: {point: design.pump.curve}
    should: design.pump.curve.all(other, other.pressure <= point.pressure || other.flow <= point.flow)
    say: "{point.flow} at {point.pressure}."
    mend: Look again.
    because: [{practice: for tests}]
  - id: steepness
    title: a curve falls as a thermistor's does
    danger: none
    due: planned
    sense: true
    about: design.sensors.coolant
    measure: design.sensors.coolant.steepness
    should: {between: [3000, 4500]}
    say: "{design.sensors.coolant.steepness}."
    mend: Look again.
    because: [{practice: for tests}]
`

func sensed(t *testing.T, text string, o engine.Options) map[string]engine.Finding {
	t.Helper()
	lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(sensePack)}})
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+text))
	require.NoError(t, err)
	r := lib.Judge(d, o)
	assert.Empty(t, r.Asked, "a check of sense asks for no fact")
	assert.Zero(t, r.Blocking(), "a check of sense stops no job")
	out := map[string]engine.Finding{}
	for _, f := range r.Findings {
		assert.True(t, f.Sense)
		out[strings.TrimPrefix(f.Rule, "test/sense.")+strings.TrimPrefix(f.Subject, "design.engine")] = f
	}
	return out
}

// While a fact is missing a check of sense says nothing at all, and once it is stated it passes or warns.
func TestSenseWaitInSilence(t *testing.T) {
	found := sensed(t, "stage: handed_over\nengine: {power: 66 kW}\npump: {curve: [{pressure: 200 kPa, flow: 100 L/h}, {flow: 90 L/h}]}\n", engine.Options{})
	assert.NotContains(t, found, "power-per-litre")
	assert.NotContains(t, found, "pointsdesign.pump.curve[1]")
	for _, f := range found {
		assert.NotEqual(t, engine.Open, f.Outcome)
	}
	found = sensed(t, "engine: {power: 66 kW, displacement: 2.0 L}\n", engine.Options{})
	assert.Equal(t, engine.Pass, found["power-per-litre"].Outcome)
	assert.Empty(t, found["power-per-litre"].Likely)

	// Its account still says what it waits for.
	lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(sensePack)}})
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nengine: {power: 66 kW}\n"))
	require.NoError(t, err)
	account, err := lib.Account(d, engine.Options{}, "test/sense.power-per-litre")
	require.NoError(t, err)
	require.Len(t, account, 1)
	assert.Equal(t, engine.Open, account[0].Finding.Outcome)
	assert.Equal(t, []string{"design.engine.displacement"}, account[0].Finding.Missing)
}

// The lines are those of the facts, the slip the one that meets the rule and leaves the fewest other checks of sense: of 6.6 kW
// from 2.0 litres the power is wrong, since 0.2 litres for four cylinders would be another check of sense.
func TestSenseNameLinesAndSlips(t *testing.T) {
	found := sensed(t, "engine:\n  displacement: 2.0 L\n  cylinders: 4\n  power: 6.6 kW\n", engine.Options{})
	f := found["power-per-litre"]
	require.Equal(t, engine.Warn, f.Outcome)
	var lines []int
	for _, r := range f.Facts {
		lines = append(lines, r.Place.Line)
	}
	assert.ElementsMatch(t, []int{3, 5}, lines)
	require.Len(t, f.Likely, 1)
	assert.Equal(t, engine.Likely{Path: "design.engine.power", Stated: "6.6 kW", Meant: "66 kW", Place: schema.Place{File: "d.yaml", Line: 5, Column: 10}}, f.Likely[0])

	meant := func(text, key string) []string {
		var out []string
		for _, l := range sensed(t, text, engine.Options{})[key].Likely {
			out = append(out, l.Path+" "+l.Meant)
		}
		return out
	}
	assert.Equal(t, []string{"design.throttle_body.air_rating_depression 3.0 inHg"}, meant("throttle_body: {air_rating_depression: 3.0 inH2O}\n", "rating-depressiondesign.throttle_body"))
	assert.Equal(t, []string{"design.engine.displacement 305 cu in", "design.engine.displacement 3050 cm3"}, meant("engine: {displacement: 305 cm3, cylinders: 8, power: 150 kW}\n", "power-per-litre"))
	// 2500 ohm at 68 and 325 ohm at 176 degF: one point alone put right leaves no thermistor.
	assert.Equal(t, []string{"design.sensors.coolant.curve.temperature 68 degF, 176 degF"},
		meant("sensors: {coolant: {curve: [{temperature: 68 degC, resistance: 2500 ohm}, {temperature: 176 degC, resistance: 325 ohm}]}}\n", "steepnessdesign.sensors.coolant"))
	assert.Empty(t, meant("engine: {displacement: 2.0 L, cylinders: 4, power: 3.3 kW}\n", "cylinder"), "what passes has no slip")
}

// A check of sense never fails, and true is the only other word than false.
func TestSenseAreRefused(t *testing.T) {
	for change, want := range map[string]string{
		"    should: {between: [10, 75]}":                           "a check of sense asks again and never fails",
		"    sense: true\n    about: design.engine\n    measure: (": "must be true or false",
	} {
		text := strings.Replace(sensePack, change, map[string]string{
			"    should: {between: [10, 75]}": "    must: {at_least: 5}\n    should: {between: [10, 75]}",
		}[change], 1)
		if want == "must be true or false" {
			text = strings.Replace(sensePack, "sense: true", "sense: perhaps", 1)
		}
		_, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(text)}})
		assert.ErrorContains(t, err, want)
	}
}
