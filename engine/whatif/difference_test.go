package whatif

import (
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
