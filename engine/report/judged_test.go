package report

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// clean sheets are words that sound like a verdict on a place.
var cleanSheet = regexp.MustCompile(`(?i)\bmet\b|conflict|broken|in order`)

// Where none of a region's own rules was judged, no line about the region sounds like a verdict, neither in the report nor in a
// comparison; where one was, none says that nothing was. Counted again from the findings, in every region of the library.
func TestNoVerdictWhereNothingWasJudged(t *testing.T) {
	lib := shipped.Library(t)
	names := []string{}
	for _, r := range lib.Regions() {
		names = append(names, r.Name)
	}
	nothing, open, judged := 0, 0, 0
	seen := map[string]map[string]bool{}
	for name, text := range map[string]string{
		"off the road":  "plumbline: 1\nvehicle: {use: off_road, class: truck_or_van, model_year: 1950, manufacture_date: 1950-02-01}\nregistration: {certified_for: no_certification, plate: normal}\npapers: {sale_planned: false}\n",
		"nothing known": "plumbline: 1\n",
		"sold and tested": "plumbline: 1\nvehicle: {use: road, class: passenger_car, model_year: 1985, manufacture_date: 1985-02-01, gross_mass: 1500 kg, original_emission_equipment: [{kind: air_injection, after: kept}]}\n" +
			"registration: {certified_for: us_federal, plate: antique, commercial: true, emission_test_area: true, last_emission_test: 2026-11-01}\npapers: {done_by: business, crash_analysis: false, sale_planned: true}\n" +
			"exhaust: {silencer: kept}\ntank: {change: moved, guarded: true}\nmeasured: {fuel_leak: false}\n",
		"a whole truck": whole(t, "../../designs/demo/six-return.yaml"),
	} {
		d, err := schema.Load("a.yaml", []byte(text))
		require.NoError(t, err)
		for _, place := range whatif.Regions(lib, d, engine.Options{}, names).Places {
			for i := range place.Regions {
				r := &place.Regions[i]
				outcomes := map[engine.Outcome]bool{}
				for _, f := range place.Own {
					if f.Region == r.Name {
						outcomes[f.Outcome] = true
					}
				}
				state := func(name string) {
					if seen[r.Name] == nil {
						seen[r.Name] = map[string]bool{}
					}
					seen[r.Name][name] = true
				}
				settled := outcomes[engine.Pass] || outcomes[engine.Warn] || outcomes[engine.Fail]
				for _, line := range []string{concernWords(r), standWords(r, r.Name == place.Name)} {
					switch {
					case settled:
						judged++
						state("judged")
						assert.NotContains(t, line, "nothing was judged", "%s in %s", name, r.Name)
					case outcomes[engine.Open]:
						open++
						state("open")
						assert.Regexp(t, `cannot be judged yet|nothing can be judged yet`, line, "%s in %s", name, r.Name)
						assert.NotRegexp(t, cleanSheet, line, "%s in %s", name, r.Name)
					default:
						nothing++
						state("nothing")
						assert.Contains(t, line, "nothing was judged", "%s in %s", name, r.Name)
						assert.NotRegexp(t, cleanSheet, line, "%s in %s", name, r.Name)
					}
				}
			}
		}
	}
	always := map[string]bool{}
	for _, p := range lib.Packs() {
		for _, r := range p.Rules {
			for _, name := range p.Regions {
				always[name] = always[name] || r.Applies == nil
			}
		}
	}
	for _, name := range names {
		assert.True(t, seen[name]["judged"] && seen[name]["open"], "%s was seen only %v", name, seen[name])
		assert.NotEqual(t, always[name], seen[name]["nothing"], "%s with nothing judged; has a rule for every vehicle: %v", name, always[name])
	}
	assert.Greater(t, nothing, 20)
	assert.Greater(t, open, 20)
	assert.Greater(t, judged, 40)
}

// A comparison of a place that judged nothing of its own says so, whatever the wider region found.
func TestAComparisonKeepsOwnAndInheritedApart(t *testing.T) {
	own := engine.RegionJudged{Name: "us-xx", Title: "State", Rules: 3}
	wider := engine.RegionJudged{Name: "us", Title: "Country", Rules: 9, Concern: 5}
	f := engine.Finding{Rule: "regions/us.a", Region: "us", Outcome: engine.Pass}
	place := whatif.Place{Name: "us-xx", Title: "State", Regions: []engine.RegionJudged{wider, own}, Own: []engine.Finding{f}}
	var b strings.Builder
	require.NoError(t, Regions(&b, whatif.Places{Places: []whatif.Place{place}}, TextOptions{Width: 200}))
	assert.Contains(t, b.String(), "State itself: nothing was judged; none of its rules concerns this vehicle.")
	assert.Contains(t, b.String(), "Country, whose rules hold there too: 5 rules are met, none is broken.")
	doc := NewPlaces(whatif.Places{Places: []whatif.Place{place}})
	assert.Equal(t, Counts{}, doc.Places[0].OwnCounts)
	assert.Equal(t, Counts{Pass: 1}, doc.Places[0].InheritedCounts)
}

// whole reads a demo design, its own regions taken out.
func whole(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	lines := slices.DeleteFunc(strings.Split(string(data), "\n"), func(l string) bool { return strings.HasPrefix(l, "regions:") })
	return strings.Join(lines, "\n")
}
