package schema

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/document"
)

// shelf is a set of files by name; the design is design.yaml.
type shelf map[string]string

// load reads design.yaml; every file is given its first line, the edition.
func (s shelf) load() (*Design, error) {
	data, _ := s.open("design.yaml")
	return LoadBased("design.yaml", data, s.open)
}

// open returns the bytes of a file.
func (s shelf) open(name string) ([]byte, error) {
	files := fstest.MapFS{}
	for name, text := range s {
		files[name] = &fstest.MapFile{Data: []byte("plumbline: 1\n" + text)}
	}
	return fs.ReadFile(files, name)
}

// A design of its own comes back byte for byte; one that cannot be put together does not come back.
func TestWhole(t *testing.T) {
	alone := []byte("plumbline: 1\npump: {rated_flow: 100 L/h} # as printed\n")
	got, err := Whole("design.yaml", alone, nil)
	require.NoError(t, err)
	assert.Equal(t, string(alone), string(got))

	files := shelf{"design.yaml": "based_on: t.yaml\nleave_out: [pump.prime_time]\n", "t.yaml": "stage: built\npump: {prime_time: 2 s, rated_flow: 100 L/h}\n",
		"mixed.yaml": "based_on: block.yaml\npump: {rated_flow: 100 L/h}\n", "block.yaml": "pump:\n  # as tested\n  prime_time: 2 s # not more\n  place: in_tank\n"}
	data, err := files.open("mixed.yaml")
	require.NoError(t, err)
	got, err = Whole("mixed.yaml", data, files.open)
	require.NoError(t, err)
	assert.Equal(t, "plumbline: 1\npump: {rated_flow: 100 L/h, prime_time: 2 s, place: in_tank}\n", string(got))

	data, err = files.open("design.yaml")
	require.NoError(t, err)
	got, err = Whole("design.yaml", data, files.open)
	require.NoError(t, err)
	assert.Equal(t, "plumbline: 1\npump: {rated_flow: 100 L/h}\n", string(got))

	delete(files, "t.yaml")
	_, err = Whole("design.yaml", data, files.open)
	assert.ErrorContains(t, err, "t.yaml")
	_, err = Whole("design.yaml", []byte("plumbline: 2\n"), nil)
	assert.Error(t, err)
}

// stated lists what a design states, in its order: path, value and file:line.
func stated(d *Design) []string {
	var out []string
	WalkAll(d, func(v Visit) {
		path := strings.TrimPrefix(v.Path, "design.")
		switch {
		case strings.HasPrefix(path, "plumbline"), strings.HasPrefix(path, "based_on"), strings.HasPrefix(path, "leave_out"):
		case v.Optional != nil && v.Optional.Presence() == Absent:
			out = append(out, fmt.Sprintf("%s none %s:%d", path, v.Optional.Place().File, v.Optional.Place().Line))
		case v.Listing != nil && v.Listing.Known() && v.Listing.Len() == 0:
			out = append(out, fmt.Sprintf("%s empty %s:%d", path, v.Listing.Place().File, v.Listing.Place().Line))
		case v.Reading != nil && v.Reading.Known():
			out = append(out, fmt.Sprintf("%s %s %s:%d", path, v.Reading.Text(), v.Reading.Place().File, v.Reading.Place().Line))
		}
	})
	return out
}

// Files saved on other systems begin with a byte order mark and end their lines with a carriage return.
func TestATemplateWithAByteOrderMark(t *testing.T) {
	d, err := LoadBased("design.yaml", []byte("plumbline: 1\nbased_on: t.yaml\n"), func(string) ([]byte, error) {
		return []byte("\ufeffplumbline: 1\r\npump: {rated_flow: 100 L/h}\r\n"), nil
	})
	require.NoError(t, err)
	assert.Equal(t, []string{"pump.rated_flow 100 L/h t.yaml:2"}, stated(d))
}

