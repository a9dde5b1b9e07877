package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The editions of the library follow from what its packs mean, and no rule went without a word.
func TestEditionsFollowFromTheLedger(t *testing.T) {
	released, err := readLedger(filepath.Join("..", ledgerFile))
	require.NoError(t, err)
	require.Positive(t, released.Edition)
	now, err := readLibrary(os.DirFS(".."))
	require.NoError(t, err)
	require.Greater(t, len(now.Packs), 50)
	replaced, err := readReplaced(filepath.Join("..", replacedFile))
	require.NoError(t, err)
	changes := compare(released, now)
	assert.Empty(t, check(released, now, changes, replaced))
	log, err := os.ReadFile(filepath.Join("..", changesFile))
	require.NoError(t, err)
	assert.Equal(t, listed(string(log), summary(released, now, changes, replaced)), string(log), "run go generate ./rules")
	assert.Regexp(t, block, string(log))
}

const sources = "edition: 1\nsources: {}\n"

const pump = `pack: fuel/pump
title: Pump
edition: 1 # raised by the command
part: Fuel
limits:
  least: {is: 100 L/h, because: [{practice: p}]}
rules:
  - id: flow
    title: The pump gives enough
    danger: fire
    applies: >-
      design.pump.place
      == 'in_tank'
    must: design.pump.rated_flow > limit.least
    say: "It gives {design.pump.rated_flow}."
    because: [{practice: p}]
  - {id: relay, title: A relay, must: design.pump.relay}
`

// shelf is a rules folder that was released once.
func shelf(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"sources.yaml": sources, "fuel/pump.yaml": pump, replacedFile: "# none yet\n", changesFile: "# Changes\n\n<!-- changes -->\n<!-- end of changes -->\n"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	require.NoError(t, run(dir, "2026-11-27"))
	require.NoError(t, run(dir, ""))
	return dir
}

func edit(t *testing.T, dir, name, old, text string) {
	t.Helper()
	file := filepath.Join(dir, name)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Contains(t, string(data), old)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(data), old, text, 1)), 0o644))
}

func read(t *testing.T, dir, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, name))
	require.NoError(t, err)
	return string(data)
}

// What is said, cited or proved may change as it likes, and so may the layout; what decides raises the edition.
func TestWhatIsAChangeOfMeaning(t *testing.T) {
	for name, x := range map[string]struct {
		old, text string
		raised    bool
	}{
		"title":            {"title: The pump gives enough", "title: Enough", false},
		"sentence":         {"It gives {", "It delivers {", false},
		"ground":           {"is: 100 L/h, because: [{practice: p}]", "is: 100 L/h, because: [{memory: m}]", false},
		"layout":           {"\n      == 'in_tank'", " == 'in_tank'", false},
		"limit":            {"100 L/h", "101 L/h", true},
		"expression":       {"rated_flow > limit", "rated_flow >= limit", true},
		"danger":           {"danger: fire", "danger: burn", true},
		"key not yet made": {"danger: fire", "danger: fire\n    weight: 3", true},
	} {
		t.Run(name, func(t *testing.T) {
			dir := shelf(t)
			before := read(t, dir, changesFile)
			edit(t, dir, "fuel/pump.yaml", x.old, x.text)
			require.NoError(t, run(dir, ""))
			first := read(t, dir, "fuel/pump.yaml") + read(t, dir, "sources.yaml") + read(t, dir, changesFile)
			assert.Equal(t, x.raised, strings.Contains(first, "edition: 2 # raised"))
			assert.Equal(t, x.raised, strings.Contains(first, "edition: 2\nsources"))
			assert.Equal(t, x.raised, before != read(t, dir, changesFile))
			// Once is enough until the next release.
			require.NoError(t, run(dir, ""))
			assert.Equal(t, first, read(t, dir, "fuel/pump.yaml")+read(t, dir, "sources.yaml")+read(t, dir, changesFile))
			// Taken back, it was never raised.
			edit(t, dir, "fuel/pump.yaml", x.text, x.old)
			require.NoError(t, run(dir, ""))
			assert.Equal(t, pump, read(t, dir, "fuel/pump.yaml"))
			assert.Equal(t, before, read(t, dir, changesFile))
		})
	}
}

// By hand: an edition that is too low, or raised for nothing.
func TestEditionsAreHeldToTheLedger(t *testing.T) {
	problems := func(dir string) []string {
		released, err := readLedger(filepath.Join(dir, ledgerFile))
		require.NoError(t, err)
		now, err := readLibrary(os.DirFS(dir))
		require.NoError(t, err)
		replaced, err := readReplaced(filepath.Join(dir, replacedFile))
		require.NoError(t, err)
		return check(released, now, compare(released, now), replaced)
	}
	dir := shelf(t)
	assert.Empty(t, problems(dir))
	edit(t, dir, "fuel/pump.yaml", "edition: 1", "edition: 2")
	assert.Equal(t, []string{"fuel/pump must have edition 1, not 2: run go generate ./rules"}, problems(dir))
	edit(t, dir, "fuel/pump.yaml", "edition: 2", "edition: 1")
	edit(t, dir, "fuel/pump.yaml", "100 L/h", "99 L/h")
	assert.Equal(t, []string{"the library must have edition 2, not 1: run go generate ./rules", "fuel/pump must have edition 2, not 1: run go generate ./rules"}, problems(dir))
}

// A rule that goes leaves word of what took its place; a new one needs none.
func TestARuleThatGoes(t *testing.T) {
	dir := shelf(t)
	edit(t, dir, "fuel/pump.yaml", "id: relay", "id: relay-fitted")
	assert.EqualError(t, run(dir, ""), "fuel/pump.relay is gone: say in rules/replaced.txt what takes its place, and why")
	edit(t, dir, replacedFile, "# none yet\n", "fuel/pump.relay\tfuel/pump.relay-fited\tthe name says more\n")
	assert.EqualError(t, run(dir, ""), "rules/replaced.txt names fuel/pump.relay-fited, which is no rule")
	edit(t, dir, replacedFile, "fited", "fitted")
	require.NoError(t, run(dir, ""))
	assert.Contains(t, read(t, dir, changesFile), "- fuel/pump, edition 2: new rule relay-fitted; gone rule relay (now fuel/pump.relay-fitted, the name says more)\n")

	// The next release closes the list.
	require.NoError(t, run(dir, "2026-12-01"))
	log := read(t, dir, changesFile)
	assert.Contains(t, log, "<!-- changes -->\nNothing has changed its meaning since edition 2.\n<!-- end of changes -->\n\n## Edition 2, 2026-12-01\n\n- fuel/pump, edition 2: new")
	assert.Contains(t, log, "## Edition 1, 2026-11-27\n\nThe first: 1 packs.\n")
	require.NoError(t, run(dir, ""))
	assert.Equal(t, log, read(t, dir, changesFile))

	edit(t, dir, "fuel/pump.yaml", "id: relay-fitted", "id: relay")
	assert.ErrorContains(t, run(dir, ""), "rules/replaced.txt says that fuel/pump.relay is gone, but it is there")
	assert.ErrorContains(t, run(dir, "tomorrow"), "write the day of the release as 2026-11-30")
}
