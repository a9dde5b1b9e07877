package vocabulary

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Which way a condition or number goes when limit.x grows, by the arithmetic itself.
func TestLean(t *testing.T) {
	for text, want := range map[string]Lean{
		"limit.x":                                Up,
		"limit.y":                                Still,
		"design.a >= limit.x":                    Down,
		"design.a < limit.x || design.b":         Up,
		"!(design.a < limit.x)":                  Down,
		"!(design.a && design.b >= limit.x)":     Up,
		"design.a <= design.b * limit.x":         Up,
		"design.a / limit.x <= 2.0":              Up,
		"design.a - limit.x":                     Down,
		"-limit.x":                               Down,
		"design.c ? limit.x : kPa(3)":            Up,
		"limit.x > 1.0 ? kPa(3) : kPa(2)":        Both,
		"within(design.a, design.b, limit.x)":    Up,
		"within(design.a, limit.x, kPa(2))":      Both,
		"rise(limit.x, design.t)":                Down,
		"design.l.all(r, r.bore >= limit.x)":     Down,
		"design.l.exists(r, r.bore < limit.x)":   Up,
		"design.l.filter(r, r.a < limit.x) == 3": Both,
		"design.a >= limit.x && limit.x > 3.0":   Both,
		"table.t[design.w].limit >= limit.x":     Down,
		"kPa(3) < smaller(limit.x, design.a)":    Up,
	} {
		tree, err := ParseTree(text)
		require.NoError(t, err, text)
		got := tree.Lean(func(name string) Lean {
			if name == "limit.x" {
				return Up
			}
			return Still
		})
		assert.Equal(t, want, got, text)
	}
}
