package whatif

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
	"plumbline/testdata/shipped"
)

func putQuantity(t *testing.T, d *schema.Design, path, text string, dimension quantity.Dimension) {
	v, err := quantity.Parse(text, dimension)
	require.NoError(t, err)
	require.NoError(t, d.Put(path, v))
}

// A design differs in nothing from itself, nor from itself with the circuits and their joints in another order: what stands in lists is
// matched by its name.
func TestADesignDiffersInNothingFromItself(t *testing.T) {
	lib := shipped.Library(t)
	d := builds.Design(t, "../../designs/good/four-california-truck.yaml")
	other := d.Clone()
	slices.Reverse(other.Circuits.Items)
	schema.Stamp(other)
	for _, with := range []*schema.Design{d, other} {
		x := Differences(lib, d, with, engine.Options{})
		assert.Empty(t, x.Facts)
		assert.Empty(t, x.Values)
		assert.Empty(t, x.Findings)
	}
}

// Of two changes the one that alone turns a finding is told, and judging the design with that one alone says the same.
func TestTheChangeThatAloneTurnsAFindingIsTold(t *testing.T) {
	lib := shipped.Library(t)
	d := builds.Design(t, "../../designs/good/four-california-truck.yaml")
	after := d.Clone()
	putQuantity(t, after, "design.engine.power", "95 kW", quantity.DimPower)
	putQuantity(t, after, "design.battery.rest_voltage", "12.5 V", quantity.DimVoltage)
	slices.Reverse(after.Circuits.Items) // places alone are no change
	schema.Stamp(after)
	x := Differences(lib, d, after, engine.Options{})
	require.Len(t, x.Facts, 2)
	assert.Equal(t, "design.engine.power", x.Facts[0].Key)
	require.NotEmpty(t, x.Findings)
	only := d.Clone()
	putQuantity(t, only, "design.engine.power", "95 kW", quantity.DimPower)
	found := map[string]engine.Outcome{}
	for _, f := range lib.Judge(only, engine.Options{}).Findings {
		found[f.Key()] = f.Outcome
	}
	turned := 0
	for _, f := range x.Findings {
		require.NotEmpty(t, f.Causes, f.Rule)
		assert.True(t, slices.IsSortedFunc(f.Causes, func(a, b Cause) int { return turnsFirst(a) - turnsFirst(b) }))
		for _, c := range f.Causes {
			if c.Fact == "design.engine.power" {
				turned++
				assert.Equal(t, found[f.Rule+" "+f.Subject] == f.After, *c.Alone, f.Rule)
			}
		}
	}
	assert.Greater(t, turned, 2)
	assert.True(t, x.Findings[0].Worse)
	for _, v := range x.Values {
		assert.NotEmpty(t, v.Facts, "%s rests on one of the changes", v.Key)
	}
}

// Two designs that have little in common, one with a return line and one without, are compared all the same.
func TestDesignsThatHaveLittleInCommon(t *testing.T) {
	lib := shipped.Library(t)
	a, b := builds.Design(t, "../../designs/good/four-california-truck.yaml"), builds.Design(t, "../../designs/good/four-frame-pump.yaml")
	x, back := Differences(lib, a, b, engine.Options{}), Differences(lib, b, a, engine.Options{})
	assert.Greater(t, len(x.Facts), 100)
	assert.Len(t, back.Facts, len(x.Facts))
	assert.Len(t, back.Findings, len(x.Findings))
	assert.Len(t, back.Values, len(x.Values))
}

// A part that only one of the two has is told by its facts, and what it is missed for is found.
func TestAPartThatIsGoneDiffers(t *testing.T) {
	lib := shipped.Library(t)
	d := builds.Design(t, "../../designs/good/four-california-truck.yaml")
	after := d.Clone()
	gone := after.Circuits.Items[0]
	name, _ := gone.Name.Get()
	after.Circuits.Items = after.Circuits.Items[1:]
	schema.Stamp(after)
	x := Differences(lib, d, after, engine.Options{})
	require.NotEmpty(t, x.Facts)
	for _, f := range x.Facts {
		assert.Contains(t, f.Key, "design.circuits["+name+"]")
		assert.Empty(t, f.After)
	}
	assert.NotEmpty(t, x.Findings)
}

