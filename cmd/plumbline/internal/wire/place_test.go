package wire

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/schema"
)

// Positions count units of UTF-16, as the specification of the protocol shows it (3.17, "Text Documents"): in a𐐀b the
// character b stands at 3.
func TestPositions(t *testing.T) {
	text := "a\U00010400b\r\nä: x\n\rlast"
	for _, x := range []struct {
		at     position
		offset int
	}{
		{position{0, 0}, 0}, {position{0, 1}, 1}, {position{0, 3}, 5}, {position{0, 4}, 6}, {position{0, 99}, 6},
		{position{1, 1}, 10}, {position{2, 0}, 14}, {position{3, 4}, 19}, {position{9, 0}, 19},
	} {
		assert.Equal(t, x.offset, offsetOf(text, x.at), "%v", x.at)
		if x.at.Character < 99 && x.at.Line < 9 {
			assert.Equal(t, x.at, positionOf(text, x.offset), "%v", x.offset)
		}
	}
	assert.Equal(t, 0, offsetOf(text, position{-3, -3}))
	list := lines(text)
	assert.Equal(t, []string{"a\U00010400b", "ä: x", "", "last"}, list)
	assert.Equal(t, span{position{0, 3}, position{0, 4}}, spanOf(list, schema.Place{Line: 1, Column: 3}, ""))
	assert.Equal(t, span{position{1, 3}, position{1, 4}}, spanOf(list, schema.Place{Line: 2, Column: 4}, "x"))
	assert.Equal(t, span{position{0, 0}, position{0, 3 + 1}}, spanOf(list, schema.Place{}, ""), "nowhere is the beginning")
	assert.Equal(t, span{position{3, 4}, position{3, 4}}, spanOf(list, schema.Place{Line: 80, Column: 90}, "z"))
}

func TestFilesAndTheirNames(t *testing.T) {
	assert.Equal(t, "/shop/a b.yaml", pathOf("file:///shop/a%20b.yaml"))
	assert.Equal(t, "untitled:One", pathOf("untitled:One"))
	assert.Equal(t, "file:///shop/a%20b.yaml", uriOf("/shop/a b.yaml"))
}
