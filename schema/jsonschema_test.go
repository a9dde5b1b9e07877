package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"sync"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// compiledSchema is the committed JSON Schema of designs. Only tests compile it: editors check by it, Load does not.
var compiledSchema = sync.OnceValue(func() *jsonschema.Schema {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(designSchema))
	if err != nil {
		panic(fmt.Sprintf("design.schema.json: %v", err))
	}
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	if err := compiler.AddResource("design.schema.json", doc); err != nil {
		panic(fmt.Sprintf("design.schema.json: %v", err))
	}
	return compiler.MustCompile("design.schema.json")
})

// schemaAccepts checks the law between the two judges of a design: what the loader accepts, the JSON Schema accepts.
// Where it breaks, the loader is too lax.
func schemaAccepts(t require.TestingT, data []byte) {
	root, err := document.Parse("f", data)
	require.NoError(t, err)
	require.NoError(t, compiledSchema().Validate(instance(root)), "the loader accepts it and the JSON Schema does not:\n%s", data)
}

// instance turns a node tree into the values that a reader of YAML hands to a validator.
func instance(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := make(map[string]any, len(n.Content)/2)
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = instance(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		s := make([]any, len(n.Content))
		for i, item := range n.Content {
			s[i] = instance(item)
		}
		return s
	}
	switch n.Tag {
	case "!!null":
		return nil
	case "!!bool":
		return n.Value == "true"
	case "!!int", "!!float":
		if f, err := strconv.ParseFloat(n.Value, 64); err == nil {
			if text, err := json.Marshal(f); err == nil {
				return json.Number(text)
			}
		}
	}
	return n.Value
}

// The JSON Schema refuses what an editor should underline, and so does the loader.
func TestBothJudgesRefuse(t *testing.T) {
	for name, text := range map[string]string{
		"unknown key":      "pump: {colour: red}",
		"missing unit":     "regulator: {setting: '58'}",
		"number":           "regulator: {setting: 58}",
		"word":             "stage: plannd",
		"range":            "engine: {cylinders: 17}",
		"in a list":        "circuits: [{fuse: {rating: 3}}]",
		"in a maybe":       "surge_tank: {location: moon}",
		"neither":          "surge_tank: true",
		"date":             "vehicle: {first_use_date: 1971-02-30}",
		"text empty":       "title: ''",
		"null":             "title:",
		"wrong for a list": "regions: us",
		"none for a part":  "pump: none",
		"too many items":   "circuits: [" + string(bytes.Repeat([]byte("{},"), MaxItems+1)) + "]",
		"text too long":    "notes: " + string(bytes.Repeat([]byte("x"), MaxTextBytes+1)),
	} {
		t.Run(name, func(t *testing.T) {
			data := []byte("plumbline: 1\n" + text + "\n")
			root, err := document.Parse("f", data)
			require.NoError(t, err)
			assert.Error(t, compiledSchema().Validate(instance(root)))
			_, err = Load("f", data)
			assert.Error(t, err)
		})
	}
	assert.Error(t, compiledSchema().Validate(map[string]any{"title": "x"}), "the edition is missing")
	schemaAccepts(t, []byte(small))
}
