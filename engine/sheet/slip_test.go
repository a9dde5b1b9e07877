package sheet_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// Nothing that is wrong for certain is lost: every fail of the report stands on the slip, with a part or among what to add.
func TestNoFailIsLostOnTheSlip(t *testing.T) {
	lib, patterns := shipped(t)
	designs := map[string]*schema.Design{}
	for _, l := range proofs.Sample(lists(t), 3) {
		text, err := yaml.Marshal(&l.Design)
		require.NoError(t, err)
		d, err := schema.Load(l.Name, text)
		require.NoError(t, err)
		designs[l.Name] = d
	}
	files, err := filepath.Glob("../../designs/demo/*.yaml")
	require.NoError(t, err)
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		d, err := schema.LoadBased(f, data, os.ReadFile)
		require.NoError(t, err)
		designs[f] = d
	}
	fails := 0
	for name, d := range designs {
		r := lib.Judge(d, engine.Options{Patterns: patterns, Stage: "planned", Regions: []string{"us-ca", "gb"}})
		s := sheet.SlipOf(d, r, nil)
		told := map[string]bool{}
		for _, p := range s.Parts {
			for _, rule := range p.Rules {
				told[rule] = true
			}
			if p.Word == sheet.No {
				assert.Equal(t, sheet.No, s.Answer, name)
			}
		}
		for _, w := range s.Add {
			for _, rule := range w.Rules {
				told[rule] = true
			}
		}
		for i := range r.Findings {
			if f := &r.Findings[i]; f.Outcome == engine.Fail && !f.Sense && f.Conceded == nil {
				fails++
				assert.True(t, told[f.Rule], "%s: %s %s is lost", name, f.Rule, f.Subject)
			}
		}
		assert.LessOrEqual(t, len(s.Ask), 3, name)
	}
	assert.Greater(t, fails, 20)
}
