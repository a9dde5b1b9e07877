package engine_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// No cell of what was read is empty: every rule of a region has its topic, and every region of the library has, for
// every topic, rules of its own or a word on why there are none.
func TestEveryRegionSaysWhatOfItsLawWasRead(t *testing.T) {
	lib := library(t)
	for _, p := range lib.Packs() {
		for _, r := range p.Rules {
			assert.Equal(t, len(p.Regions) > 0, slices.Contains(pack.Topics(), r.Topic), "%s.%s", p.Pack, r.ID)
		}
	}
	require.Greater(t, len(lib.Regions()), 15)
	require.Greater(t, len(pack.Topics()), 10)
	here := map[string]bool{}
	for _, r := range lib.Regions() {
		here[r.Name] = true
		cells := lib.TopicsOf(r.Name)
		require.Len(t, cells, len(pack.Topics()), r.Name)
		own := 0
		for _, x := range cells {
			_, said := r.Without.Get(string(x.Topic))
			assert.True(t, said != (len(x.Rules) > 0), "%s says nothing of %s, or twice", r.Name, x.Topic)
			assert.True(t, len(x.Rules) > 0 || x.Without == engine.NotRead || noneFound.MatchString(x.Without), "%s says %q of %s", r.Name, x.Without, x.Topic)
			own += len(x.Rules)
		}
		assert.NotZero(t, own, "%s has no rule of its own", r.Name)
	}
	// A pack of a region that is not declared would have no cells to be looked at.
	for _, p := range lib.Packs() {
		for _, name := range p.Regions {
			assert.True(t, here[name], "%s is of %s, which no pack declares", p.Pack, name)
		}
		assert.Equal(t, strings.HasPrefix(p.Pack, "regions/"), len(p.Regions) > 0, p.Pack)
	}
}

// noneFound is how a cell says that a text holds nothing: the day, and what was looked through.
var noneFound = regexp.MustCompile(`^none found, 20\d\d-\d\d-\d\d, \S.{10}`)

// Every rule of a region has the sentence of its pass: what is met is said, never the title alone.
func TestEveryRegionalRuleSaysItsPass(t *testing.T) {
	for _, p := range library(t).Packs() {
		for _, r := range p.Rules {
			if len(p.Regions) > 0 {
				assert.NotEmpty(t, r.Met, "%s.%s", p.Pack, r.ID)
			}
		}
	}
}

// Where none of a region's own rules concerns the vehicle, the report says that nothing was judged, never that nothing conflicts.
func TestARegionThatConcernsOtherVehiclesSettlesNothing(t *testing.T) {
	lib := library(t)
	d, err := schema.Load("car.yaml", []byte("plumbline: 1\nregions: [us-md]\nvehicle: {class: passenger_car, use: road, model_year: 1969, gross_mass: 1500 kg}\n"))
	require.NoError(t, err)
	r := lib.Judge(d, engine.Options{})
	i := slices.IndexFunc(r.Regions, func(x engine.RegionJudged) bool { return x.Name == "us-md" })
	require.GreaterOrEqual(t, i, 0)
	buses := map[string]bool{}
	for _, f := range r.Findings {
		if f.Region == "us-md" && strings.Contains(f.Title, "bus") {
			assert.Equal(t, engine.NotApplicable, f.Outcome, f.Rule)
			buses[f.Rule] = true
		}
	}
	assert.GreaterOrEqual(t, len(buses), 5)
	own := r.Regions[i]
	assert.Equal(t, own.Rules-len(buses), own.Concern, "the rules for buses do not concern a car")
}

// A design that names no place has an open point until it does; the vehicle is not handed over before.
func TestAPlaceIsAskedFor(t *testing.T) {
	lib := library(t)
	find := func(text string, o engine.Options) *engine.Finding {
		d, err := schema.Load("car.yaml", []byte("plumbline: 1\n"+text))
		require.NoError(t, err)
		r := lib.Judge(d, o)
		for i := range r.Findings {
			if r.Findings[i].Rule == "design/regions.stated" {
				assert.True(t, slices.ContainsFunc(r.Asked, func(q engine.Question) bool { return q.Path == "design.regions" }))
				return &r.Findings[i]
			}
		}
		return nil
	}
	f := find("stage: started\n", engine.Options{})
	require.NotNil(t, f)
	assert.Equal(t, engine.Open, f.Outcome)
	assert.False(t, f.Blocks)
	f = find("stage: handed_over\n", engine.Options{})
	require.NotNil(t, f)
	assert.True(t, f.Blocks)
	assert.Nil(t, find("regions: none\n", engine.Options{}))
	assert.Nil(t, find("regions: [gb]\n", engine.Options{}))
	assert.Nil(t, find("", engine.Options{Regions: []string{"gb"}}))
}
