package pattern_test

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine/pattern"
	"plumbline/schema"
)

func design(t *testing.T, text string) *schema.Design {
	t.Helper()
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+text))
	require.NoError(t, err)
	return d
}

func read(t *testing.T, text string) *pattern.Pattern {
	t.Helper()
	list, err := pattern.Read(fstest.MapFS{"way.yaml": {Data: []byte(text)}})
	require.NoError(t, err)
	require.Len(t, list, 1)
	return list[0]
}

const way = `pattern: way
title: a way
group: ways
within: [pump.rated_pressure]
otherwise: [pump.kind]
design:
  pump: {place: in_tank, kind: turbine, rated_pressure: 200..300..450 kPa, curve: [{}, {}]}
  return_line: none
scaled:
  - {fact: "pump.curve[0].flow", by: [pump.rated_flow], per: [100 L/h], is: 90..100..110 L/h}
  - {fact: "pump.curve[].pressure", by: [pump.rated_pressure], per: [300 kPa], is: 300 kPa, plus: 50 kPa}
bad: {low: [pump.curve.flow]}
because:
  pump.rated_pressure: [{practice: x}]
  pump.curve.flow: [{practice: x}]
  pump.curve.pressure: [{practice: x}]
`

func TestAPatternContradictsByHowTheWayRuns(t *testing.T) {
	p := read(t, way)
	for text, want := range map[string]string{
		"pump: {place: in_tank}":            "",
		"pump: {}":                          "",
		"pump: {kind: gerotor}":             "",
		"return_line: none":                 "",
		"pump: {place: frame_rail}":         "design.pump.place",
		"return_line: {rise: 1 m}":          "design.return_line",
		"pump: {rated_pressure: 40 kPa}":    "design.pump.rated_pressure",
		"pump: {rated_pressure: 450 kPa}":   "",
		"pump: {rated_pressure: 200 kPa}":   "",
		"pump: {rated_pressure: 450.1 kPa}": "design.pump.rated_pressure",
	} {
		assert.Equal(t, want, p.Contradicts(design(t, text)), text)
	}
	assert.True(t, p.BadIsLow("design.pump.curve[3].flow"))
	assert.False(t, p.BadIsLow("design.pump.rated_pressure"))
}

func TestScaledNumbersFollowTheOthers(t *testing.T) {
	p := read(t, way)
	d := design(t, "pump: {rated_flow: 150 L/h, rated_pressure: 240 kPa, curve: [{}, {}]}")
	flow, known := p.Scaled[0].Value(d, p.Scaled[0].High)
	require.True(t, known)
	assert.InDelta(t, 165.0/3.6e6, flow.SI(), 1e-12, "110 L/h for each 100 of 150")
	items := p.Scaled[1].Items(d)
	require.Len(t, items, 2)
	assert.Equal(t, "design.pump.curve[1].pressure", items[1].Fact)
	pressure, known := items[1].Value(d, items[1].Usual)
	require.True(t, known)
	assert.InDelta(t, 290e3, pressure.SI(), 1e-6, "240 kPa and 50")
	_, known = p.Scaled[0].Value(design(t, "pump: {}"), 1)
	assert.False(t, known)
}

func TestAPatternIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"pattern: other\ntitle: x\ngroup: g\ndesign: {}\nbecause: {}\n":                                                            "the pattern is called other and its file way.yaml",
		"pattern: way\ntitle: x\ngroup: g\ndesign: {pump: {rated_flow: 1..2..3 L/h}}\nbecause: {}\n":                               "the range of pump.rated_flow has no ground",
		"pattern: way\ntitle: x\ngroup: g\ndesign: {pump: {flow: 1 L/h}}\nbecause: {}\n":                                           "unknown key flow",
		"pattern: way\ntitle: x\ngroup: g\ndesign: {}\nbecause: {pump.flux: [{practice: x}]}\n":                                    "there is no fact pump.flux",
		"pattern: way\ntitle: x\ngroup: g\ndesign: {}\nbad: {low: [pump.rated_flow]}\nbecause: {}\n":                               "pump.rated_flow is no range of this pattern",
		"pattern: way\ntitle: x\ngroup: g\ndesign: {}\nscaled: [{fact: pump.rated_flow, by: [], per: [], is: 1 L/h}]\nbecause: {}": "needs a value for each of by",
	} {
		_, err := pattern.Read(fstest.MapFS{"way.yaml": {Data: []byte(text)}})
		assert.ErrorContains(t, err, want, text)
	}
}

// The patterns of the program are read, and of each group there is more than one or it is for every vehicle.
func TestPatternsOfTheProgram(t *testing.T) {
	list, err := pattern.Read(designs.Patterns())
	require.NoError(t, err)
	assert.Greater(t, len(list), 20)
	empty := schema.Empty()
	groups := map[string]int{}
	for _, p := range list {
		if p.Contradicts(empty) == "" {
			groups[p.Group]++
		}
	}
	for _, group := range []string{"fuel-way", "pump", "electrics", "engine", "climate", "injectors"} {
		assert.Positive(t, groups[group], group)
	}
}

// Each kind of speed signal has its pattern: by where it comes from, how it is picked up and how many teeth the wheel has.
// Of a vehicle of whose signal nothing is said none applies.
func TestSpeedSignalPatterns(t *testing.T) {
	list, err := pattern.Read(designs.Patterns())
	require.NoError(t, err)
	for signal, want := range map[string][]string{
		"{}":                                   nil,
		"{source: coil_negative}":              {"speed-coil-negative"},
		"{source: tach_output}":                {"speed-tach-output"},
		"{source: coil_positive}":              nil,
		"{source: distributor_pickup}":         {"speed-distributor-hall", "speed-distributor-optical", "speed-distributor-reluctance"},
		"{source: crank_sensor, pickup: hall}": {"speed-crank-hall-few", "speed-crank-hall-many"},
		"{source: crank_sensor, teeth: 36}":    {"speed-crank-hall-many", "speed-crank-reluctance-many"},
		"{source: crank_sensor, teeth: 4}":     {"speed-crank-hall-few", "speed-crank-reluctance-few"},
		"{source: crank_sensor, pickup: variable_reluctance, teeth: 60}":       {"speed-crank-reluctance-many"},
		"{source: distributor_pickup, pickup: optical, teeth: 360}":            {"speed-distributor-optical"},
		"{source: distributor_pickup, pickup: variable_reluctance, gap: 1 mm}": {"speed-distributor-reluctance"},
	} {
		var got []string
		d := design(t, "sensors: {speed_signal: "+signal+"}")
		for _, p := range list {
			if p.Group == "speed-signal" && p.Contradicts(d) == "" {
				got = append(got, p.Name)
			}
		}
		assert.Equal(t, want, got, signal)
	}
}

func TestAPatternHoldsOnlyWithoutWhatSaysItOtherwise(t *testing.T) {
	p := read(t, "pattern: way\ntitle: a way\ngroup: ways\nunless: [throttle_body.injectors.static_mass_flow]\ndesign: {throttle_body: {injectors: {static_flow: 500 cc/min}}}\nbecause: {}\n")
	assert.Equal(t, "design.throttle_body.injectors.static_mass_flow", p.Contradicts(design(t, "throttle_body: {injectors: {static_mass_flow: 40 lb/h}}")))
	assert.Empty(t, p.Contradicts(design(t, "throttle_body: {injectors: {count: 4}}")))
}
