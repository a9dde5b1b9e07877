package schema_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"

	"plumbline/schema"
)

func partly(text string) (*schema.Design, error) {
	return schema.LoadPartly("f", 1, []byte(text), nil)
}

// stated lists what a design states, with what it says.
func stated(d *schema.Design) map[string]string {
	out := map[string]string{}
	schema.WalkAll(d, func(v schema.Visit) {
		switch {
		case v.Reading != nil && schema.IsStated(v.Reading):
			out[v.Path] = v.Reading.Text()
		case v.Optional != nil && v.Optional.Presence() != schema.NotStated:
			out[v.Path] = map[schema.Presence]string{schema.Absent: "none", schema.Present: "there"}[v.Optional.Presence()]
		case v.Listing != nil && v.Listing.Known():
			out[v.Path] = "known"
		}
	})
	return out
}

func TestWhatCouldBeRead(t *testing.T) {
	const rest = "plumbline: 1\nengine: {power: 300 hp}\n"
	for _, c := range []struct{ bad, unknown string }{
		{"pump: {rated_flow: 255}", "design.pump.rated_flow"},
		{"pump: {plce: in_tank}", "design.pump.place"},
		{"regulator: {style: returnstyle}", "design.regulator.style"},
		{"return_line: nope", "design.return_line"},
		{"surge_tank: no", "design.surge_tank"},
		{"circuits: a lot", "design.circuits"},
		{"feed: none", "design.feed.runs"},
		{"vehicle: {model_year: 72}", "design.vehicle.model_year"},
		{"throttle_body: {injectors: {static_flow: 600 cc/min, static_mass_flow: 60 lb/h}}", "design.throttle_body.injectors.static_flow"},
		{"throttle_body: {injectors: {static_flow: 600 cc/min, static_mass_flow: 60 lb/h}}", "design.throttle_body.injectors.static_mass_flow"},
	} {
		d, err := partly(rest + c.bad + "\n")
		require.Error(t, err, c.bad)
		if assert.NotNil(t, d, c.bad) {
			assert.Equal(t, "300 hp", d.Engine.Power.Text(), c.bad)
			assert.NotContains(t, stated(d), c.unknown, c.bad)
		}
		d, err = schema.Load("f", []byte(rest+c.bad+"\n"))
		assert.Error(t, err)
		assert.Nil(t, d, "all other readers refuse the file whole")
	}
	for name, text := range map[string]string{
		"no edition":         "engine: {power: 300 hp}\npump: {plce: in_tank}\n",
		"another edition":    "plumbline: 2\nengine: {power: 300 hp}\n",
		"a key twice":        rest + "pump: {place: in_tank, place: boot}\n",
		"no text of a kind":  rest + "pump: [\n",
		"a concession":       rest + "concessions: [{rule: fuel/return.back-pressure, reason: x, until: someday}]\n",
		"the stage":          rest + "stage: bilt\n",
		"a template":         rest + "based_on: x.yaml\npump: {plce: in_tank}\n",
		"nothing left of it": "plumbline: 1\ntitle: x\nengine: {power: 300}\n",
	} {
		d, err := partly(text)
		assert.Error(t, err, name)
		assert.Nil(t, d, name)
	}
	d, err := partly(rest)
	require.NoError(t, err)
	assert.Equal(t, "300 hp", d.Engine.Power.Text())
}

// A fact spoilt in a good design is unknown, and nothing else changes: the same as if it had been left out.
func TestASpoiltFactIsUnknownAndNothingElse(t *testing.T) {
	text, err := os.ReadFile("../designs/demo/six-return.yaml")
	require.NoError(t, err)
	good, err := schema.Load("f", text)
	require.NoError(t, err)
	want := stated(good)
	rapid.Check(t, func(t *rapid.T) {
		var doc yaml.Node
		require.NoError(t, yaml.Unmarshal(text, &doc))
		var scalars []*yaml.Node
		var walk func(n *yaml.Node, key string)
		walk = func(n *yaml.Node, key string) {
			switch {
			case n.Kind == yaml.ScalarNode && !slices.Contains([]string{"plumbline", "stage", "complete"}, key):
				scalars = append(scalars, n)
			case n.Kind == yaml.MappingNode:
				for i := 0; i < len(n.Content); i += 2 {
					if k := n.Content[i].Value; k != "concessions" && k != "title" && k != "notes" {
						walk(n.Content[i+1], k)
					}
				}
			default:
				for _, item := range n.Content {
					walk(item, key)
				}
			}
		}
		walk(doc.Content[0], "")
		spoilt := rapid.SampledFrom(scalars).Draw(t, "spoilt")
		was := spoilt.Value
		spoilt.Value, spoilt.Tag, spoilt.Style = "12 gizmos", "!!str", 0
		changed, err := yaml.Marshal(doc.Content[0])
		require.NoError(t, err)
		d, err := partly(string(changed))
		if err == nil {
			return // a text may be anything
		}
		require.NotNil(t, d, "%s: %v", was, err)
		gone := 0
		have := stated(d)
		for path, value := range want {
			if have[path] != value {
				gone++
				require.Empty(t, have[path], path)
				require.True(t, value == was || strings.HasPrefix(was, "none") || value == "known" || value == "there", "%s was %s", path, value)
			}
		}
		require.Equal(t, 1, gone, was)
		require.Len(t, have, len(want)-1)
	})
}