func TestTemplatesArePutTogether(t *testing.T) {
	for name, c := range map[string]struct {
		design, template string
		want             []string
	}{
		"a fact is taken, changed and added": {
			"based_on: t.yaml\npump: {rated_flow: 200 L/h, place: in_tank}\n",
			"pump:\n  rated_flow: 100 L/h\n  kind: turbine\n",
			[]string{"pump.place in_tank design.yaml:3", "pump.kind turbine t.yaml:4", "pump.rated_flow 200 L/h design.yaml:3"},
		},
		"named items: changed in place, new at the end": {
			"based_on: t.yaml\nfeed:\n  runs:\n    - {name: new, bore: 6 mm}\n    - {name: tube, bore: 8 mm}\n",
			"feed:\n  runs:\n    - {name: tube, bore: 9 mm, length: 2 m}\n    - {name: hose, length: 1 m}\n",
			[]string{"feed.runs[0].name tube design.yaml:6", "feed.runs[0].bore 8 mm design.yaml:6", "feed.runs[0].length 2 m t.yaml:4",
				"feed.runs[1].name hose t.yaml:5", "feed.runs[1].length 1 m t.yaml:5", "feed.runs[2].name new design.yaml:5", "feed.runs[2].bore 6 mm design.yaml:5"},
		},
		"a list without names replaces": {
			"based_on: t.yaml\nregions: [gb]\npump: {curve: [{pressure: 3 bar}]}\nfeed: {runs: [{bore: 8 mm}]}\n",
			"regions: [us, us-ca]\npump: {curve: [{pressure: 1 bar, flow: 9 L/h}, {pressure: 2 bar}]}\nfeed: {runs: [{name: tube}]}\n",
			[]string{"regions[0] gb design.yaml:3", "pump.curve[0].pressure 3 bar design.yaml:4", "feed.runs[0].bore 8 mm design.yaml:5"},
		},
		"a list with names replaces one without": {
			"based_on: t.yaml\nfeed: {runs: [{name: tube}]}\n", "feed: {runs: [{bore: 8 mm}, {bore: 9 mm}]}\n",
			[]string{"feed.runs[0].name tube design.yaml:3"},
		},
		"an empty list and none replace": {
			"based_on: t.yaml\ncircuits: []\ngrounds: none\n", "circuits: [{name: fan}]\ngrounds: [{name: strap}]\n",
			[]string{"circuits empty design.yaml:3", "grounds empty design.yaml:4"},
		},
		"a list replaces none": {
			"based_on: t.yaml\ncircuits: [{name: fan}]\n", "circuits: none\n",
			[]string{"circuits[0].name fan design.yaml:3"},
		},
		"none over a part, a part over none": {
			"based_on: t.yaml\nreturn_line: none\nsurge_tank: {location: frame_rail}\n", "return_line: {rise: 1 m}\nsurge_tank: none\n",
			[]string{"surge_tank.location frame_rail design.yaml:4", "return_line none design.yaml:3"},
		},
		"a part that is only said to be there keeps the facts": {
			"based_on: t.yaml\nreturn_line: {}\n", "return_line: {rise: 1 m}\n",
			[]string{"return_line.rise 1 m t.yaml:2"},
		},
		"the other way to say it goes, whichever way": {
			"based_on: t.yaml\nthrottle_body: {injectors: {static_mass_flow: 30 lb/h}}\npassages: [{name: bulkhead, bundle_diameter: 9 mm}]\n",
			"throttle_body: {injectors: {static_flow: 300 cc/min}}\npassages: [{name: bulkhead, wires: [{count: 3}]}]\n",
			[]string{"throttle_body.injectors.static_mass_flow 30 lb/h design.yaml:3", "passages[0].name bulkhead design.yaml:4", "passages[0].bundle_diameter 9 mm design.yaml:4"},
		},
		"what belongs to one vehicle stays there": {
			"based_on: t.yaml\nmeasured: {pump_current: 6 A}\n",
			"title: six\nnotes: for the shelf\nmeasured: {pump_voltage: 13 V}\nconcessions: []\npapers: {carried: true}\nregistration: {plate: normal}\n" +
				"condition: {standing: 1 year}\nprocedure: {leak_test_before_spark: true}\nstage: ordered\n",
			[]string{"measured.pump_current 6 A design.yaml:3"},
		},
		"facts left out are unknown again": {
			"based_on: t.yaml\nleave_out: [tank.vent, circuits.fan, surge_tank, feed.runs.a.b, circuits.pump feed.fuse]\n",
			"tank: {vent: vented_cap, capacity: 60 L}\nsurge_tank: {location: frame_rail}\nfeed: {runs: [{name: a.b}, {name: a, bore: 8 mm}]}\ncircuits: [{name: fan}, {name: pump feed, fuse: none}]\n",
			[]string{"tank.capacity 60 L t.yaml:2", "feed.runs[0].name a t.yaml:4", "feed.runs[0].bore 8 mm t.yaml:4", "circuits[0].name pump feed t.yaml:5"},
		},
		"a list of which nothing is left is unknown, not empty": {
			"based_on: t.yaml\nleave_out: [circuits.fan, circuits.fan]\n", "circuits: [{name: fan}]\ngrounds: []\n",
			[]string{"grounds empty t.yaml:3"},
		},
		"a whole part can be left out and stated anew": {
			"based_on: t.yaml\nleave_out: [pump, feed.runs]\npump: {rated_flow: 90 L/h}\nfeed: {runs: [{name: a}]}\n", "pump: {curve: [{flow: 5 L/h}]}\nfeed: {runs: [{name: a, bore: 8 mm}]}\n",
			[]string{"pump.rated_flow 90 L/h design.yaml:4", "feed.runs[0].name a design.yaml:5"},
		},
		"nothing is left out": {"based_on: t.yaml\nleave_out: none\n", "engine: {cylinders: 6}\n", []string{"engine.cylinders 6 t.yaml:2"}},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := shelf{"design.yaml": c.design, "t.yaml": c.template}.load()
			require.NoError(t, err)
			assert.Equal(t, c.want, stated(d))
		})
	}
}

