package engine_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// figuresPack has a figure that practice set and one that a law did, read by rules of small and of grave danger, and a table.
const figuresPack = `pack: base
title: Base
edition: 1
part: Fuel pump
sources:
  act: {kind: law, title: The first act, edition: "2020-01-01", seen: 2026-01-31, read: text, in: [xx]}
limits:
  most: {is: 500 kPa, because: [{practice: p}]}
  hot: {is: 60 degC, because: [{practice: p}]}
  lawful: {is: 50 mm, because: [{source: act, where: section 2}]}
tables:
  runs:
    key: place
    columns: {least: time}
    rows: [{place: in_tank, least: 2 s}, {place: frame_rail, least: 3 s}, {place: in_surge_tank, least: 3 s}, {place: engine_bay, least: 3 s}, {place: boot, least: 3 s}, {place: in_cabin, least: 3 s}]
    because: [{practice: p}]
rules:
  - {id: most, title: t, danger: engine, due: planned, about: design.regulator, measure: design.regulator.setting, must: {at_most: limit.most}, say: "{design.regulator.setting} and {limit.most}", mend: m, because: [{practice: p}]}
  - {id: hot, title: t, danger: fire, due: planned, about: design.climate, must: design.climate.hot_fuel <= limit.hot, say: s, mend: m, because: [{practice: p}]}
  - {id: clear, title: t, danger: fire, due: planned, about: design.tank, measure: design.tank.exhaust_clearance, must: {at_least: limit.lawful}, say: s, mend: m, because: [{practice: p}]}
  - {id: prime, title: t, danger: engine, due: planned, about: design.pump, measure: design.pump.prime_time, must: {at_least: "table.runs[design.pump.place].least"}, say: s, mend: m, because: [{practice: p}]}
`

func countryPack(name, more string) string {
	return "pack: regions/" + name + "\ntitle: Country\nedition: 1\npart: Rules\nregion: {name: " + name + `, title: Country ` + name + `, decided_by: first use, confirm: Confirm with the office.}
` + sourcesOf(more) + more
}

// sourcesOf are those that a text cites.
func sourcesOf(text string) string {
	out := ""
	if strings.Contains(text, "source: code") {
		out += "  code: {kind: law, title: The code, edition: \"2021-01-01\", seen: 2026-01-31, read: text}\n"
	}
	if strings.Contains(text, "source: told") {
		out += "  told: {kind: law, title: The code as remembered, edition: unknown, seen: 2026-01-31, read: memory}\n"
	}
	if out == "" {
		return ""
	}
	return "sources:\n" + out
}

const fromCode = "because: [{source: code, where: section 9}]"

func overridden(packs ...string) (*engine.Library, error) {
	local := fstest.MapFS{}
	for i, p := range packs {
		local[string(rune('a'+i))+".yaml"] = &fstest.MapFile{Data: []byte(p)}
	}
	return engine.Load(fstest.MapFS{"base.yaml": {Data: []byte(strings.Replace(figuresPack, ", in: [xx]", "", 1))}}, local)
}

func reportOf(t *testing.T, lib *engine.Library, design string) (*engine.Report, map[string]engine.Finding) {
	t.Helper()
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+design))
	require.NoError(t, err)
	r, out := lib.Judge(d, engine.Options{}), map[string]engine.Finding{}
	for _, f := range r.Findings {
		out[f.Rule] = f
	}
	return r, out
}

