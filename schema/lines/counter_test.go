package lines_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/lines"
	"plumbline/schema/quantity"
)

// Five lists of parts as they come over a counter, written down as designs by hand beside what was said.
func TestCounterLists(t *testing.T) {
	for _, name := range []string{"a", "b", "c", "d", "e"} {
		said, err := os.ReadFile("testdata/counter-" + name + ".txt")
		require.NoError(t, err)
		text, err := os.ReadFile("testdata/counter-" + name + ".yaml")
		require.NoError(t, err)
		want, err := schema.Load(name, text)
		require.NoError(t, err)
		r := lines.Read(string(said))
		whole(t, string(said), r)
		assert.True(t, r.Whole(), "%s:\n%s", name, shown(r))
		got, err := schema.Load(name, r.YAML())
		require.NoError(t, err)
		schema.WalkAll(want, func(v schema.Visit) {
			if v.Optional != nil && v.Optional.Presence() == schema.Absent {
				schema.WalkAll(got, func(o schema.Visit) {
					if o.Path == v.Path {
						assert.Equal(t, schema.Absent, o.Optional.Presence(), "%s: %s", name, v.Path)
					}
				})
			}
			if v.Reading == nil || !v.Reading.Known() {
				return
			}
			have := got.FactAt(v.Path)
			if !assert.NotNil(t, have, "%s: %s", name, v.Path) || !assert.True(t, have.Known(), "%s: %s is not read", name, v.Path) {
				return
			}
			if q, is := v.Quantity(); is {
				other := quantityAt(got, v.Path)
				assert.InEpsilon(t, q.SI(), other.SI(), 1e-12, "%s: %s", name, v.Path)
				return
			}
			assert.Equal(t, v.Reading.Any(), have.Any(), "%s: %s", name, v.Path)
		})
	}
}

func quantityAt(d *schema.Design, path string) (out quantity.Value) {
	schema.Walk(d, func(v schema.Visit) {
		if v.Path == path {
			out, _ = v.Quantity()
		}
	})
	return out
}
