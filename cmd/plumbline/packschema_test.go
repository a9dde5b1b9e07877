package main

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/rules"
	"plumbline/schema"
)

// Every pack of the library, and those of the scripts, follows the committed JSON Schema of packs.
func TestPacksFollowTheirSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.PackSchema()))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("pack.json", doc))
	compiled, err := compiler.Compile("pack.json")
	require.NoError(t, err)

	seen := 0
	for _, folder := range []fs.FS{rules.Files(), os.DirFS(filepath.Join(scripts, "library"))} {
		require.NoError(t, fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || path.Ext(name) != ".yaml" || path.Base(name) == "sources.yaml" {
				return err
			}
			data, err := fs.ReadFile(folder, name)
			require.NoError(t, err)
			assert.NoError(t, compiled.Validate(asJSON(t, data)), name)
			seen++
			return nil
		}))
	}
	assert.Greater(t, seen, 2)
	for name, text := range map[string]string{
		"no rule needs less":  "{pack: a, title: a, edition: 1, part: a, rules: [{id: x}]}",
		"an unknown key":      "{pack: a, title: a, edition: 1, part: a, rule: []}",
		"an unknown bound":    "{pack: a, title: a, edition: 1, part: a, rules: [{id: x, title: x, danger: none, due: built, must: {atleast: 1}, say: x, mend: x, because: []}]}",
		"an unknown standing": "{pack: a, title: a, edition: 1, part: a, limits: {x: {is: 1, because: [{rumour: y}]}}}",
		"a limit in a list":   "{pack: a, title: a, edition: 1, part: a, limits: [1]}",
	} {
		assert.Error(t, compiled.Validate(asJSON(t, []byte(text))), name)
	}
}

// asJSON reads YAML as JSON would be read; a date becomes a text.
func asJSON(t *testing.T, data []byte) any {
	var value any
	require.NoError(t, yaml.Unmarshal(data, &value))
	text, err := json.Marshal(value)
	require.NoError(t, err)
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	return out
}
