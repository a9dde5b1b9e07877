package diagnose_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/schema"
	"plumbline/testdata/builds"
	"plumbline/testdata/shipped"
)

// Pressure that holds at idle and falls at full load: a pump that draws much more than new works against a feed that is nearly
// closed, one that draws a little less is worn (physics: a pump against more pressure draws more current). The size at which a
// closed feed shows so lies in a hundredth of the way from sound to worst, and a filter then loses more than a sound one may.
func TestTheCurrentTellsAClosedFeedFromAWornPump(t *testing.T) {
	lib := shipped.Library(t)
	left := func(current float64) (out []string) {
		d := builds.Design(t, "../../designs/good/pickup-v8-prairie.yaml")
		put(t, d, "design.measured.full_load_pressure", 241.3e3)
		put(t, d, "design.measured.pump_current", current)
		found := diagnose.Run(lib, d, engine.Options{})
		assert.True(t, found.Explained, current)
		for _, c := range found.Candidates[:found.Apart] {
			for _, x := range c.Troubles {
				out = append(out, x.ID)
			}
		}
		return out
	}
	closed := left(7.9)
	assert.Contains(t, closed, "trouble/fuel.feed-narrow")
	assert.Contains(t, closed, "trouble/fuel.feed-filter-clogged")
	assert.False(t, slices.Contains(closed, "trouble/fuel.pump-worn"), closed)
	assert.Equal(t, []string{"trouble/fuel.pump-worn"}, left(5.9))
}

// A pressure read in bar and written in psi, or a current with its point moved, is asked about before anything is mended: as it was perhaps meant a sound vehicle
// would show it. What no slip explains is not asked about.
func TestAReadingInAnotherUnitIsAskedAbout(t *testing.T) {
	lib := shipped.Library(t)
	meant := func(facts string) map[string]string {
		d := builds.Design(t, "../../designs/good/pickup-v8-prairie.yaml").Keep(func(path string) bool { return !strings.HasPrefix(path, "design.measured.") })
		text, err := schema.Load("m.yaml", []byte("plumbline: 1\nmeasured: "+facts+"\n"))
		require.NoError(t, err)
		out, _ := d.Fill([]*schema.Design{text}, func(string, any, any) bool { return false })
		asked := map[string]string{}
		for _, h := range diagnose.Run(lib, out, engine.Options{}).Held {
			if h.Meant != "" {
				asked[h.Fact] = h.Meant
			}
		}
		return asked
	}
	assert.Equal(t, map[string]string{"design.measured.idle_pressure": "3.0 bar"}, meant("{idle_pressure: 3.0 psi, pump_current: 5.9 A}"))
	assert.Empty(t, meant("{idle_pressure: 200 kPa, pump_current: 5.9 A}"))
}
