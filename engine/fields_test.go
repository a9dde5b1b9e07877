package engine

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// What the derived values that rules name read on complete designs is what they say they need. What rules read themselves is told
// by the types of their expressions.
func TestValuesReadNothingBesideTheirNeeds(t *testing.T) {
	lib, err := OpenImage(rules.Files(), rules.Image())
	require.NoError(t, err)
	files, err := filepath.Glob("../designs/good/*.yaml")
	require.NoError(t, err)
	told := map[string]bool{}
	of := func(reader string, may fields, path string) {
		p := schema.Path(path)
		if at, _, item := p.Split(); item {
			p = at // of a list of facts
		}
		name := schema.TypeAt(string(p.Parent())) + "." + p.Key()
		if key := reader + " " + name; p.Key() != "name" && !may[name] && !told[key] {
			told[key] = true
			assert.Fail(t, "reads another fact", "%s reads %s", reader, name)
		}
	}
	for n, file := range files {
		if !proofs.Whole() && n%12 != 0 {
			continue
		}
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		d, err := schema.LoadBased(file, data, os.ReadFile)
		require.NoError(t, err)
		j := lib.open(d, Options{}, lib.values(Options{}))
		for _, r := range lib.rules {
			j.rules([]*rule.Rule{r})
			for _, value := range j.scope.Reads().Derived {
				if value.Entry != nil {
					name := value.Entry.On + "." + value.Entry.Name
					value.Follow(map[*derive.Result]bool{}, func(path string) { of(name, valueFields()[name], path) })
				}
			}
		}
	}
}
