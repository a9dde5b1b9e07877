package editor

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

const lift = `pack: shop/lift
title: What our lift asks of a vehicle
edition: 1
part: Work
facts:
  clearance: {is: length, label: gap at the arms, means: Least gap at the arms., range: 0 mm..500 mm, example: 40 mm, where: tape}
  hoist: {is: word, label: hoist, means: What lifts it., words: [two_post, pit], example: pit, where: eye}
rules:
  - {id: gap, title: The arms clear the lines, danger: fire, due: built, about: design.own.lift, applies: design.own.lift.hoist != 'pit',
     measure: design.own.lift.clearance, must: {at_least: 25 mm}, say: Too near., met: Clear., mend: Move the arms., because: [{practice: house rule}]}
`

// Facts that a shop declares are completed and told as ours are.
func TestFactsOfAShopAreCompletedAndTold(t *testing.T) {
	lib, err := engine.Load(fstest.MapFS{"lift.yaml": {Data: []byte(lift)}})
	require.NoError(t, err)
	shop := NewShop(lib, nil)
	for text, want := range map[string]string{
		"own:\n  li^":                            "lift: What our lift asks of a vehicle",
		"own:\n  lift:\n    hoist: pit\n    cl^": "clearance: Least gap at the arms.",
		"own:\n  lift:\n    hoist: t^":           "two_post: two post",
		"own:\n  lift:\n    clearance: ^":        "40 mm: ",
		"own:\n  lift:\n    clearance: 4^":       "mm: ",
		"own: {lift: {hoist: pit, clear^":        "clearance: Least gap at the arms.",
	} {
		before, _, _ := strings.Cut(text, "^")
		items := shop.Complete(Design, strings.Replace(text, "^", "", 1), len(before)).Items
		assert.True(t, slices.ContainsFunc(items, func(x Item) bool { return x.Label+": "+x.Doc == want }), "%s: %v", text, items)
	}
	text := "own: {lift: {clearance: 30 mm}}\n"
	hover := shop.Hover(Design, text, strings.Index(text, "clear")+2)
	require.NotNil(t, hover)
	assert.Contains(t, hover.Text, "Least gap at the arms.")
}
