package explain_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
)

// opened opens a design of the designs folder.
func opened(t testing.TB, name string) *derive.Session {
	t.Helper()
	return derive.NewSession(builds.Design(t, "../../designs/"+name), derive.Options{})
}

// complete lists the designs that are stated in full.
func complete(t testing.TB) []string {
	t.Helper()
	out := []string{"demo/six-return.yaml", "demo/van-v6-in-tank.yaml", "demo/four-faulty.yaml"}
	if testing.Short() {
		return out
	}
	good, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	for _, g := range good {
		out = append(out, "good/"+filepath.Base(g))
	}
	return out
}

func points(e *derive.Entry) []derive.Point {
	if e.PerPoint {
		return derive.Points()
	}
	return []derive.Point{derive.NoPoint}
}

// A working is worked out beside the value, by its formula: both must give the same number, and the lines must be
// few. What lies between two bounds has none.
func TestWorkingsEndInTheValue(t *testing.T) {
	worked := map[string]int{}
	for _, name := range complete(t) {
		s := opened(t, name)
		for _, e := range derive.All().Entries() {
			if e.Working == nil {
				continue
			}
			for _, part := range explain.Parts(s.Design(), e.On) {
				for _, p := range points(e) {
					r := s.Evaluate(e, part, p)
					brief := s.Brief(e, part, p, quantity.Metric)
					lines := s.Working(e, part, p, quantity.Both).Lines
					if !r.Known() || len(brief.Between) > 0 {
						assert.Empty(t, lines, "%s: %s", name, r.Path)
						continue
					}
					require.NotEmpty(t, lines, "%s: %s", name, r.Path)
					assert.LessOrEqual(t, len(lines), 5, "%s: %s", name, r.Path)
					want, _ := brief.Value.(float64)
					got := lines[len(lines)-1]
					assert.InDelta(t, want, got.Value, 1e-9+1e-6*math.Abs(want), "%s: %s: %s", name, r.Path, got)
					for _, l := range lines {
						assert.NotContains(t, l.String(), "%!", "%s: %s", name, r.Path)
						assert.NotContains(t, l.String(), "NaN", "%s: %s", name, r.Path)
					}
					worked[e.On+"."+e.Name]++
				}
			}
		}
	}
	for _, e := range derive.All().Entries() {
		if e.Working != nil && !testing.Short() {
			assert.NotZero(t, worked[e.On+"."+e.Name], "%s.%s has a working that no design shows", e.On, e.Name)
		}
	}
}

// The values whose formula is told in words only. The list may only shrink: a new value comes with its working.
func TestWorkingsAreMissingOnlyWhereListed(t *testing.T) {
	text, err := os.ReadFile("testdata/no-working.txt")
	require.NoError(t, err)
	listed := strings.Fields(string(text))
	assert.True(t, slices.IsSorted(listed), "keep the list sorted")
	var missing []string
	for _, e := range derive.All().Entries() {
		// A yes, a no or a word is no sum.
		if e.Working == nil && (e.Kind == derive.Quantity || e.Kind == derive.Number) {
			missing = append(missing, e.On+"."+e.Name)
		}
	}
	slices.Sort(missing)
	for _, name := range missing {
		assert.True(t, slices.Contains(listed, name), "%s: give the entry a Working", name)
	}
	for _, name := range listed {
		assert.True(t, slices.Contains(missing, name), "%s has a working now or is gone: take it off the list", name)
	}
}

// By hand, from the numbers of the design alone.
func TestWorkingByHand(t *testing.T) {
	d, err := schema.Load("d.yaml", []byte(`plumbline: 1
engine: {power: 120 hp, power_as: gross, net_share: 85 %, consumption_ethanol: 0 %, specific_consumption: 0.5 lb/(hp h)}
fuel: {density: 6.2 lb/gal, ethanol: 0 %}
climate: {hot_fuel: 59 degF}
circuits: [{name: fan, feed_wires: [{size: 12 AWG, insulation_rating: 105 degC, ambient: 60 degC, bundle_count: 4, conductor: stranded_copper}]}]
`))
	require.NoError(t, err)
	s := derive.NewSession(d, derive.Options{})
	lines := func(on, name string, part any, p derive.Point) (out []string) {
		for _, l := range explain.NewWorkings(s, quantity.US).Value(derive.All().Find(on, name), part, p, explain.MostLines).Working {
			out = append(out, l.String())
		}
		return out
	}
	// 120 x 0.85 = 102 hp, x 0.5 = 51 lb/h, / 6.2 = 8.226 gal/h; at 15 degC (59 degF) the fuel keeps its density.
	assert.Equal(t, []string{
		"crank power: 120 hp gross x 85 % = 102 hp",
		"fuel mass demand: 102 hp at the crank x 0.5 lb/(hp h) = 51 lb/h",
		"hot density: 6.2 lb/gal at 59 degF x 1 at 59 degF = 6.2 lb/gal",
		"fuel demand: 51 lb/h / 6.2 lb/gal of hot fuel = 8.23 gal/h",
	}, lines("Design", "fuel_demand", d, derive.FullLoad))
	// 33 CFR 183.425 Table 5: 12 AWG of 105 degC outside engine spaces 45 A; note 2: four to six together x 0.6;
	// sqrt((105 - 60) / (105 - 30)) = 0.775; 45 x 0.775 x 0.6 = 20.9 A.
	assert.Equal(t, []string{
		"ampacity: 45 A in free air of 86 degF, as 12 AWG of class 221 degF carries, x 0.775 for 140 degF x 0.6 for 4 together = 20.9 A",
	}, lines("Wire", "ampacity", &d.Circuits.Items[0].FeedWires.Items[0], derive.NoPoint))
}

// However deep a value rests, its working stays short.
func TestWorkingsAreShort(t *testing.T) {
	s := opened(t, "demo/six-return.yaml")
	k := explain.NewWorkings(s, quantity.Both)
	for _, e := range derive.All().Entries() {
		for _, part := range explain.Parts(s.Design(), e.On) {
			for _, p := range points(e) {
				v := k.Value(e, part, p, explain.MostLines)
				assert.LessOrEqual(t, len(v.Working), explain.MostLines, v.Path)
				inOrder(t, s, &v)
			}
		}
	}
}

// inOrder checks that the workings of a value follow each other, none before one that it rests on.
func inOrder(t *testing.T, s *derive.Session, v *explain.Value) {
	t.Helper()
	k := explain.NewWorkings(s, quantity.Both)
	var order []string
	for _, l := range v.Working {
		if len(order) == 0 || order[len(order)-1] != l.Path {
			assert.NotContains(t, order, l.Path, "%s: %s is told in two places", v.Path, l.Path)
			order = append(order, l.Path)
		}
	}
	rests := func(path string) []*derive.Result {
		r := k.At(path)
		return s.Working(r.Entry, k.PartOf(r), r.Point, quantity.Both).Rests
	}
	for i, path := range order {
		for _, in := range rests(path) {
			assert.NotContains(t, order[i+1:], in.Path, "%s: %s stands before %s", v.Path, path, in.Path)
		}
	}
}