// Parts that come or go are tried alone like facts: judging the first design with the part alone as in the second says the same. Here a circuit
// goes and a fuel filter comes, and more power is asked for; the one that turns a finding is told, and going back tells the same parts the other way.
func TestPartsThatComeOrGoAreCauses(t *testing.T) {
	lib := shipped.Library(t)
	d := builds.Design(t, "../../designs/good/four-california-truck.yaml")
	after := d.Clone()
	name, _ := after.Circuits.Items[0].Name.Get()
	require.True(t, after.Remove("design.circuits", 0))
	filter := slices.IndexFunc(after.Feed.Runs.Items, func(r schema.Run) bool { kind, _ := r.Kind.Get(); return kind == "filter" })
	require.Positive(t, filter)
	own, _ := after.Feed.Runs.Items[filter].Name.Get()
	before := d.Clone()
	require.True(t, before.Remove("design.feed.runs", filter))
	putQuantity(t, after, "design.engine.power", "95 kW", quantity.DimPower)
	x := Differences(lib, before, after, engine.Options{})
	require.Equal(t, []PartDiffers{
		{Key: "design.feed.runs[" + own + "]", Path: fmt.Sprintf("design.feed.runs[%d]", filter), Come: true},
		{Key: "design.circuits[" + name + "]", Path: "design.circuits[0]"},
	}, x.Parts)
	alone := map[string]map[string]engine.Outcome{}
	one := before.Clone()
	require.True(t, one.Remove("design.circuits", 0))
	two := before.Clone()
	require.True(t, two.Insert("design.feed.runs", filter, d, fmt.Sprintf("design.feed.runs[%d]", filter)))
	for key, design := range map[string]*schema.Design{x.Parts[1].Key: one, x.Parts[0].Key: two} {
		alone[key] = map[string]engine.Outcome{}
		s := newSide(lib, design, engine.Options{})
		for k, f := range s.found {
			alone[key][k] = f.Outcome
		}
	}
	a, b := newSide(lib, before, engine.Options{}), newSide(lib, after, engine.Options{})
	turned := map[string]int{}
	for k, is := range b.found {
		was := a.found[k]
		for i := range x.Findings {
			f := &x.Findings[i]
			if standsAlike(was, is) || f.Rule != is.Rule || f.Subject != is.Subject {
				continue
			}
			for _, c := range f.Causes {
				if by := alone[c.Fact]; by != nil {
					require.NotNil(t, c.Alone, c.Fact)
					turned[c.Fact]++
					assert.Equal(t, by[k] == is.Outcome, *c.Alone, "%s by %s", k, c.Fact)
				}
			}
		}
	}
	assert.Positive(t, turned[x.Parts[0].Key])
	assert.Positive(t, turned[x.Parts[1].Key])
	back := Differences(lib, after, before, engine.Options{})
	require.Len(t, back.Parts, 2)
	for _, p := range back.Parts {
		assert.Equal(t, p.Key == x.Parts[1].Key, p.Come)
	}
}

// A value that only one design's findings read is not said to be gone: it is worked out in the other one too. In a narrower tube the
// fuel is faster and loses more; what flows in the hose behind it stays as it was.
func TestAValueThatNoFindingReadsIsNotGone(t *testing.T) {
	lib := shipped.Library(t)
	d := builds.Design(t, "../../designs/good/hatchback-four-1988.yaml")
	after := d.Clone()
	putQuantity(t, after, "design.feed.runs[2].bore", "3 mm", quantity.DimLength)
	x := Differences(lib, d, after, engine.Options{})
	require.NotEmpty(t, x.Values)
	for _, v := range x.Values {
		assert.NotContains(t, v.Key, "engine hose")
	}
}
