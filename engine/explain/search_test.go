package explain_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/explain"
	"plumbline/rules"
)

func index(t testing.TB) *explain.Index {
	t.Helper()
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	return explain.NewIndex(explain.Names(lib))
}

// What a fitter says leads to what the library calls it, among the first.
func TestSearchFindsWhatIsMeant(t *testing.T) {
	x := index(t)
	for _, c := range []struct{ asked, among string }{
		{"hose", "fuel/hose"},
		{"R9", "fuel/hose.injection-grade"},
		{"inertia", "fuel/delivery.inertia-switch"},
		{"duty", "at.full_load.injector_duty"},
		{"duty cycle", "at.full_load.injector_duty"},
		{"pump flow", "at.full_load.pump_flow"},
		{"pump flow", "design.pump.rated_flow"},
		{"return springs", "throttle/control.two-springs"},
		{"surge tank", "fuel/surge-tank"},
		{"surge-tank", "fuel/surge-tank"},
		{"fuse", "electrical/fusing"},
		{"grommet", "design.passages[].lining"},
		{"Texas", "us-tx"},
		{"catalyst", "design.exhaust.catalyst"},
		{"wideband", "design.oxygen_sensors[].kind"},
	} {
		var names []string
		for _, h := range x.Search(c.asked, 15).Hits {
			names = append(names, h.Name)
		}
		assert.True(t, slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, c.among) }), "%s: %v", c.asked, names)
	}
}

func TestSearchTakesAMisspeltWordForItsNearest(t *testing.T) {
	x := index(t)
	right := x.Search("injector", 15)
	wrong := x.Search("injecter", 15)
	assert.Equal(t, "injector", wrong.Taken)
	assert.Equal(t, right.Hits, wrong.Hits)
	assert.Empty(t, right.Taken)
	assert.Empty(t, x.Search("zzzzzzzzzz", 15).Hits)
	assert.Empty(t, x.Search("", 15).Hits)
}

// Few lines are shown, all that match are counted, no kind fills the page and the order is that of no map.
func TestSearchIsShort(t *testing.T) {
	x := index(t)
	for _, asked := range []string{"hose", "pump", "fuel", "injector", "a"} {
		found, all := x.Search(asked, 15), x.Search(asked, 1<<20)
		assert.LessOrEqual(t, len(found.Hits), 15)
		assert.Equal(t, len(all.Hits), len(found.Hits)+found.More, asked)
		assert.Equal(t, found, x.Search(asked, 15), asked)
		seen := map[string]bool{}
		for _, h := range all.Hits {
			key := h.Kind + " " + h.Name
			assert.False(t, seen[key], key)
			seen[key] = true
		}
	}
	kinds := map[string]bool{}
	for _, h := range x.Search("hose", 15).Hits {
		kinds[h.Kind] = true
	}
	assert.GreaterOrEqual(t, len(kinds), 4)
}

// Words are held all before some: what speaks of pump and flow comes before what speaks of one of them.
func TestSearchWantsAllWords(t *testing.T) {
	x := explain.NewIndex([]explain.Named{
		{Name: "a.pump", Kind: "rule", Title: "the pump"},
		{Name: "b.flow", Kind: "rule", Title: "the pump's flow"},
		{Name: "c.other", Kind: "rule", Title: "other", Also: []string{"flow of the pump"}},
		{Name: "d.text", Kind: "rule", Title: "other", Text: "pump and flow"},
		{Name: "e.none", Kind: "rule", Title: "flower pot"},
	})
	var names []string
	for _, h := range x.Search("Pumps FLOW", 9).Hits {
		names = append(names, h.Name+h.By)
	}
	assert.Equal(t, []string{"b.flow", "c.otherflow of the pump", "d.text"}, names)
}