func TestPartsStandWhereTheDesignWritesThem(t *testing.T) {
	d, err := shelf{"design.yaml": "based_on: t.yaml\npump: {rated_flow: 200 L/h}\n", "t.yaml": "tank: {capacity: 60 L}\npump: {place: in_tank}\n"}.load()
	require.NoError(t, err)
	assert.Equal(t, Place{File: "design.yaml", Line: 3, Column: 1}, d.PlaceOf("design.pump"))
	assert.Equal(t, Place{File: "t.yaml", Line: 2, Column: 1}, d.PlaceOf("design.tank.vent"), "a fact nobody states: at its part")
	assert.Equal(t, Place{File: "design.yaml", Line: 1, Column: 1}, d.PlaceOf("design.fuel.ethanol"))
	assert.Equal(t, "t.yaml", d.BasedOn.Any())
}

func TestTemplatesOfTemplates(t *testing.T) {
	d, err := shelf{
		"design.yaml":     "based_on: kits/mid.yaml\nfeed: {runs: [{name: hose, bore: 8 mm}]}\n",
		"kits/mid.yaml":   "based_on: ../deep.json\nleave_out: [feed.runs.tube]\nfeed: {runs: [{name: hose, length: 1 m}, {name: last}]}\ntank: {vent: canister}\n",
		"deep.json":       "tank: {vent: blocked, capacity: 60 L}\nfeed: {runs: [{name: tube}, {name: hose, bore: 6 mm, length: 3 m}]}\n",
		"kits/other.yaml": "not even a design",
	}.load()
	require.NoError(t, err)
	assert.Equal(t, []string{"tank.capacity 60 L deep.json:2", "tank.vent canister kits/mid.yaml:5",
		"feed.runs[0].name hose design.yaml:3", "feed.runs[0].bore 8 mm design.yaml:3", "feed.runs[0].length 1 m kits/mid.yaml:4",
		"feed.runs[1].name last kits/mid.yaml:4"}, stated(d))
}

