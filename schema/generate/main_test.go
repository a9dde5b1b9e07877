package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/jsonschemagen"
)

func TestCommittedSchemasAreFresh(t *testing.T) {
	dir, err := jsonschemagen.ModuleDir()
	require.NoError(t, err)
	for _, e := range entries() {
		made, err := jsonschemagen.Make(dir, e)
		require.NoError(t, err)
		committed, err := os.ReadFile(filepath.Join(dir, e.File))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(made, committed), "%s is stale: run go run ./schema/generate", e.File)
	}
}

// The outside check is the JSON Schema 2020-12 meta-schema, as the validator carries it.
func TestCommittedSchemasFollowTheMetaSchema(t *testing.T) {
	const meta = "https://json-schema.org/draft/2020-12/schema"
	compiler := jsonschema.NewCompiler()
	standard, err := compiler.Compile(meta)
	require.NoError(t, err)

	dir, err := jsonschemagen.ModuleDir()
	require.NoError(t, err)
	for _, e := range entries() {
		committed, err := os.ReadFile(filepath.Join(dir, e.File))
		require.NoError(t, err)
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(committed))
		require.NoError(t, err)
		assert.NoError(t, standard.Validate(doc), e.File)
		assert.Equal(t, meta, doc.(map[string]any)["$schema"], e.File)
	}
	assert.Error(t, standard.Validate(map[string]any{"type": "quantity"}), "the check can fail")
}
