package report_test

import (
	"bytes"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/rules"
)

func page(t *testing.T, lib *engine.Library, folder fs.FS) string {
	t.Helper()
	known, err := report.ReadFailures(folder)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, report.Reference(&b, lib, known))
	return b.String()
}

// The committed page is what the packs give now.
func TestReferencePageIsCurrent(t *testing.T) {
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	committed, err := os.ReadFile("../../rules/README.md")
	require.NoError(t, err)
	got := page(t, lib, rules.Files())
	require.True(t, string(committed) == got, "rules/README.md is out of date: run go generate ./rules")
	for _, p := range lib.Packs() {
		for i := range p.Rules {
			assert.Contains(t, got, "\n### "+p.Pack+"."+p.Rules[i].ID+"\n")
		}
	}
	assert.NotContains(t, got, "; due once the job is \n")
}

// A page of two rules, one in a region, holds their measure, figures, grounds and what they catch.
func TestReferencePage(t *testing.T) {
	lib, err := engine.Load(fstest.MapFS{
		"sources.yaml": {Data: []byte("sources:\n  book: {kind: handbook, title: A book, edition: a copy, seen: 2026-01-31, read: text}\n")},
		"a.yaml": {Data: []byte(`pack: shop/pump
title: The pump
edition: 2
part: Fuel pump
region: {name: xx, title: Country, decided_by: first use, confirm: Confirm with the office.}
limits:
  least: {is: 200 kPa, because: [{memory: "a figure"}]}
  idle: {is: 300 kPa, because: [{practice: "another"}]}
rules:
  - id: strong
    title: The pump is strong | enough
    danger: fire
    due: handed_over
    about: design.pump
    consequence: duty
    measure: design.pump.dead_head_pressure
    must: {at_least: limit.least, at_most: 900 kPa}
    should: {at_least: limit.idle}
    say: It makes {design.pump.dead_head_pressure}.
    mend: Change it.
    because: [{source: book, where: p. 3}]
    covers: [FM002]
  - id: isolated
    title: The pump is isolated
    danger: none
    due: built
    about: design.pump
    consequence: advice
    confirm: Ask the shop
    applies: design.pump.place == 'frame_rail'
    should: design.pump.isolated
    say: It is not.
    mend: Isolate it.
    because: [{practice: "so it is done"}]
`)},
	})
	require.NoError(t, err)
	got := page(t, lib, failuresIn("FM001\tnobody sees it\tit is dark\nFM002\tweak pump\n"))
	for _, want := range []string{
		"1 pack, 2 rules, 0 cases",
		"| fire | 1 |", "| handed over | 1 |", "| common practice | 2 | 1 |", "| handbook | 1 | 0 |",
		"| [shop/pump](#shoppump) | The pump | 2 |",
		"The pump. Edition 2; findings are listed under Fuel pump. Only in xx.\n\nRegion `xx`, Country: what holds is decided by first use. Confirm with the office.\n",
		"### shop/pump.strong\n\nThe pump is strong \\| enough.\n\n- At stake: fire; due once the job is handed over\n- In its region: a duty\n",
		"- Must: `design.pump.dead_head_pressure` at least `limit.least` and at most `900 kPa`\n",
		"- Should: `design.pump.dead_head_pressure` at least `limit.idle`\n",
		"- Limits: `limit.least` is 200 kPa; `limit.idle` is 300 kPa\n",
		"- In its region: advice\n- Confirm: Ask the shop.\n",
		"- Why: A book, p. 3 (a copy; read in the text, 2026-01-31) (handbook)\n- Why: a figure (from memory)\n",
		"- Catches: weak pump (FM002)\n",
		"- Applies when `design.pump.place == 'frame_rail'`\n- Should: `design.pump.isolated`\n",
		"| FM001 | nobody sees it | nothing: it is dark |\n| FM002 | weak pump | shop/pump.strong |\n",
	} {
		assert.Contains(t, got, want)
	}
	assert.Equal(t, 1, strings.Count(got, "- Limits:"), "the second rule names no limit")
}

// failuresIn is a folder with a list of known failures.
func failuresIn(text string) fs.FS {
	return fstest.MapFS{"failures.txt": {Data: []byte(text)}}
}

// Each folder adds its own known failures, and one without the list adds none.
func TestReadFailuresOfFolders(t *testing.T) {
	got, err := report.ReadFailures(failuresIn("FM001\tthe pump is weak\r\n"), fstest.MapFS{}, failuresIn("S1\tthe bench was wet\tno design shows it\n"))
	require.NoError(t, err)
	assert.Equal(t, []report.Failure{{ID: "FM001", Words: "the pump is weak"}, {ID: "S1", Words: "the bench was wet", Unseen: "no design shows it"}}, got)
	assert.Equal(t, []string{"the bench was wet (S1)", "FM009"}, report.FailureWords(got, []string{"S1", "FM009"}))
}

func TestReadFailuresRefuses(t *testing.T) {
	for name, text := range map[string]string{
		"no words":         "FM001\n",
		"empty number":     "\twords\n",
		"empty reason":     "FM001\twords\t\n",
		"too many cells":   "FM001\twords\treason\tmore\n",
		"one number twice": "FM001\twords\nFM001\tother\n",
		"nothing":          "",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := report.ReadFailures(failuresIn(text))
			assert.Error(t, err)
		})
	}
}