func TestTemplatesThatAreWrong(t *testing.T) {
	for name, c := range map[string]struct {
		files shelf
		want  string
	}{
		"missing": {shelf{"design.yaml": "based_on: no.yaml\n"},
			"design.yaml:2:11: the template open no.yaml: file does not exist"},
		"missing further on": {shelf{"design.yaml": "based_on: t/a.yaml\n", "t/a.yaml": "stage: built\nbased_on: no.yaml\n"},
			"t/a.yaml:3:11: the template open t/no.yaml: file does not exist; design.yaml is based on t/a.yaml, which is based on t/no.yaml"},
		"on itself": {shelf{"design.yaml": "based_on: ./x/../design.yaml\n"},
			"design.yaml:2:11: this file is based on itself; name another one, or take the line out"},
		"in a circle": {shelf{"design.yaml": "based_on: a.yaml\n", "a.yaml": "based_on: b/b.yaml\n", "b/b.yaml": "based_on: .././a.yaml\n"},
			"b/b.yaml:2:11: the templates go round in a circle: a.yaml is based on b/b.yaml, which is based on a.yaml"},
		"a folder by backslashes": {shelf{"design.yaml": "based_on: ..\\a.yaml\n"},
			"design.yaml:2:11: folders are parted by slashes; write ../a.yaml"},
		"no text": {shelf{"design.yaml": "based_on: 4\n"},
			`design.yaml:2:11: a text is expected; put it in quotes: "4"`},
		"problems of all files, each once": {shelf{"design.yaml": "based_on: a.yaml\nstage: bilt\n", "a.yaml": "based_on: b.yaml\npump: {place: in_tnak}\n", "b.yaml": "colour: red\npump: {place: here}\n"},
			"a.yaml:3:15: in_tnak is not one of *\nb.yaml:2:1: unknown key colour*\nb.yaml:3:15: here is not one of *\ndesign.yaml:3:8: bilt is not one of *"},
		"a name over two lines":        {shelf{"design.yaml": "based_on: \"a\\nb.yaml\"\n"}, "design.yaml:2:11: a file's name on one line is expected*"},
		"a template that is no design": {shelf{"design.yaml": "based_on: a.yaml\n", "a.yaml": "- x\n"}, "a.yaml:2:1: *"},
		"a named item twice": {shelf{"design.yaml": "based_on: a.yaml\ncircuits: [{name: fan}]\n", "a.yaml": "circuits: [{name: fan}, {name: fan}]\n"},
			"design.yaml:3:19: it cannot be told which fan is meant: two items have that name (a.yaml:2:12 and a.yaml:2:25); give each its own, or leave the template's list out (leave_out: [circuits])"},
		"a change twice": {shelf{"design.yaml": "based_on: a.yaml\ncircuits: [{name: fan}, {name: fan}]\n", "a.yaml": "circuits: [{name: fan}]\n"},
			"design.yaml:3:19: it cannot be told which fan is meant: two items have that name (design.yaml:3:12 and design.yaml:3:25); give each its own, *"},
		"an item without a name": {shelf{"design.yaml": "based_on: a.yaml\nfeed: {runs: [{name: a}, {bore: 8 mm}]}\n", "a.yaml": "feed: {runs: [{name: a}]}\n"},
			"design.yaml:3:26: this item has no name, and the list is put together with the template's by name; name every item, or leave the template's list out (leave_out: [feed.runs])"},
		"a template's item without a name": {shelf{"design.yaml": "based_on: a.yaml\nfeed: {runs: [{name: a}]}\n", "a.yaml": "feed: {runs: [{name: a}, {bore: 8 mm}]}\n"},
			"design.yaml:3:14: the template's runs cannot be put together with these by name: its item at a.yaml:2:26 has none; name it, *"},
		"leave out, one letter wrong": {shelf{"design.yaml": "based_on: a.yaml\nleave_out: [tank.vnet, tnak.vent, circuits.fna.fuse]\n", "a.yaml": "tank: {vent: canister}\ncircuits: [{name: fan, fuse: none}]\n"},
			"design.yaml:3:13: the template a.yaml states no tank.vnet; did you mean tank.vent?\n" +
				"design.yaml:3:24: the template a.yaml states no tnak.vent; did you mean tank.vent?\n" +
				"design.yaml:3:35: the template a.yaml states no circuits.fna.fuse; did you mean circuits.fan.fuse?"},
		"leave out what is not there": {shelf{"design.yaml": "based_on: a.yaml\nleave_out: [pump, tank.bonded, tank.vent.cap, regions.us, design.tank, title]\n", "a.yaml": "title: x\ntank: {vent: canister}\nregions: [us]\n"},
			"design.yaml:3:13: the template a.yaml states no pump; it states tank, regions\n" +
				"design.yaml:3:19: the template a.yaml states no tank.bonded; of tank it states vent\n" +
				"design.yaml:3:32: the template a.yaml states no tank.vent.cap; tank.vent is one value there\n" +
				"design.yaml:3:47: the template a.yaml states no regions.us; the items of regions have no names, and can only be left out together\n" +
				"design.yaml:3:59: write the path without design.: tank\n" +
				"design.yaml:3:72: title is never taken from a template; take the line out"},
		"leave out one of two": {shelf{"design.yaml": "based_on: a.yaml\nleave_out: [circuits.fan]\n", "a.yaml": "circuits: [{name: fan}, {name: fan}]\n"},
			"design.yaml:3:13: it cannot be told which one circuits.fan means: two items of circuits have that name (a.yaml:2:12 and a.yaml:2:25); leave circuits out whole and list what stays"},
		"leave out of nothing": {shelf{"design.yaml": "leave_out: [tank]\n"},
			"design.yaml:2:1: leave_out takes facts of a template away, and this file is based on none; *"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.files.load()
			require.Error(t, err)
			require.IsType(t, document.Problems{}, err)
			got, want := strings.Split(err.Error(), "\n"), strings.Split(c.want, "\n")
			require.Len(t, got, len(want), "%v", err)
			for i := range want {
				if start, open := strings.CutSuffix(want[i], "*"); open {
					assert.Contains(t, got[i], start)
					continue
				}
				assert.Equal(t, want[i], got[i])
			}
		})
	}
}

