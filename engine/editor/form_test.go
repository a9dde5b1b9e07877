package editor

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// The forms come from the committed JSON Schemas, and where expressions stand is told by keys that packs have.
func TestFormsAreThoseOfPacksAndSettings(t *testing.T) {
	keys := map[string]bool{}
	for _, f := range formOf(Pack).Defs {
		for key := range f.Properties {
			keys[key] = true
		}
		for _, p := range f.Properties {
			for _, way := range formOf(Pack).ways(p) {
				for key := range way.Properties {
					keys[key] = true
				}
				if way.Items != nil {
					for key := range way.Items.Properties {
						keys[key] = true
					}
				}
			}
		}
	}
	for _, key := range slices.Concat(expressions, sentences) {
		assert.True(t, keys[key], "packs have no %s", key)
	}
	at := formOf(Settings).at([]schema.Step{{Key: "units"}})
	require.Len(t, at, 1)
	assert.Equal(t, []any{"us", "metric", "both"}, at[0].Enum)
}

// What is asked in a hostile text is answered soon: nothing grows with the length of a chain of names.
func TestHostileTextsAreAnswered(t *testing.T) {
	shop := NewShop(shipped.Library(t), nil)
	long := "pack: a/b\nrules:\n  - id: x\n    each: {x: design.circuits}\n    must: "
	for range 900 {
		long += "x.at."
	}
	assert.Empty(t, shop.Complete(Pack, long, len(long)).Items)
	for _, text := range []string{"pack: a/b\nrules: 3\n", "pack: [", "pack: a/b\nrules:\n  - {each: [1], let: {a: {b: c}}, must: ", "pack: a/b\nlimits: {x: {is: }}\nrules: [{must: limit."} {
		for at := range len(text) + 1 {
			shop.Complete(Pack, text, at)
			shop.Hover(Pack, text, at)
			shop.Complete(Settings, text, at)
			shop.Hover(Design, text, at)
		}
	}
}
