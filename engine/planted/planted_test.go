package planted_test

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/planted"
)

func TestChange(t *testing.T) {
	text := []byte("pump: {place: in_tank}\ncircuits:\n  - {name: fuel pump, size: 1}\n  - {name: fan, size: 2}\n")
	for change, want := range map[string]string{
		"pump.place=frame_rail":                       "pump: {place: frame_rail}\ncircuits:\n    - {name: fuel pump, size: 1}\n    - {name: fan, size: 2}\n",
		"circuits[fan].size=3; circuits[0].size=none": "pump: {place: in_tank}\ncircuits:\n    - {name: fuel pump, size: none}\n    - {name: fan, size: 3}\n",
		"pump={place: boot, lights: [a, b]}":          "pump: {place: boot, lights: [a, b]}\ncircuits:\n    - {name: fuel pump, size: 1}\n    - {name: fan, size: 2}\n",
	} {
		got, err := planted.Change(text, change)
		require.NoError(t, err, change)
		assert.Equal(t, want, string(got), change)
	}
	for change, want := range map[string]string{
		"pump.place":            "path=value is expected",
		"pump.place=in_tank":    "pump.place=in_tank changes nothing",
		"pump.kind=gear":        "pump.kind: the design does not state kind",
		"circuits[horn].size=1": "circuits[horn].size: there is no item horn",
		"pump.Place=in_tank":    "Place is not a step of a path",
	} {
		_, err := planted.Change(text, change)
		assert.ErrorContains(t, err, want, change)
	}
	_, err := planted.Change(nil, "pump.place=boot")
	assert.EqualError(t, err, "the design is empty")
}

func TestRead(t *testing.T) {
	got, err := planted.Read("# what\na\td.yaml\tpump.place=boot\tfail x/y.z\nb\td.yaml\tpump.place=bay\twarn x/y.z\tfail x/y.a; warn x/y.b\n")
	require.NoError(t, err)
	assert.Equal(t, []planted.Mistake{
		{Name: "a", Design: "d.yaml", Change: "pump.place=boot", Finds: "fail x/y.z"},
		{Name: "b", Design: "d.yaml", Change: "pump.place=bay", Finds: "warn x/y.z", Companions: []string{"fail x/y.a", "warn x/y.b"}},
	}, got)
	_, err = planted.Read("a\td.yaml\tx=1\tpass x/y.z\n")
	assert.ErrorContains(t, err, `"pass x/y.z" is not fail or warn with a rule`)
	got, err = planted.ReadWithin("a\td.yaml\tx=1\tpass x/y.z\n")
	require.NoError(t, err)
	assert.Equal(t, []planted.Mistake{{Name: "a", Design: "d.yaml", Change: "x=1", Finds: "pass x/y.z"}}, got)
	_, err = planted.ReadWithin("a\td.yaml\tx=1\tfail x/y.z\n")
	assert.ErrorContains(t, err, `"fail x/y.z" is not pass with a rule`)
	for text, want := range map[string]string{
		"a\td.yaml\tx=1":                                      "line 1 of the planted mistakes: write name",
		"a\td.yaml\tx=1\t ":                                   "line 1 of the planted mistakes has an empty cell",
		"a\td.yaml\tx=1\tbroken x/y.z":                        `"broken x/y.z" is not fail or warn with a rule`,
		"a\td.yaml\tx=1\tfail r\na\td.yaml\tx=2\tfail r":      "line 2 of the planted mistakes: a is there already",
		"a\td.yaml\tx=1\tfail r\n#\nb\td.yaml\tx=1\tfail r\n": "line 3 of the planted mistakes: b is there already",
	} {
		_, err := planted.Read(text)
		assert.ErrorContains(t, err, want, text)
	}
}

const pack = `pack: test/p
title: For tests
edition: 1
part: Fuel pump
rules:
  - id: not-always-on
    title: the pump stops
    danger: fire
    due: built
    about: design.pump
    must: design.pump.stop_control != 'always_on'
    say: It does not stop.
    mend: Stop it.
    because: [{practice: for tests}]
    cases: [{name: pass, given: {pump: {stop_control: oil_pressure_switch}}, expect: pass}, {name: fail, given: {pump: {stop_control: always_on}}, expect: fail}, {name: open, given: {}, expect: open}]
  - id: check-valve
    title: the line stays full
    danger: none
    due: built
    about: design.pump
    should: design.pump.check_valve
    say: It drains.
    mend: Fit a valve.
    because: [{practice: for tests}]
    cases: [{name: pass, given: {pump: {check_valve: true}}, expect: pass}, {name: warn, given: {pump: {check_valve: false}}, expect: warn}, {name: open, given: {}, expect: open}]
`