// The region and those that lie in it are judged by its figure, others by the packs' own.
func TestARegionOverridesALimit(t *testing.T) {
	lib, err := overridden(countryPack("us", "override: [{limit: base.most, is: 400 kPa, because: [{practice: custom there}]}]\n"), countryPack("us-ca", ""), countryPack("gb", ""))
	require.NoError(t, err)
	for regions, want := range map[string]engine.Outcome{"[us]": engine.Fail, "[us-ca]": engine.Fail, "[us-tx]": engine.Fail, "[gb]": engine.Pass, "none": engine.Pass, "[gb, us]": engine.Fail, "[us, gb]": engine.Fail} {
		r, found := reportOf(t, lib, regulator450+"regions: "+regions+"\n")
		f := found["base.most"]
		assert.Equal(t, want, f.Outcome, regions)
		if want == engine.Pass {
			assert.Empty(t, r.Overridden, regions)
			continue
		}
		assert.Contains(t, f.Text, "400 kPa", regions)
		require.Len(t, r.Overridden, 1, regions)
		x := r.Overridden[0]
		assert.Equal(t, "limit base.most", x.What)
		assert.Contains(t, x.From, "500 kPa")
		assert.Contains(t, x.To, "400 kPa")
		assert.Equal(t, "us", x.Region)
		assert.Equal(t, "custom there", x.Because[0].Text)
		assert.Equal(t, "a.yaml", x.Place.File)
		assert.Equal(t, "custom there", f.Because[len(f.Because)-1].Text)
		assert.Contains(t, f.Because[len(f.Because)-1].For, "Country us")
	}
}

// While nobody says where the vehicle is used, what comes out otherwise somewhere is open, and only that.
func TestWithoutARegionWhatAnOverrideChangesIsOpen(t *testing.T) {
	lib, err := overridden(countryPack("us", "override: [{limit: base.most, is: 400 kPa, because: [{practice: custom there}]}]\n"))
	require.NoError(t, err)
	for setting, want := range map[string]engine.Outcome{"350 kPa": engine.Pass, "450 kPa": engine.Open, "550 kPa": engine.Fail} {
		r, found := reportOf(t, lib, "regulator: {setting: "+setting+"}\n")
		f := found["base.most"]
		assert.Equal(t, want, f.Outcome, setting)
		assert.Empty(t, r.Overridden)
		if want == engine.Open {
			assert.Equal(t, []string{"design.regions"}, f.Missing)
			assert.Contains(t, strings.Join(f.Unreachable, "; "), "limit base.most is")
		}
	}
}

// A narrower region has the last word over a wider one; a house that is stricter keeps its own.
func TestWhichFigureHolds(t *testing.T) {
	us := countryPack("us", "override: [{limit: base.most, is: 400 kPa, because: [{practice: custom there}]}]\n")
	ca := countryPack("us-ca", "override: [{limit: base.most, is: 480 kPa, "+fromCode+"}]\n")
	lib, err := overridden(us, ca)
	require.NoError(t, err)
	_, found := reportOf(t, lib, regulator450+"regions: [us-ca]\n")
	assert.Equal(t, engine.Pass, found["base.most"].Outcome)
	_, found = reportOf(t, lib, regulator450+"regions: [us]\n")
	assert.Equal(t, engine.Fail, found["base.most"].Outcome)
	_, found = reportOf(t, lib, regulator450+"regions: [us-ca, us]\n")
	assert.Equal(t, engine.Fail, found["base.most"].Outcome, "who is used in both keeps both")

	house := "pack: shop/house\ntitle: House\nedition: 1\npart: Shop\ntighten: [{limit: base.most, is: 430 kPa, reason: ours}]\n"
	lib, err = overridden(ca, countryPack("us", ""), house)
	require.NoError(t, err)
	_, found = reportOf(t, lib, regulator450+"regions: [us-ca]\n")
	assert.Equal(t, engine.Fail, found["base.most"].Outcome, "the house's is stricter")
	for _, l := range lib.Limits() {
		if l.Name == "base.most" {
			assert.Empty(t, l.Regions)
		}
	}
	// A law that is stricter than what the house loosened holds.
	lib, err = overridden(us, strings.ReplaceAll(strings.Replace(house, "tighten", "loosen", 1), "430", "600"))
	require.NoError(t, err)
	_, found = reportOf(t, lib, "regulator: {setting: 550 kPa}\nregions: [us]\n")
	assert.Equal(t, engine.Fail, found["base.most"].Outcome)
	_, found = reportOf(t, lib, "regulator: {setting: 550 kPa}\nregions: none\n")
	assert.Equal(t, engine.Pass, found["base.most"].Outcome)
}

