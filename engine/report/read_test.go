package report

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine"
	"plumbline/schema"
)

func reportSchema(t *testing.T) *jsonschema.Schema {
	compiler := jsonschema.NewCompiler()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.ReportSchema()))
	require.NoError(t, err)
	require.NoError(t, compiler.AddResource("report.json", doc))
	compiled, err := compiler.Compile("report.json")
	require.NoError(t, err)
	return compiled
}

// What was written reads back: written again, it is the same.
func TestReadKeepsEverything(t *testing.T) {
	for _, reports := range [][]*engine.Report{nil, {sample(), clearReport()}, {{}}} {
		var b bytes.Buffer
		require.NoError(t, JSON(&b, reports, about()))
		text := b.Bytes()
		doc, err := Read(bytes.NewReader(text))
		require.NoError(t, err)
		var plain Document
		require.NoError(t, json.Unmarshal(text, &plain))
		assert.Equal(t, &plain, doc)
	}
}

// The reader goes by the Go types and the JSON Schema is made from them: over changed copies of a report, the one accepts
// what the other does.
func TestReadJudgesAsTheSchemaDoes(t *testing.T) {
	compiled := reportSchema(t)
	var b bytes.Buffer
	require.NoError(t, changed().JSON(&b))
	text := b.Bytes()
	refused := 0
	rapid.Check(t, func(t *rapid.T) {
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err)
		var places []func(any)
		var visit func(v any)
		visit = func(v any) {
			switch v := v.(type) {
			case map[string]any:
				for _, key := range sortedKeys(v) {
					if key != "format" {
						places = append(places, func(x any) { v[key] = x }, func(any) { delete(v, key) }, func(x any) { v[key+"s"] = x })
					}
					visit(v[key])
				}
			case []any:
				for i := range v {
					places = append(places, func(x any) { v[i] = x })
					visit(v[i])
				}
			}
		}
		visit(value)
		odd := rapid.SampledFrom([]any{nil, "x", "fail", "", true, json.Number("1"), json.Number("-2.5"), json.Number("1e3"), []any{}, []any{"x"}, map[string]any{}})
		places[rapid.IntRange(0, len(places)-1).Draw(t, "place")](odd.Draw(t, "odd"))
		data, err := json.Marshal(value)
		require.NoError(t, err)
		keys := value.(map[string]any)
		if list, ok := keys["reports"].([]any); !ok || list == nil {
			return // refused before either looks
		}
		_, err = Read(bytes.NewReader(data))
		if bySchema := compiled.Validate(value); (err == nil) != (bySchema == nil) {
			// 1e3 is a whole number to the schema; the program never writes one so.
			if bytes.Contains(data, []byte(":1e3")) || bytes.Contains(data, []byte(",1e3")) || bytes.Contains(data, []byte("[1e3")) {
				return
			}
			t.Fatalf("reader: %v\nschema: %v\n%s", err, bySchema, data)
		}
		if err != nil {
			refused++
		}
	})
	assert.Positive(t, refused)
}

func TestReadRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "it cannot be read as JSON",
		"{} {}":                       "it cannot be read as JSON",
		"[]":                          "it lacks the keys format and reports",
		`{"format": 1}`:               "it lacks the keys format and reports",
		`{"format": 9, "reports": 1}`: "it is of format 9, and this program reads format",
	} {
		_, err := Read(strings.NewReader(text))
		assert.ErrorContains(t, err, want, text)
	}
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}
