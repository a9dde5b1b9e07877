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

// Every rule of the library has the sentence of its pass; for packs of others it is optional.
func TestRulesHaveTheSentenceOfTheirPass(t *testing.T) {
	looked := 0
	for _, p := range library(t).Packs() {
		for _, r := range p.Rules {
			looked++
			assert.NotEmpty(t, r.Met, "%s.%s has no met: the sentence of its pass", p.Pack, r.ID)
			assert.NotEqual(t, r.Say, r.Met, "%s.%s says the same when it is met and when it is not", p.Pack, r.ID)
		}
	}
	require.Greater(t, looked, 300)
}

// What is said to people holds no word as only a design file writes it; a placeholder may name the fact.
func TestRawWordsAreRefused(t *testing.T) {
	ok := packWith("must: design.pump.guarded", `met: "The pump is {design.pump.place}."`, because)
	_, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(ok)}})
	require.NoError(t, err)
	for key, change := range map[string][2]string{
		"title": {"title: t\n", "title: the pump sits in_tank\n"},
		"say":   {"say: s\n", "say: The pump sits in_tank.\n"},
		"met":   {`met: "The pump is`, `met: "By pump.stop_control the pump is`},
		"mend":  {"mend: Do it.", "mend: [{when: design.pump.guarded, text: Correct pump.stop_control.}, {text: Do it.}]"},
	} {
		text := strings.Replace(ok, change[0], change[1], 1)
		require.NotEqual(t, ok, text)
		assert.Contains(t, strings.Join(problems(t, text), "\n"), "is how a design file writes it", key)
	}
}

// A piece without a name is said by its kind, or by its place in the list.
func TestANamelessPieceIsSaidByItsKind(t *testing.T) {
	pack := strings.Replace(packWith("each: {run: design.feed.runs}", "must: run.guarded", because), "    about: design.pump\n", "", 1)
	pack = strings.Replace(pack, "say: s", `say: "{run.name} lies open, {run.mark}."`, 1)
	lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(pack)}})
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nfeed: {runs: [{name: long hose, guarded: false}, {guarded: false}, {kind: tube, guarded: false}]}\n"))
	require.NoError(t, err)
	var said []string
	for _, f := range lib.Judge(d, engine.Options{}).Findings {
		said = append(said, f.Text)
	}
	assert.ElementsMatch(t, []string{"long hose lies open, (not known).", "No. 2 lies open, (not known).", "tube lies open, (not known)."}, said)
}