func TestARegionOverridesACellOfATable(t *testing.T) {
	lib, err := overridden(countryPack("us", "override: [{table: base.runs, rows: [{place: frame_rail, least: 5 s}], because: [{practice: cold there}]}]\n"))
	require.NoError(t, err)
	r, found := reportOf(t, lib, "pump: {place: frame_rail, prime_time: 4 s}\nregions: [us]\n")
	assert.Equal(t, engine.Fail, found["base.prime"].Outcome)
	require.Len(t, r.Overridden, 1)
	assert.Equal(t, "table base.runs, least of frame rail", r.Overridden[0].What)
	assert.Equal(t, "3 s", r.Overridden[0].From)
	_, found = reportOf(t, lib, "pump: {place: in_tank, prime_time: 4 s}\nregions: [us]\n")
	assert.Equal(t, engine.Pass, found["base.prime"].Outcome)
	_, found = reportOf(t, lib, "pump: {place: frame_rail, prime_time: 4 s}\nregions: none\n")
	assert.Equal(t, engine.Pass, found["base.prime"].Outcome)
	_, found = reportOf(t, lib, "pump: {place: frame_rail, prime_time: 4 s}\n")
	assert.Equal(t, engine.Open, found["base.prime"].Outcome)
}

// What makes a rule milder needs a law, and against a grave danger a figure that was a law's before.
func TestRefusedOverrides(t *testing.T) {
	for name, x := range map[string]struct{ line, want string }{
		"milder by custom":       {"{limit: base.most, is: 600 kPa, because: [{practice: custom}]}", "makes base.most milder: only a law does that"},
		"milder by memory":       {"{limit: base.most, is: 600 kPa, because: [{source: told, where: section 1}]}", "one that was read"},
		"no clause":              {"{limit: base.most, is: 600 kPa, because: [{source: code}]}", "cite its clause"},
		"fire":                   {"{limit: base.hot, is: 70 degC, " + fromCode + "}", "base.hot guards against fire, and limit base.hot is no figure that a law set"},
		"milder row":             {"{table: base.runs, rows: [{place: in_tank, least: 1 s}], because: [{practice: custom}]}", "makes base.prime milder"},
		"no such row":            {"{table: base.runs, rows: [{place: in_tnk, least: 1 s}], " + fromCode + "}", "did you mean in_tank?"},
		"no such column":         {"{table: base.runs, rows: [{place: in_tank, lest: 1 s}], " + fromCode + "}", "did you mean least?"},
		"no such limit":          {"{limit: base.mots, is: 1 kPa, " + fromCode + "}", "did you mean base.most?"},
		"no such table":          {"{table: base.run, rows: [], " + fromCode + "}", "did you mean base.runs?"},
		"dimension":              {"{limit: base.most, is: 3 mm, " + fromCode + "}", "the limit is a pressure"},
		"no value":               {"{limit: base.most, " + fromCode + "}", "write is"},
		"both":                   {"{limit: base.most, table: base.runs, is: 400 kPa, " + fromCode + "}", "name one limit"},
		"no reason":              {"{limit: base.most, is: 400 kPa, because: []}", "say why"},
		"as it is":               {"{limit: base.most, is: 5 bar, " + fromCode + "}", "limit base.most is 500 kPa there already"},
		"nothing left to decide": {"{limit: base.lawful, is: 100 km, " + fromCode + "}", "base.clear decides nothing any more"},
		"twice":                  {"{limit: base.most, is: 400 kPa, " + fromCode + "}, {limit: base.most, is: 410 kPa, " + fromCode + "}", "has another value in us already"},
	} {
		_, err := overridden(countryPack("us", "override: ["+x.line+"]\n"))
		if assert.Error(t, err, name) {
			assert.Contains(t, err.Error(), x.want, name)
			assert.Regexp(t, `a\.yaml:\d+:\d+: `, err.Error(), name)
		}
	}
	_, err := overridden("pack: shop/house\ntitle: House\nedition: 1\npart: Shop\noverride: [{limit: base.most, is: 400 kPa, because: [{practice: p}]}]\n")
	assert.ErrorContains(t, err, "only a pack of a region overrides")
	_, err = overridden(countryPack("us", "tighten: [{limit: base.most, is: 400 kPa, reason: r}]\n"))
	assert.ErrorContains(t, err, "stands under override")
}

