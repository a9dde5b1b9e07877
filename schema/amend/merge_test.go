package amend_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/amend"
)

func TestMerge(t *testing.T) {
	const base = "plumbline: 1\n# the pump\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n"
	for name, c := range map[string]struct{ mine, theirs, want, clash string }{
		"different facts of a part": {
			mine:   "plumbline: 1\npump: {place: in_tank, rated_flow: 340 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			theirs: "plumbline: 1\n# mine now\npump: {place: frame_rail, rated_flow: 255 L/h}  # moved\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			want:   "plumbline: 1\n# mine now\npump: {place: frame_rail, rated_flow: 340 L/h}  # moved\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n"},
		"an item each": {
			mine:   "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\n    - name: m\n      bore: 1 mm\nlist: [x, y]\n",
			theirs: "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: t\n      bore: 2 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			want:   "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: t\n      bore: 2 mm\n    - name: b\n      bore: 8 mm\n    - name: m\n      bore: 1 mm\nlist: [x, y]\n"},
		"the same change": {
			mine:   "plumbline: 1\npump: {place: in_tank, rated_flow: 340 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			theirs: "plumbline: 1\npump:\n  place: in_tank\n  rated_flow: 340 L/h\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			want:   "plumbline: 1\npump:\n  place: in_tank\n  rated_flow: 340 L/h\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n"},
		"the same fact otherwise": {
			mine:   "plumbline: 1\npump: {place: in_tank, rated_flow: 340 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			theirs: "plumbline: 1\npump: {place: in_tank, rated_flow: 190 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			clash:  "pump.rated_flow"},
		"a fact of what is gone": {
			mine:   "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 9 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			theirs: "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: b\n      bore: 8 mm\nlist: [x, y]\n",
			clash:  "feed.runs[a]"},
		"two new parts become one": {
			mine:   base + "relay:\n  rating: 30 A\n",
			theirs: base + "relay: {kind: x} # r\n",
			want:   base + "relay: {kind: x, rating: 30 A} # r\n"},
		"a list without names": {
			mine:   "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [x, y, m]\n",
			theirs: "plumbline: 1\npump: {place: in_tank, rated_flow: 255 L/h}\nfeed:\n  runs:\n    - name: a\n      bore: 8 mm\n    - name: b\n      bore: 8 mm\nlist: [t, x, y]\n",
			clash:  "list"},
	} {
		t.Run(name, func(t *testing.T) {
			got, clashes, err := amend.Merge("f.yaml", []byte(base), []byte(c.mine), []byte(c.theirs))
			require.NoError(t, err)
			if c.clash != "" {
				require.Len(t, clashes, 1)
				assert.Equal(t, c.clash, clashes[0].Where)
				assert.Nil(t, got)
				return
			}
			require.Empty(t, clashes)
			assert.Equal(t, c.want, string(got))
		})
	}
	_, _, err := amend.Merge("f.yaml", []byte(base), []byte("a: 1\na: 2\n"), []byte(base))
	assert.Error(t, err)
}
