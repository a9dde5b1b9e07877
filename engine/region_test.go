package engine_test

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/proof"
	"plumbline/schema"
)

const regionPack = `pack: regions/xx
title: Country
edition: 1
part: Rules of Country
region: {name: xx, title: Country, decided_by: first use, confirm: Confirm with the office.}
sources:
  act: {kind: law, title: The Act, edition: "2020-01-01", seen: 2026-01-31, read: text}
rules:
  - id: age
    title: t
    danger: none
    due: planned
    consequence: duty
    about: design.papers
    applies: years(design.vehicle.first_registration_date, today) >= 40
    must: design.papers.carried
    say: s
    mend: m
    because: [{source: act, where: section 3}]
    cases:
      - {name: pass, today: 2024-03-02, given: {vehicle: {first_registration_date: 1984-03-02}, papers: {carried: true}}, expect: pass}
      - {name: fail, today: 2024-03-02, given: {vehicle: {first_registration_date: 1984-03-02}, papers: {carried: false}}, expect: fail}
      - {name: not yet forty, today: 2024-03-01, given: {vehicle: {first_registration_date: 1984-03-02}, papers: {carried: false}}, expect: not applicable}
      - {name: open, today: 2024-03-02, given: {vehicle: {first_registration_date: 1984-03-02}}, expect: open, asks: [design.papers.carried]}
      - {name: no day, given: {vehicle: {first_registration_date: 1984-03-02}, papers: {carried: true}}, expect: open}
`

func regional(t *testing.T, pack string) (*engine.Library, error) {
	t.Helper()
	return engine.Load(fstest.MapFS{"base.yaml": {Data: []byte(basePack)}, "xx.yaml": {Data: []byte(pack)}})
}

func TestRegionsBringTheirRulesAndWhatToConfirm(t *testing.T) {
	lib, err := regional(t, regionPack)
	require.NoError(t, err)
	for _, r := range proof.Cases(lib.Only("regions/xx.age")) {
		assert.Empty(t, r.Problem, r.Case)
	}
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nregions: [xx-yy]\nvehicle: {first_registration_date: 1970-01-01}\npapers: {carried: false}\n"))
	require.NoError(t, err)
	r := lib.Judge(d, engine.Options{Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
	byRule := map[string]engine.Finding{}
	for _, f := range r.Findings {
		byRule[f.Rule] = f
	}
	age := byRule["regions/xx.age"]
	assert.Equal(t, engine.Fail, age.Outcome)
	assert.Equal(t, "xx", age.Region)
	assert.Equal(t, "duty", age.Consequence)
	assert.Equal(t, "Confirm with the office.", age.Confirm)
	assert.Equal(t, "The Act, section 3 (as of 2020-01-01; read in the text, 2026-01-31)", age.Because[0].Text)
	assert.Contains(t, byRule["design/regions.known"].Text, "no rules for the region xx-yy, only for xx")
	require.Len(t, r.Regions, 1)
	assert.Equal(t, 1, r.Regions[0].Rules)

	elsewhere := lib.Judge(d, engine.Options{Regions: []string{"zz"}})
	for _, f := range elsewhere.Findings {
		assert.NotEqual(t, "regions/xx.age", f.Rule)
	}
}

func TestRefusedRegions(t *testing.T) {
	for name, x := range map[string]struct{ from, to, want string }{
		"no consequence":       {"    consequence: duty\n", "", "a rule of a region is a duty"},
		"no clause":            {", where: section 3", "", "names the clause"},
		"source without seen":  {`, seen: 2026-01-31`, "", `lacks "seen": the day it was read`},
		"unknown parent":       {"title: Country, dec", "within: eu, title: Country, dec", "lies in eu, which no pack declares"},
		"in itself":            {"title: Country, dec", "within: xx, title: Country, dec", "lies in itself"},
		"bad name":             {"name: xx", "name: X_X", "lower-case letters"},
		"foreign region named": {"region: {name: xx", "regions: [xz]\nregion: {name: xx", `no pack declares the region "xz"`},
		"bad day":              {"today: 2024-03-01", "today: 2024", ""},
	} {
		t.Run(name, func(t *testing.T) {
			changed := strings.Replace(regionPack, x.from, x.to, 1)
			require.NotEqual(t, regionPack, changed)
			lib, err := regional(t, changed)
			if x.want != "" {
				require.Error(t, err)
				assert.Contains(t, err.Error(), x.want)
				return
			}
			require.NoError(t, err)
			var told []string
			for _, r := range proof.Cases(lib) {
				told = append(told, r.Problem)
			}
			assert.Contains(t, strings.Join(told, "\n"), "today is a day such as 2026-01-31")
		})
	}
}

const townPack = `pack: regions/xx-yy
title: Town
edition: 1
part: Rules of Town
region: {name: xx-yy, title: Town, decided_by: first use, confirm: Confirm with the town.}
sources:
  bylaw: {kind: law, title: The Bylaw, edition: "2020-01-01", seen: 2026-01-31, read: text}
rules:
  - {id: carried, title: t, danger: none, due: planned, consequence: duty, instead_of: [regions/xx.age], about: design.papers, must: design.papers.carried, say: s, mend: m, because: [{source: bylaw, where: section 1}]}
`

func withTown(t *testing.T, pack string) (*engine.Library, error) {
	t.Helper()
	return engine.Load(fstest.MapFS{"base.yaml": {Data: []byte(basePack)}, "xx.yaml": {Data: []byte(regionPack)}, "town.yaml": {Data: []byte(pack)}})
}

// A narrower region's rule takes the place of the wider one's, there and nowhere else.
func TestInsteadOf(t *testing.T) {
	lib, err := withTown(t, townPack)
	require.NoError(t, err)
	for region, want := range map[string][]string{"xx": {"regions/xx.age"}, "xx-yy": {"regions/xx-yy.carried"}} {
		var got []string
		for _, f := range lib.Judge(schema.Empty(), engine.Options{Regions: []string{region}}).Findings {
			if f.Region != "" {
				got = append(got, f.Rule)
			}
		}
		assert.Equal(t, want, got, region)
	}
	for wrong, want := range map[string]string{
		"regions/xx.agee": "did you mean regions/xx.age?", "base.most": "is no rule of a region", "regions/xx-yy.carried": "is not of a region that xx-yy lies in",
	} {
		_, err := withTown(t, strings.Replace(townPack, "[regions/xx.age]", "["+wrong+"]", 1))
		require.Error(t, err, wrong)
		assert.Contains(t, err.Error(), want)
	}
}