// The law itself may set another figure in the place of a law's, even against a grave danger.
func TestALawSetsTheFigureOfALaw(t *testing.T) {
	lib, err := overridden(countryPack("us", "override: [{limit: base.lawful, is: 40 mm, "+fromCode+"}]\n"))
	require.NoError(t, err)
	_, found := reportOf(t, lib, "tank: {exhaust_clearance: 45 mm}\nregions: [us]\n")
	assert.Equal(t, engine.Pass, found["base.clear"].Outcome)
	_, found = reportOf(t, lib, "tank: {exhaust_clearance: 45 mm}\nregions: none\n")
	assert.Equal(t, engine.Fail, found["base.clear"].Outcome)
}

// An account traces a rule by the figures of the place by which it came out.
func TestAnAccountGoesByTheFiguresOfThePlace(t *testing.T) {
	lib, err := overridden(countryPack("us", "override: [{limit: base.most, is: 400 kPa, because: [{practice: custom there}]}]\n"), countryPack("gb", ""))
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+regulator450+"regions: [gb, us]\n"))
	require.NoError(t, err)
	out, err := lib.Account(d, engine.Options{}, "base.most")
	require.NoError(t, err)
	text, err := json.Marshal(out)
	require.NoError(t, err)
	assert.Contains(t, string(text), "400 kPa")
	assert.NotContains(t, string(text), `"value":"500 kPa`)
}

// A library whose own regions override judges from its image as from its packs.
func TestTheImageWithOverrides(t *testing.T) {
	folder := fstest.MapFS{"base.yaml": {Data: []byte(figuresPack)}, "xx.yaml": {Data: []byte(countryPack("xx", "override:\n  - {limit: base.most, is: 400 kPa, because: [{practice: custom there}]}\n  - {table: base.runs, rows: [{place: frame_rail, least: 5 s}], because: [{practice: cold there}]}\n"))}}
	image, err := engine.WriteImage(folder)
	require.NoError(t, err)
	packs, err := engine.Load(folder)
	require.NoError(t, err)
	opened, err := engine.OpenImage(folder, image)
	require.NoError(t, err)
	local, err := engine.OpenImage(folder, image, fstest.MapFS{"h.yaml": {Data: []byte("pack: shop/h\ntitle: H\nedition: 1\npart: Fuel\ntighten: [{limit: base.most, is: 450 kPa, reason: ours}]\n")}})
	require.NoError(t, err)
	for _, regions := range []string{"", "regions: [xx]\n", "regions: none\n"} {
		d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+regulator450+"pump: {place: frame_rail, prime_time: 4 s}\n"+regions))
		require.NoError(t, err)
		assert.True(t, sameReport(t, packs.Judge(d, engine.Options{}), opened.Judge(d, engine.Options{})), regions)
		a, err := json.Marshal(packs.Limits())
		require.NoError(t, err)
		b, err := json.Marshal(opened.Limits())
		require.NoError(t, err)
		assert.Equal(t, string(a), string(b))
		_, found := reportOf(t, local, regulator450+regions)
		if regions != "" {
			assert.Equal(t, regions != "regions: none\n", found["base.most"].Outcome == engine.Fail, regions)
		}
	}
}

