package schema_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

const halfKnown = `plumbline: 1
pump: {place: in_tank}
return_line: none
feed:
  runs:
    - {name: hose, kind: hose, bore: 8 mm}
`

const usualWay = `plumbline: 1
pump: {place: frame_rail, rated_flow: 120 L/h}
return_line: {rise: 1 m}
surge_tank: none
feed:
  runs:
    - {name: usual tube, kind: tube, length: 4 m}
    - {name: usual hose, kind: hose, bore: 6 mm, length: 300 mm}
circuits: [{name: usual pump circuit, purpose: fuel_pump}]
`

func load(t *testing.T, text string) *schema.Design {
	t.Helper()
	d, err := schema.Load("x.yaml", []byte(text))
	require.NoError(t, err)
	return d
}

func TestCloneSharesNothing(t *testing.T) {
	d := load(t, halfKnown)
	c := d.Clone()
	require.NoError(t, c.Put("design.feed.runs[0].bore", quantity.MustNew(0.005, quantity.DimLength)))
	require.NoError(t, c.Put("design.pump.place", "engine_bay"))
	before, _ := d.Feed.Runs.Items[0].Bore.Get()
	after, _ := c.Feed.Runs.Items[0].Bore.Get()
	require.InDelta(t, 0.008, before.SI(), 1e-12)
	require.InDelta(t, 0.005, after.SI(), 1e-12)
	require.Equal(t, "5 mm", c.Feed.Runs.Items[0].Bore.Text())
	place, _ := d.Pump.Place.Get()
	require.Equal(t, schema.Word("in_tank"), place)
}

func TestPutRefusesWhatTheFactCannotHold(t *testing.T) {
	d := load(t, halfKnown)
	require.EqualError(t, d.Put("design.pump.flux", 1), "there is no fact design.pump.flux in the design")
	require.EqualError(t, d.Put("design.feed.runs[3].bore", 1), "there is no fact design.feed.runs[3].bore in the design")
	require.EqualError(t, d.Put("design.pump.rated_flow", quantity.MustNew(1, quantity.DimLength)), "design.pump.rated_flow cannot hold a quantity.Value")
	require.EqualError(t, d.Put("design.pump.rated_flow", nil), "design.pump.rated_flow cannot hold a <nil>")
}

func TestFillTakesOnlyWhatIsNotStated(t *testing.T) {
	d := load(t, halfKnown)
	out, filled := d.Fill([]*schema.Design{load(t, usualWay)}, func(list string, own, other any) bool {
		a, isRun := own.(*schema.Run)
		b, _ := other.(*schema.Run)
		return isRun && a.Kind.Any() == b.Kind.Any()
	})
	place, _ := out.Pump.Place.Get()
	require.Equal(t, schema.Word("in_tank"), place, "stated stays")
	require.Equal(t, schema.Absent, out.ReturnLine.Presence(), "none stays")
	require.Equal(t, schema.Absent, out.SurgeTank.Presence(), "none is taken")
	require.Len(t, out.Feed.Runs.Items, 2)
	hose, tube := &out.Feed.Runs.Items[0], &out.Feed.Runs.Items[1]
	bore, _ := hose.Bore.Get()
	require.InDelta(t, 0.008, bore.SI(), 1e-12)
	require.True(t, hose.Length.Known())
	require.Equal(t, "design.feed.runs[1].kind", tube.Kind.Path())
	require.ElementsMatch(t, []string{"design.pump.rated_flow", "design.feed.runs[0].length", "design.feed.runs[1].name", "design.feed.runs[1].kind",
		"design.feed.runs[1].length", "design.circuits[0].name", "design.circuits[0].purpose"}, filled[0])
	require.Len(t, d.Feed.Runs.Items, 1, "the design itself stays as it was")
	require.False(t, d.Feed.Runs.Items[0].Length.Known())
}
