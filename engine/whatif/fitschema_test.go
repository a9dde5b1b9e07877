package whatif

import (
	"bytes"
	"encoding/json"
	"math/rand"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
	"plumbline/testdata/shipped"
)

// validator is the published schema of what a verb prints as JSON.
func validator(t *testing.T, text []byte) func(v any) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("schema.json", doc))
	compiled := compiler.MustCompile("schema.json")
	return func(v any) error {
		text, err := json.Marshal(v)
		require.NoError(t, err)
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err)
		return compiled.Validate(value)
	}
}

// What fit tells as JSON follows the published schema of it.
func TestFittingsFollowTheirSchema(t *testing.T) {
	follows := validator(t, schema.FitSchema())
	data, err := os.ReadFile("../../designs/demo/counter-half-known.yaml")
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte(strings.Replace(string(data), "rated_flow: 155 L/h", "rated_flow: 30 L/h", 1)))
	require.NoError(t, err)
	shelf := randomShelf(t, rand.New(rand.NewSource(1)), 3, 2, 0)
	for _, of := range [][]string{nil, {"design.pump"}, {"design.tank"}} {
		out := Fit(shipped.Library(t), d, engine.Options{Patterns: shipped.Patterns(t)}, shelf, nil, FitOptions{Of: of})
		assert.NoError(t, follows(out), of)
		assert.NotEmpty(t, out.Answers)
	}
	assert.Error(t, follows(map[string]any{"answers": 1}))
}

// What headroom, spread and compare tell as JSON follows the published schemas of them, of a complete design and of a half-known one, of designs that
// differ in parts.
func TestAnswersFollowTheirSchemas(t *testing.T) {
	lib, patterns := shipped.Library(t), shipped.Patterns(t)
	numbers, err := ReadNumbers("numbers.yaml", designs.Numbers())
	require.NoError(t, err)
	series, err := ReadSeries("series.yaml", designs.Series())
	require.NoError(t, err)
	data, err := os.ReadFile("../../designs/demo/counter-half-known.yaml")
	require.NoError(t, err)
	half, err := schema.Load("d.yaml", data)
	require.NoError(t, err)
	whole := builds.Design(t, "../../designs/good/four-frame-pump.yaml")
	headroom, spread, compare := validator(t, schema.HeadroomSchema()), validator(t, schema.SpreadSchema()), validator(t, schema.CompareSchema())
	for _, d := range []*schema.Design{half, whole} {
		o := engine.Options{}
		if d == half {
			o.Patterns = patterns
		}
		below := []string{"design.pump", "design.engine.power"}
		rooms := Rooms(lib, d, o, numbers, series, below)
		assert.NotEmpty(t, rooms.Rooms)
		assert.NoError(t, headroom(rooms))
		assert.NoError(t, spread(SpreadOf(lib, d, o, numbers, 5, 1)))
	}
	other := whole.Clone()
	require.True(t, other.Remove("design.circuits", 0))
	putQuantity(t, other, "design.engine.power", "95 kW", quantity.DimPower)
	x := Differences(lib, whole, other, engine.Options{})
	assert.NotEmpty(t, x.Parts)
	assert.NotEmpty(t, x.Values)
	assert.NoError(t, compare(x))
	for _, follows := range []func(any) error{headroom, spread, compare} {
		assert.Error(t, follows(map[string]any{"file": 1}))
	}
}
