package diagnose_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/schema"
	"plumbline/testdata/builds"
	"plumbline/testdata/shipped"
)

// What diagnose tells as JSON follows the published schema of it: with nothing measured, with readings, and with signs beside them.
func TestDiagnosesFollowTheirSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.DiagnoseSchema()))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("schema.json", doc))
	compiled := compiler.MustCompile("schema.json")
	follows := func(v any) error {
		text, err := json.Marshal(v)
		require.NoError(t, err)
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err)
		return compiled.Validate(value)
	}
	lib := shipped.Library(t)
	d := unmeasured(t, lib, builds.Design(t, "../../designs/good/four-frame-pump.yaml"))
	assert.NoError(t, follows(diagnose.Run(lib, d, engine.Options{})))
	put(t, d, "design.measured.idle_pressure", 150e3)
	put(t, d, "design.measured.pump_current", 4.1)
	assert.NoError(t, follows(diagnose.Run(lib, d, engine.Options{})))
	found := diagnose.Run(lib, d, engine.Options{}, "can-foams", "only-hot", "in-bends")
	assert.NoError(t, follows(found))
	assert.NotEmpty(t, found.Seen)
	assert.Error(t, follows(map[string]any{"readings": 1}))
}
