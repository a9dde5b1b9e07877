package engine_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// A region with a duty that is a should, a law's must, a must that rests on practice, and a must on a law for everywhere.
const lawPacks = `pack: regions/xx
title: A country
edition: 1
part: Rules of a country
region: {name: xx, title: A country, decided_by: d, confirm: c, without: {tampering: not read}}
sources:
  act: {kind: law, title: An act, edition: "1970", seen: 2026-01-31, read: text}
limits:
  kept: {is: 500 kPa, because: [{practice: p}]}
rules:
  - {id: duty, title: t, danger: none, due: planned, consequence: duty, about: design.regulator, should: design.regulator.setting < kPa(400), say: s, met: m, mend: m, because: [{source: act, where: "1"}]}
  - {id: tested, title: t, danger: none, due: planned, consequence: inspection, about: design.regulator, must: design.regulator.setting < limit.kept, say: s, met: m, mend: m, because: [{source: act, where: "2"}]}
  - {id: custom, title: t, danger: none, due: planned, consequence: inspection, about: design.regulator, must: design.regulator.setting < kPa(401), say: s, met: m, mend: m, because: [{practice: p}]}
`

const everywhere = `pack: base
title: Base
edition: 1
part: Fuel
sources:
  code: {kind: law, title: A code, edition: "1970", seen: 2026-01-31, read: text, in: [xx]}
rules:
  - {id: coded, title: t, danger: none, due: planned, about: design.regulator, must: design.regulator.setting < kPa(402), say: s, met: m, mend: m, because: [{source: code}]}
`

func lawLibrary(t *testing.T, local ...string) (*engine.Library, error) {
	t.Helper()
	folders := fstest.MapFS{}
	for i, text := range local {
		folders[fmt.Sprintf("local%d.yaml", i)] = &fstest.MapFile{Data: []byte(text)}
	}
	library := fstest.MapFS{"xx.yaml": {Data: []byte(lawPacks)}, "base.yaml": {Data: []byte(everywhere)}}
	if len(local) == 0 {
		return engine.Load(library)
	}
	return engine.Load(library, folders)
}

func judgedWith(t *testing.T, lib *engine.Library, design string) []engine.Finding {
	t.Helper()
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nregions: [xx]\n"+design))
	require.NoError(t, err)
	return lib.Judge(d, engine.Options{Today: time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC)}).Findings
}

// A concession is a permission of the shop's (ISO 9000): what a law demands is not the shop's to permit.
func TestALawIsNotConceded(t *testing.T) {
	lib, err := lawLibrary(t)
	require.NoError(t, err)
	for name, conceded := range map[string]bool{"regions/xx.duty": false, "regions/xx.tested": false, "base.coded": false, "regions/xx.custom": true} {
		design := "regulator: {setting: 600 kPa}\nconcessions: [{rule: " + name + ", reason: weighed on the bench, granted_by: workshop lead, until: 2027-03-31}]\n"
		var told []string
		for _, f := range judgedWith(t, lib, design) {
			if f.Rule == name {
				assert.Equal(t, conceded, f.Conceded != nil, name)
			}
			if f.Rule == "design/concessions.valid" {
				told = append(told, f.Text)
			}
		}
		if conceded {
			assert.Empty(t, told, name)
		} else {
			assert.Equal(t, []string{"What the law demands cannot be conceded: " + name + "."}, told)
		}
	}
}