// The law holds where regions override: stating where the vehicle is used, or anything else, only settles.
func TestMoreFactsNeverChangeAFindingWhereRegionsOverride(t *testing.T) {
	t.Parallel()
	lib, err := overridden(
		countryPack("us", "override: [{limit: base.most, is: 400 kPa, because: [{practice: p}]}, {limit: base.hot, is: 50 degC, because: [{practice: p}]}]\n"),
		countryPack("us-ca", "override: [{limit: base.most, is: 480 kPa, "+fromCode+"}, {table: base.runs, rows: [{place: in_tank, least: 5 s}, {place: frame_rail, least: 1 s}], because: [{source: code, where: section 2}]}]\n"),
		countryPack("gb", ""))
	require.NoError(t, err)
	settled, compared, open := 0, 0, 0
	for i := range uint64(400) {
		g := newGrowth(i)
		full := g.part("Design", 0.9)
		at := slices.IndexFunc(full.Content, func(n *yaml.Node) bool { return n.Value == "regions" })
		if at >= 0 {
			full.Content = slices.Delete(full.Content, at, at+2)
		}
		some := [][]string{{"us"}, {"us-ca"}, {"gb"}, {"us-ca", "gb"}, {"gb", "us"}, {"us-tx"}}[i%6]
		list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: 1, Column: 1}
		for _, r := range some {
			list.Content = append(list.Content, plain("!!str", r))
		}
		more := *full
		more.Content = append(slices.Clone(full.Content), plain("!!str", "regions"), list)
		less := g.thin(full, 0.1)
		var reports []*engine.Report
		for _, n := range []*yaml.Node{&more, full, less} {
			d, err := schema.LoadNode("random.yaml", n)
			if err != nil {
				break
			}
			reports = append(reports, lib.Judge(d, engine.Options{NoAssumptions: true}))
		}
		for k := 0; k+1 < len(reports); k++ {
			s, c := compareReports(t, int(i), reports[k+1], reports[k])
			settled, compared = settled+s, compared+c
			for _, f := range reports[k+1].Findings {
				if f.Outcome == engine.Open && slices.Contains(f.Missing, "design.regions") && strings.HasPrefix(f.Rule, "base.") {
					open++
				}
			}
		}
	}
	assert.Greater(t, compared, 400)
	assert.Greater(t, open, 20, "findings that the place decides were met")
	assert.Greater(t, settled, open/2)
}

// What is tried on a bench, for sizes and headroom, goes by the figures of the place too.
func TestABenchGoesByTheFiguresOfThePlace(t *testing.T) {
	lib, err := overridden(countryPack("us", "override: [{limit: base.most, is: 400 kPa, because: [{practice: p}]}]\n"), countryPack("gb", ""))
	require.NoError(t, err)
	for regions, want := range map[string][]engine.Outcome{"regions: [us]\n": {engine.Pass, engine.Fail, engine.Fail}, "regions: [gb]\n": {engine.Pass, engine.Pass, engine.Fail}, "regions: [gb, us]\n": {engine.Pass, engine.Fail, engine.Fail}, "": {engine.Pass, engine.Open, engine.Fail}} {
		d, err := schema.Load("d.yaml", []byte("plumbline: 1\nregulator: {setting: 350 kPa}\n"+regions))
		require.NoError(t, err)
		bench := lib.Bench(d, engine.Options{}, [][]string{{"design.regulator.setting"}}, engine.Whole)
		for i, to := range []string{"390 kPa", "450 kPa", "550 kPa"} {
			var typed quantity.Pressure
			require.NoError(t, typed.UnmarshalText([]byte(to)))
			var got engine.Outcome
			for _, f := range bench.Try(engine.Whole, engine.Change{Path: "design.regulator.setting", Value: typed}) {
				if f.Rule == "base.most" {
					got = f.Outcome
				}
			}
			assert.Equal(t, want[i], got, "%s at %s", regions, to)
		}
	}
}