func TestAChainOfTemplatesEnds(t *testing.T) {
	files := shelf{"design.yaml": "based_on: t1.yaml\n"}
	for i := 1; i < MaxTemplates; i++ {
		files[fmt.Sprintf("t%d.yaml", i)] = fmt.Sprintf("based_on: t%d.yaml\n", i+1)
	}
	files[fmt.Sprintf("t%d.yaml", MaxTemplates)] = "engine: {cylinders: 6}\n"
	d, err := files.load()
	require.NoError(t, err)
	assert.Equal(t, 6, d.Engine.Cylinders.Any())

	files[fmt.Sprintf("t%d.yaml", MaxTemplates)] = "based_on: t9.yaml\n"
	_, err = files.load()
	require.ErrorContains(t, err, "t8.yaml:2:11: at most 8 templates may rest on each other; here are more: design.yaml is based on t1.yaml, which is based on t2.yaml,")
}

func TestListsOfAllFilesAreCountedTogether(t *testing.T) {
	circuits := func(name string, n int) string {
		return "circuits: [" + strings.TrimSuffix(strings.Repeat("{name: "+name+"#}, ", n), ", ") + "]\n"
	}
	numbered := func(text string) string {
		for i := 0; strings.Contains(text, "#"); i++ {
			text = strings.Replace(text, "#", fmt.Sprint(i), 1)
		}
		return text
	}
	_, err := shelf{"design.yaml": "based_on: t.yaml\n" + numbered(circuits("a", 40)), "t.yaml": numbered(circuits("b", 40))}.load()
	assert.ErrorContains(t, err, "design.yaml:3:11: the list has 80 items; at most 64 are read")
}

// Without a way to open files a design that needs another one is refused at the line that says so.
func TestBasedOnNeedsFiles(t *testing.T) {
	_, err := Load("f", []byte("plumbline: 1\nbased_on: t.yaml\n"))
	assert.EqualError(t, err, "f:2:11: no other file is read here, so a design may not be based on one; write the facts of the template out")

	root, err := document.Parse("pack.yaml", []byte("pump: {}\nbased_on: t.yaml\nleave_out: [tank]\n"))
	require.NoError(t, err)
	_, err = LoadNode("pack.yaml", root)
	var problems document.Problems
	require.True(t, errors.As(err, &problems))
	require.Len(t, problems, 2)
	assert.Equal(t, Place{File: "pack.yaml", Line: 2, Column: 1}, problems[0].Place)
}

func TestTemplateNames(t *testing.T) {
	for _, c := range []struct{ file, basedOn, want string }{
		{"stdin", "templates/x.yaml", "templates/x.yaml"},
		{"designs/six.yaml", "../templates/x.yaml", "templates/x.yaml"},
		{"/shop/designs/six.yaml", "../x.yaml", "/shop/x.yaml"},
		{"six.yaml", "../x.yaml", "../x.yaml"},
		{"designs/six.yaml", "/shop/./x.yaml", "/shop/x.yaml"},
	} {
		assert.Equal(t, c.want, template(c.file, c.basedOn))
	}
}

// The description of based_on says what is not taken, for every reader of the schema.
func TestOwnFactsAreDescribed(t *testing.T) {
	doc := Doc("Design", "based_on")
	for _, key := range ownFacts()[1:] {
		assert.NotNil(t, designPlan().byKey[key], key)
		if key != "based_on" && key != "leave_out" {
			assert.Contains(t, doc, key)
		}
	}
}
