package schema

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const halfFeed = "plumbline: 1\nfeed: {runs: [{name: hose, kind: hose}]}\ncircuits: [{name: pump}]\nreturn_line: {runs: none}\ngauges: none\n"

// openOf are the lists of a design that are open, by their names.
func openOf(t *testing.T, text string) []string {
	d, err := Load("d.yaml", []byte(text))
	require.NoError(t, err)
	out := []string{}
	for _, l := range OpenLists() {
		if _, open := d.OpenListAt(l.Path); open {
			out = append(out, l.Name)
		}
	}
	return out
}

// A list is open when something of it is named and the design does not say that this is all; one of nothing is complete.
func TestListsAreOpenUntilSaidComplete(t *testing.T) {
	for complete, want := range map[string][]string{
		"":                                {"feed", "circuits"},
		"complete: all\n":                 {},
		"complete: [all]\n":               {},
		"complete: none\n":                {"feed", "circuits"},
		"complete: []\n":                  {"feed", "circuits"},
		"complete: [feed]\n":              {"circuits"},
		"complete: [circuits, gauges]\n":  {"feed"},
		"complete: [feed, circuits]\n":    {},
		"complete: [return_line, feed]\n": {"circuits"},
	} {
		assert.Equal(t, want, openOf(t, halfFeed+complete), complete)
	}
	d, err := Load("d.yaml", []byte(halfFeed))
	require.NoError(t, err)
	assert.False(t, d.Feed.Runs.Known(), "the feed is not known in all")
	assert.True(t, d.Feed.Runs.Open())
	assert.True(t, d.ReturnLine.Part.Runs.Known(), "a line of no pieces is complete")
	assert.False(t, d.Grounds.Known() || d.Grounds.Open(), "nobody spoke of it")
}

// What is wrong in complete is refused at its place, with the name that is meant.
func TestWrongNamesOfLists(t *testing.T) {
	for text, want := range map[string]string{
		"complete: [fed]":        "did you mean feed?",
		"complete: [returnline]": "did you mean return_line?",
		"complete: feed":         "a list is expected",
		"complete: [tank]":       "is not one of all, suction, feed",
		"complete: true":         "a list is expected",
	} {
		_, err := Load("d.yaml", []byte("plumbline: 1\n"+text+"\n"))
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want, text)
		assert.Contains(t, err.Error(), "d.yaml:2:", text)
	}
}

// What a template says to be all stays all, with what the design adds to it; a design that says itself which lists are
// complete says it for all of them.
func TestCompleteIsTakenFromATemplate(t *testing.T) {
	for design, want := range map[string][2]bool{
		"":                        {false, true},
		"complete: none\n":        {true, true},
		"complete: all\n":         {false, false},
		"complete: [circuits]\n":  {true, false},
		"leave_out: [complete]\n": {true, true},
	} {
		d, err := LoadBased("d.yaml", []byte("plumbline: 1\nbased_on: t.yaml\nfeed: {runs: [{name: filter, kind: filter}]}\n"+design),
			func(string) ([]byte, error) { return []byte(halfFeed + "complete: [feed]\n"), nil })
		require.NoError(t, err, design)
		assert.Len(t, d.Feed.Runs.Items, 2)
		assert.Equal(t, want, [2]bool{d.Feed.Runs.Open(), d.Circuits.Open()}, design)
	}
}

// Each open list is a list of parts with a name of its own, and `complete` takes these names.
func TestOpenListsAreListsOfTheDesign(t *testing.T) {
	names := []string{WholeWord}
	for _, l := range OpenLists() {
		field := Describe(l.Path).Field
		assert.Equal(t, KindList, field.Kind, l.Path)
		assert.NotEmpty(t, field.Part, l.Path)
		assert.NotEmpty(t, l.Whole, l.Path)
		assert.True(t, l.Path == rootPath+"."+l.Name || l.Path == rootPath+"."+l.Name+".runs", "%s is named by its own path", l.Path)
		names = append(names, l.Name)
	}
	assert.Equal(t, Describe("design.complete").Words, names)
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(names))), len(names))
}

// A design filled with usual parts holds all there is of the lists they fill; the others stay open.
func TestFillingCompletesAList(t *testing.T) {
	d, err := Load("d.yaml", []byte(halfFeed))
	require.NoError(t, err)
	usual := Empty()
	usual.Feed.Runs = ListOf(Run{Kind: Stated[Word]("tube")})
	out, _ := d.Fill([]*Design{usual}, func(string, any, any) bool { return false })
	assert.True(t, out.Feed.Runs.Known())
	assert.Len(t, out.Feed.Runs.Items, 2)
	assert.True(t, out.Circuits.Open())
	assert.True(t, d.Feed.Runs.Open(), "the design itself stays as it was")
	assert.True(t, d.Closed().Circuits.Known())
}