// A mistake is found, found beside a companion, found beside a stray, or missed; and a complaint that was there
// before it was planted does not count.
func TestPlant(t *testing.T) {
	lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(pack)}})
	require.NoError(t, err)
	field := planted.New(lib, fstest.MapFS{
		"clean.yaml": {Data: []byte("plumbline: 1\npump: {stop_control: oil_pressure_switch, check_valve: true, prime_time: 2 s}\nsetup: {cylinders: 6}\n")},
		"wet.yaml":   {Data: []byte("plumbline: 1\npump: {stop_control: oil_pressure_switch, check_valve: false}\n")},
		"part.yaml":  {Data: []byte("plumbline: 1\npump: {check_valve: true}\n")},
	})
	both := "pump.stop_control=always_on; pump.check_valve=false"
	for _, c := range []struct {
		name string
		m    planted.Mistake
		want planted.Result
	}{
		{"found", planted.Mistake{Design: "clean.yaml", Change: "pump.stop_control=always_on", Finds: "fail test/p.not-always-on"},
			planted.Result{Fresh: []string{"fail test/p.not-always-on"}, Found: true}},
		{"with a companion", planted.Mistake{Design: "clean.yaml", Change: both, Finds: "fail test/p.not-always-on", Companions: []string{"warn test/p.check-valve"}},
			planted.Result{Fresh: []string{"fail test/p.not-always-on", "warn test/p.check-valve"}, Found: true}},
		{"with a stray", planted.Mistake{Design: "clean.yaml", Change: both, Finds: "fail test/p.not-always-on"},
			planted.Result{Fresh: []string{"fail test/p.not-always-on", "warn test/p.check-valve"}, Found: true, Strays: []string{"warn test/p.check-valve"}}},
		{"missed", planted.Mistake{Design: "clean.yaml", Change: "pump.prime_time=30 s", Finds: "warn test/p.prime"}, planted.Result{}},
		{"there before", planted.Mistake{Design: "wet.yaml", Change: "pump.stop_control=always_on", Finds: "warn test/p.check-valve"},
			planted.Result{Fresh: []string{"fail test/p.not-always-on"}, Strays: []string{"fail test/p.not-always-on"}}},
	} {
		got, err := field.Plant(c.m)
		require.NoError(t, err, c.name)
		assert.ElementsMatch(t, c.want.Fresh, got.Fresh, c.name)
		assert.Equal(t, c.want.Found, got.Found, c.name)
		assert.ElementsMatch(t, c.want.Strays, got.Strays, c.name)
	}
	// The controller's entries are left out unless the mistake is in them.
	_, err = field.Plant(planted.Mistake{Design: "clean.yaml", Change: "setup.cylinders=8", Finds: "fail test/p.x"})
	assert.NoError(t, err)
	_, err = field.Plant(planted.Mistake{Design: "gone.yaml", Change: "setup.cylinders=8", Finds: "fail test/p.x"})
	assert.Error(t, err)
	_, err = field.Plant(planted.Mistake{Name: "odd", Design: "clean.yaml", Change: "pump.check_valve=perhaps", Finds: "fail test/p.x"})
	assert.ErrorContains(t, err, "odd: ")

	for name, want := range map[string]bool{"clean.yaml": true, "wet.yaml": false, "part.yaml": false} {
		got, err := field.Clean(name)
		require.NoError(t, err, name)
		assert.Equal(t, want, got, name)
	}
}

const later = `pack: test/q
title: For tests
edition: 1
part: First start
rules:
  - id: no-leak
    title: nothing leaks
    danger: fire
    due: started
    about: design.measured
    must: "!design.measured.fuel_leak"
    say: It leaks.
    mend: Mend it.
    because: [{practice: for tests}]
    cases: [{name: pass, given: {measured: {fuel_leak: false}}, expect: pass}, {name: fail, given: {measured: {fuel_leak: true}}, expect: fail}, {name: open, given: {}, expect: open}]
  - id: primed
    title: the pump primes
    danger: none
    due: started
    about: design.pump
    must: design.pump.check_valve
    say: It drains.
    mend: Fit a valve.
    because: [{practice: for tests}]
    cases: [{name: pass, given: {pump: {check_valve: true}}, expect: pass}, {name: fail, given: {pump: {check_valve: false}}, expect: fail}, {name: open, given: {}, expect: open}]
`

// A build that is not that far yet cannot state what will be measured; what can be known must be stated all the same.
func TestCleanForItsStage(t *testing.T) {
	lib, err := engine.Load(fstest.MapFS{"q.yaml": {Data: []byte(later)}})
	require.NoError(t, err)
	base := "plumbline: 1\npump: {check_valve: true}\n"
	field := planted.New(lib, fstest.MapFS{
		"base.yaml":    {Data: []byte(base)},
		"built.yaml":   {Data: []byte("plumbline: 1\nbased_on: base.yaml\nstage: built\n")},
		"started.yaml": {Data: []byte("plumbline: 1\nbased_on: base.yaml\nstage: started\n")},
		"done.yaml":    {Data: []byte("plumbline: 1\nbased_on: base.yaml\nstage: started\nmeasured: {fuel_leak: false}\n")},
		"unknown.yaml": {Data: []byte("plumbline: 1\nstage: built\n")},
		"lost.yaml":    {Data: []byte("plumbline: 1\nbased_on: gone.yaml\n")},
	})
	for name, want := range map[string]bool{"built.yaml": true, "started.yaml": false, "done.yaml": true, "unknown.yaml": false} {
		got, err := field.Clean(name)
		require.NoError(t, err, name)
		assert.Equal(t, want, got, name)
	}
	_, err = field.Clean("lost.yaml")
	assert.ErrorContains(t, err, "gone.yaml")

	// A mistake is planted in what the build states in all.
	got, err := field.Plant(planted.Mistake{Design: "built.yaml", Change: "pump.check_valve=false", Finds: "fail test/q.primed"})
	require.NoError(t, err)
	assert.Equal(t, planted.Result{Fresh: []string{"fail test/q.primed"}, Found: true, System: "state, work and first start"}, got)
}
