package explain_test

import (
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/engine/proof"
	"plumbline/engine/report"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Every topic says something under each heading, is found by its names, and no two share one.
func TestTopicsAreFoundByTheirNames(t *testing.T) {
	seen := map[string]string{}
	for _, topic := range explain.Topics() {
		for _, name := range append([]string{topic.Name}, topic.Also...) {
			assert.Empty(t, seen[strings.ToLower(name)], "%s is a name of two topics", name)
			seen[strings.ToLower(name)] = topic.Name
			require.NotNil(t, explain.TopicNamed(name), name)
			assert.Equal(t, topic.Name, explain.TopicNamed(name).Name)
		}
		require.NotEmpty(t, topic.Sections, topic.Name)
		for _, s := range topic.Sections {
			assert.NotEmpty(t, s.Heading+s.Pack, topic.Name)
			assert.True(t, len(s.Items) > 0 || s.Pack != "", "%s: nothing stands under %s", topic.Name, s.Heading)
			for _, i := range s.Items {
				assert.NotEmpty(t, i.Text, "%s: %s", topic.Name, s.Heading)
			}
		}
	}
}

// The packs that topics show load beside nothing else, and their cases prove them whole.
func TestPacksOfTopicsAreProved(t *testing.T) {
	shown := 0
	for _, topic := range explain.Topics() {
		for _, s := range topic.Sections {
			if s.Pack == "" {
				continue
			}
			shown++
			lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(s.Pack)}})
			require.NoError(t, err, "%s: %s", topic.Name, s.Heading)
			for _, r := range proof.Cases(lib) {
				assert.Empty(t, r.Problem, "%s: %s, case %s", topic.Name, r.Rule, r.Case)
			}
			m, err := proof.Measure(lib, nil)
			require.NoError(t, err)
			assert.Positive(t, m.Cases)
			assert.Equal(t, m.Parts, m.Shown, "%s: parts seen both ways", topic.Name)
			assert.GreaterOrEqual(t, 100*m.Killed, proof.LeastNoticed*m.Mutants, "%s: mistakes noticed", topic.Name)
		}
	}
	assert.Equal(t, 5, shown)
}

// The expressions that topics show are true, or would be for any value of the facts they name.
func TestExamplesOfTopicsAreTrue(t *testing.T) {
	v, err := vocabulary.New()
	require.NoError(t, err)
	ran := 0
	for _, topic := range explain.Topics() {
		for _, s := range topic.Sections {
			for _, i := range s.Items {
				if i.Example == "" {
					continue
				}
				ran++
				p, err := v.Compile(i.Example, nil)
				require.NoError(t, err, "%s: %s", i.Code, i.Example)
				design, at := v.Root(vocabulary.NewScope(derive.NewSession(schema.Empty(), derive.Options{})))
				act, err := cel.NewActivation(map[string]any{"design": design, "at": at})
				require.NoError(t, err)
				got := p.Eval(act)
				assert.Equal(t, types.True, got, "%s: %s", i.Code, i.Example)
			}
		}
	}
	assert.Greater(t, ran, 25)
}

// What a topic tells of settings and reports is in the schemas, each key with its words.
func TestTopicsOfSchemasAreWhole(t *testing.T) {
	for name, root := range map[string]struct {
		text []byte
		def  string
	}{"settings": {schema.SettingsSchema(), "File"}, "report": {schema.ReportSchema(), "Finding"}, "forms": {schema.PackSchema(), "Rule"}} {
		var doc struct {
			Defs map[string]struct {
				Properties map[string]json.RawMessage `json:"properties"`
			} `json:"$defs"`
		}
		require.NoError(t, json.Unmarshal(root.text, &doc))
		require.NotEmpty(t, doc.Defs[root.def].Properties, name)
		var told []string
		for _, s := range explain.TopicNamed(name).Sections {
			for _, i := range s.Items {
				told = append(told, i.Code)
			}
		}
		for key := range doc.Defs[root.def].Properties {
			assert.Contains(t, told, key, name)
		}
	}
	// The formats that settings may name are those there are.
	var formats struct {
		Defs struct {
			File struct {
				Properties struct {
					Format struct {
						Enum []string `json:"enum"`
					} `json:"format"`
				} `json:"properties"`
			} `json:"File"`
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(schema.SettingsSchema(), &formats))
	assert.Equal(t, report.Formats[:], formats.Defs.File.Properties.Format.Enum)
}
