package whatif_test

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// Each place holds exactly what judging for it alone finds by regional rules, and what is counted everywhere is what
// the other rules find in any of them.
func TestRegionsKeepApartWhatDependsOnThePlace(t *testing.T) {
	lib := shipped.Library(t)
	data, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(t, err)
	d, err := schema.Load("six-return.yaml", data)
	require.NoError(t, err)
	o := engine.Options{Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}

	names := []string{"gb", "de", "us-ca"}
	places := whatif.Regions(lib, d, o, names)
	require.Len(t, places.Places, len(names))
	assert.Equal(t, "4.1 L in-line six truck, return-style", places.Title)
	for i, name := range names {
		place := &places.Places[i]
		assert.Equal(t, name, place.Name)
		o.Regions = []string{name}
		own, elsewhere := 0, map[engine.Outcome]int{}
		for _, f := range lib.Judge(d, o).Findings {
			if f.Region == "" {
				elsewhere[f.Outcome]++
				continue
			}
			require.Less(t, own, len(place.Own), name)
			assert.Equal(t, f, place.Own[own])
			own++
		}
		assert.Len(t, place.Own, own, name)
		assert.Equal(t, elsewhere, places.Everywhere, name)
		assert.NotEmpty(t, place.Own, name)
		assert.Len(t, place.With(engine.Open), place.Count(engine.Open))
		for _, outcome := range []engine.Outcome{engine.Fail, engine.Warn, engine.Open, engine.Pass, engine.NotApplicable} {
			assert.Equal(t, place.Count(outcome), place.CountOwn(outcome)+place.CountInherited(outcome), name)
		}
		assert.Equal(t, len(place.Regions) > 1, place.CountInherited(engine.NotApplicable)+place.CountInherited(engine.Pass) > 0, name)
		for _, q := range place.Questions {
			assert.Subset(t, regionalRules(place), q.Rules, "%s is asked in %s alone", q.Path, name)
		}
	}
	assert.Equal(t, "Germany", places.Places[1].Title)
	assert.Equal(t, []string{"us", "us-ca"}, []string{places.Places[2].Regions[0].Name, places.Places[2].Regions[1].Name})
}

// regionalRules are the rules with an open finding in a place.
func regionalRules(p *whatif.Place) []string {
	var out []string
	for _, f := range p.With(engine.Open) {
		out = append(out, f.Rule)
	}
	return out
}
