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

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// What fit tells as JSON follows the published schema of it.
func TestFittingsFollowTheirSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.FitSchema()))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("fit.json", doc))
	compiled := compiler.MustCompile("fit.json")
	data, err := os.ReadFile("../../designs/demo/counter-half-known.yaml")
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte(strings.Replace(string(data), "rated_flow: 155 L/h", "rated_flow: 30 L/h", 1)))
	require.NoError(t, err)
	shelf := randomShelf(t, rand.New(rand.NewSource(1)), 3, 2, 0)
	for _, of := range [][]string{nil, {"design.pump"}, {"design.tank"}} {
		out := Fit(shipped.Library(t), d, engine.Options{Patterns: shipped.Patterns(t)}, shelf, nil, FitOptions{Of: of})
		text, err := json.Marshal(out)
		require.NoError(t, err)
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err)
		assert.NoError(t, compiled.Validate(value), of)
		assert.NotEmpty(t, out.Answers)
	}
	assert.Error(t, compiled.Validate(map[string]any{"answers": 1}))
}
