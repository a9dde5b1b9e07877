package reference_test

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/reference"
	"plumbline/engine/report"
	"plumbline/rules"
)

func pages(t *testing.T, lib *engine.Library, folder fs.FS) map[string]string {
	t.Helper()
	known, err := report.ReadFailures(folder)
	require.NoError(t, err)
	out := map[string]string{}
	for name, text := range reference.Pages(lib, known) {
		out[name] = string(text)
	}
	return out
}

// mostOnAPage is what a phone shows without waiting, in bytes.
const mostOnAPage = 80_000

// The committed pages are what the packs give now: none is missing, none too many, none is long; every rule has its
// heading and every link leads somewhere.
func TestPagesAreCurrent(t *testing.T) {
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	got := pages(t, lib, rules.Files())
	committed := map[string]bool{}
	root := os.DirFS("../../rules")
	require.NoError(t, fs.WalkDir(root, reference.Folder, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			committed[name] = true
		}
		return err
	}))
	committed[reference.Index] = true
	for name, text := range got {
		assert.Less(t, len(text), mostOnAPage, name)
		data, err := fs.ReadFile(root, name)
		if assert.NoError(t, err) && string(data) != text {
			t.Errorf("rules/%s is out of date: run go generate ./rules", name)
		}
		delete(committed, name)
	}
	assert.Empty(t, committed, "pages that are no more: run go generate ./rules")
	for _, p := range lib.Packs() {
		for i := range p.Rules {
			assert.Contains(t, got[path.Join(reference.Folder, "packs", strings.ReplaceAll(p.Pack, "/", "-")+".md")], "\n## "+p.Rules[i].ID+"\n")
		}
	}
	linksLead(t, got)
}

var (
	linkPattern    = regexp.MustCompile(`[^\\]\]\(([^)]+)\)`)
	headingPattern = regexp.MustCompile(`(?m)^#+ (.*)$`)
	// markPattern is what the common renderers of Markdown leave out of the anchor of a heading.
	markPattern = regexp.MustCompile(`[^a-z0-9 _-]`)
)

// linksLead holds every link of the pages to a heading of one of them. The form of an anchor is the one the common
// hosts of repositories give headings: small letters, marks left out, blanks as hyphens.
func linksLead(t *testing.T, pages map[string]string) {
	t.Helper()
	headings := map[string]map[string]bool{}
	for name, text := range pages {
		headings[name] = map[string]bool{}
		for _, m := range headingPattern.FindAllStringSubmatch(text, -1) {
			anchor := strings.ReplaceAll(markPattern.ReplaceAllString(strings.ToLower(m[1]), ""), " ", "-")
			assert.False(t, headings[name][anchor], "%s has two headings %s", name, m[1])
			headings[name][anchor] = true
		}
	}
	n := 0
	for name, text := range pages {
		for _, m := range linkPattern.FindAllStringSubmatch(text, -1) {
			file, anchor, _ := strings.Cut(m[1], "#")
			to := name
			if file != "" {
				to = path.Join(path.Dir(name), file)
			}
			n++
			if assert.Contains(t, headings, to, "%s links to %s", name, m[1]) && anchor != "" {
				assert.True(t, headings[to][anchor], "%s links to %s", name, m[1])
			}
		}
	}
	assert.Positive(t, n)
}

// The pages of two rules, one in a region, hold their measure, figures, grounds and what they catch.
func TestPagesOfASmallLibrary(t *testing.T) {
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
	got := pages(t, lib, fstest.MapFS{"failures.txt": {Data: []byte("FM001\tnobody sees it\tit is dark\nFM002\tweak pump\n")}})
	for name, wants := range map[string][]string{
		reference.Index: {"Packs: 1; rules: 2; cases that prove them: 0.", "- Fuel pump: [shop/pump](reference/packs/shop-pump.md) (2)", "- [fire](reference/danger-fire.md): 1", "- [handed over](reference/stage-handed_over.md): 1",
			"| common practice | 2 | 1 |", "| handbook | 1 | 0 |"},
		"reference/packs/shop-pump.md": {"Edition 2, listed under Fuel pump. Only in xx.", "Region `xx`, Country: what holds is decided by first use. Confirm with the office.",
			"## strong\n\nThe pump is strong \\| enough\n", "- At stake: fire\n- Stops the job once it is: handed over\n", "- Measures: `design.pump.dead_head_pressure`\n",
			"- Must be:\n  - `at least limit.least`\n  - `at most 900 kPa`\n", "- Should be: `at least limit.idle`\n", "limit.least is 200 kPa: a figure (from memory)", "- Confirm: Ask the shop\n",
			"A book, p. 3 (handbook)", "- Catches: weak pump (FM002)\n", "- Applies when: `design.pump.place == 'frame_rail'`\n"},
		"reference/failures.md":          {"- FM001, nobody sees it: no rule: it is dark\n", "- FM002, weak pump: [shop/pump.strong](packs/shop-pump.md#strong)\n"},
		"reference/facts/pump.md":        {"## design.pump.isolated\n", "[shop/pump.isolated](../packs/shop-pump.md#isolated)"},
		"reference/danger-fire.md":       {"- [strong](packs/shop-pump.md#strong): The pump is strong"},
		"reference/language/guards.md":   {"```yaml\npack: house/guards\n"},
		"reference/values/design.md":     {"## fuel\\_demand\n", "- Formula: "},
		"reference/stage-built.md":       {"- [isolated](packs/shop-pump.md#isolated)"},
		"reference/language/settings.md": {"- `rules`: A list of folders with packs"},
	} {
		for _, want := range wants {
			assert.Contains(t, got[name], want, name)
		}
	}
	linksLead(t, got)
}