// What is conceded names who answers for it, says why, and is looked at again within two years.
func TestAConcessionSaysSomething(t *testing.T) {
	lib, err := lawLibrary(t)
	require.NoError(t, err)
	for _, x := range []struct{ reason, by, until, want string }{
		{"weighed on the bench", "workshop lead", "2028-11-27", ""},
		{"weighed on the bench", "kb", "2026-11-27", ""},
		{"weighed on the bench", "workshop lead", "2028-11-28", "longer than 2 years"},
		{"weighed on the bench", "workshop lead", "2999-12-31", "longer than 2 years"},
		{"weighed on the bench", "workshop lead", "2026-11-26", "ended on"},
		{".", "workshop lead", "2027-03-31", "says nothing"},
		{"ok", "workshop lead", "2027-03-31", "says nothing"},
		{"because the customer wants it", "workshop lead", "2027-03-31", "says nothing"},
		{"bench bench bench", "workshop lead", "2027-03-31", "says nothing"},
		{"12 34", "workshop lead", "2027-03-31", "says nothing"},
		{"weighed on the bench", ".", "2027-03-31", "does not say who granted it"},
		{"weighed on the bench", "the customer", "2027-03-31", "does not say who granted it"},
		{"weighed on the bench", "nobody", "2027-03-31", "does not say who granted it"},
	} {
		design := fmt.Sprintf("regulator: {setting: 600 kPa}\nconcessions: [{rule: regions/xx.custom, reason: %q, granted_by: %q, until: %s}]\n", x.reason, x.by, x.until)
		told := ""
		for _, f := range judgedWith(t, lib, design) {
			if f.Rule == "regions/xx.custom" {
				assert.Equal(t, x.want == "", f.Conceded != nil, "%v", x)
			}
			if f.Rule == "design/concessions.valid" {
				told += f.Text
			}
		}
		if x.want == "" {
			assert.Empty(t, told, "%v", x)
		}
		assert.Contains(t, told, x.want, "%v", x)
	}
}

// A shop's pack neither loosens a law nor takes its place with something of its own.
func TestALawIsNotLoosened(t *testing.T) {
	const head = "pack: shop/house\ntitle: House\nedition: 1\npart: Shop\n"
	for change, want := range map[string]string{
		"loosen: [{rule: regions/xx.duty, reason: customers ask}]":                      "says what the law demands",
		"loosen: [{rule: regions/xx.tested, reason: customers ask}]":                    "says what the law demands",
		"loosen: [{rule: base.coded, reason: customers ask}]":                           "says what the law demands",
		"loosen: [{limit: regions/xx.kept, is: 900 kPa, reason: customers ask}]":        "regions/xx.tested says what the law demands",
		"loosen: [{rule: regions/xx.custom, reason: the station here does not ask it}]": "",
	} {
		_, err := lawLibrary(t, head+change+"\n")
		if want == "" {
			assert.NoError(t, err, change)
		} else {
			assert.ErrorContains(t, err, want, change)
		}
	}
	const yard = "pack: regions/xx-yard\ntitle: A yard\nedition: 1\npart: Rules of a yard\nregion: {name: xx-yard, title: A yard, decided_by: d, confirm: c, without: {tampering: not read}}\n" +
		"SOURCESrules:\n  - {id: own, title: t, danger: none, due: planned, consequence: CONSEQUENCE, instead_of: [regions/xx.NAME], about: design.regulator, must: design.regulator.setting < kPa(900), say: s, met: m, mend: m, because: [REASON]}\n"
	for _, x := range []struct{ name, consequence, reason, want string }{
		{"duty", "advice", "{practice: p}", "only a duty that rests on a law takes its place"},
		{"tested", "inspection", "{practice: p}", "only a duty that rests on a law takes its place"},
		{"tested", "inspection", "{source: bylaw, where: \"1\"}", ""},
		{"custom", "inspection", "{practice: p}", ""},
	} {
		sources := ""
		if strings.Contains(x.reason, "bylaw") {
			sources = "sources:\n  bylaw: {kind: law, title: A bylaw, edition: \"1970\", seen: 2026-01-31, read: text}\n"
		}
		_, err := lawLibrary(t, strings.NewReplacer("SOURCES", sources, "CONSEQUENCE", x.consequence, "NAME", x.name, "REASON", x.reason).Replace(yard))
		if x.want == "" {
			assert.NoError(t, err, "%v", x)
		} else {
			assert.ErrorContains(t, err, x.want, "%v", x)
		}
	}
}

// What a house is used to settles no law either: the fact has to be stated.
func TestALocalAssumptionSettlesNoLaw(t *testing.T) {
	lib, err := lawLibrary(t, "pack: shop/house\ntitle: House\nedition: 1\npart: Shop\nassumptions: [{fact: design.regulator.setting, is: 300 kPa, because: [{practice: our usual one}]}]\n")
	require.NoError(t, err)
	for _, f := range judgedWith(t, lib, "") {
		switch f.Rule {
		case "regions/xx.duty", "regions/xx.tested", "base.coded":
			assert.Equal(t, engine.Open, f.Outcome, f.Rule)
		case "regions/xx.custom":
			assert.Equal(t, engine.Pass, f.Outcome, f.Rule)
		}
	}
}
