package schema

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestPath(t *testing.T) {
	p := Path("design.feed.runs[2].bore")
	assert.Equal(t, "feed.runs[2].bore", p.Short())
	assert.Equal(t, Path("design.feed.runs[].bore"), p.Generic())
	assert.Equal(t, "feed", p.Section())
	assert.Equal(t, "circuits", Path("design.circuits[0].fuse").Section())
	assert.Equal(t, "bore", p.Key())
	assert.Equal(t, "runs", Path("design.feed.runs[2]").Key())
	assert.Equal(t, Path("design.feed.runs[2]"), p.Parent())
	assert.Equal(t, Path("design.feed.runs"), p.Parent().Parent())
	assert.Equal(t, Path("design.feed"), p.Parent().Parent().Parent())
	assert.Equal(t, Path(""), Path("design").Parent())
	assert.Equal(t, Path("design.feed.runs[2]"), p.Item())
	assert.Equal(t, Path(""), Path("design.pump.place").Item())
	assert.Equal(t, Path("design.feed.runs[2].length"), p.Sibling("length"))
	assert.Equal(t, []Step{{Key: "feed", Index: AnyItem}, {Key: "runs", Item: true, Index: 2}, {Key: "bore", Index: AnyItem}}, normal(p))
	assert.Equal(t, []Step{{Key: "runs", Item: true, Index: AnyItem}}, normal("design.runs[]"))
	for _, broken := range []Path{"design.runs[x]", "design.runs[-2].bore", "design.runs[1"} {
		assert.Equal(t, []Step{{Index: AnyItem}}, normal(broken), broken)
		assert.Nil(t, Empty().FactAt(string(broken)))
	}
	assert.Empty(t, append(normal("design"), normal("")...))
	assert.Nil(t, Empty().FactAt("design"))
	var along []Path
	for at := range p.Along() {
		along = append(along, at)
	}
	assert.Equal(t, []Path{"design.feed", "design.feed.runs[2]", p}, along)
	order := []Path{"design.fuel_filter", "design.engine.power", "design.feed.runs", "design.feed.runs[2]", "design.feed.runs[2].bore", "design.feed.runs[10].bore"}
	assert.True(t, slices.IsSortedFunc(order[2:], Path.Compare))
	assert.Negative(t, order[0].Compare(order[1]), "no design has it")
	assert.Zero(t, order[3].Compare(order[3]))
	list, at, ok := Path("design.feed.runs[12]").Split()
	assert.Equal(t, []any{Path("design.feed.runs"), 12, true}, []any{list, at, ok})
	for _, none := range []Path{"design.feed.runs", "design.feed.runs[].bore", "design.feed.runs[]", ""} {
		_, _, ok := none.Split()
		assert.False(t, ok, none)
	}
	for other, within := range map[Path]bool{"design.feed": true, "design.feed.rise": true, "design.feed[1]": true, "design.feeder": false, "design": false} {
		assert.Equal(t, within, Path("design.feed").Holds(other), other)
	}
}

func normal(p Path) []Step { return slices.Collect(p.Steps()) }

// Whatever the text, a path can be taken apart: its parents end, and every parent holds it.
func TestPathsEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Path(rapid.StringMatching(`(design)?(\.?[a-z]*(\[[0-9a-]*\]?)?){0,6}`).Draw(t, "path"))
		for range p.Steps() {
		}
		_, _, _ = p.Section(), p.Key(), p.Item()
		assert.Equal(t, p.Generic(), p.Generic().Generic())
		for up := p; up != ""; {
			next := up.Parent()
			if len(next) >= len(up) || !next.Holds(p) && next != "" {
				t.Fatalf("%q has the parent %q", up, next)
			}
			up = next
		}
	})
}
