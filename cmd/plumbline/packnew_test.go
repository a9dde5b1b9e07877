package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/explain"
	"plumbline/engine/pack"
	"plumbline/engine/proof"
	"plumbline/rules"
)

// What pack new writes is right beside the library as it is: it loads, its cases prove it whole, and what its comments say
// holds, the lines that wait to be put in force included.
func TestStartersAreRight(t *testing.T) {
	for name, text := range map[string]string{
		"house": strings.Replace(starterPack, "pack: NAME", "pack: house/own", 1),
		"in force": strings.NewReplacer("pack: NAME", "pack: house/own", "# tighten:", "tighten:", "# raise:", "raise:", "#   - {limit: fuel", "  - {limit: fuel", "#   - {rule: fuel", "  - {rule: fuel").
			Replace(starterPack),
		"region": strings.ReplaceAll(strings.Replace(starterRegion, "pack: NAME", "pack: regions/xx", 1), "REGION", "xx"),
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			require.NoError(t, os.WriteFile(filepath.Join(dir, "p.yaml"), []byte(text), 0o600))
			lib, err := engine.OpenImage(rules.Files(), rules.Image(), os.DirFS(dir))
			require.NoError(t, err)
			var own []string
			for _, p := range lib.Packs() {
				if p.Local {
					require.Len(t, p.Rules, 1)
					own = append(own, p.Pack+"."+p.Rules[0].ID)
					assert.Equal(t, name == "in force", len(p.Tighten) == 1 && len(p.Raise) == 1)
				}
			}
			require.Len(t, own, 1)
			for _, r := range proof.Cases(lib.Only(own...)) {
				assert.Empty(t, r.Problem, r.Case)
			}
			m, err := proof.Measure(lib.Only(own...), nil)
			require.NoError(t, err)
			assert.Positive(t, m.Parts)
			assert.Equal(t, m.Parts, m.Shown)
			assert.Equal(t, m.Mutants, m.Killed)
		})
	}
	for _, key := range []string{"Danger", "Due"} {
		f, _ := reflect.TypeFor[pack.Rule]().FieldByName(key)
		for word := range strings.SplitSeq(f.Tag.Get("jsonschema"), ",") {
			if word, is := strings.CutPrefix(word, "enum="); is {
				assert.Regexp(t, `(?m)^ *# .*\b`+word+`\b`, starterPack, "the comment leaves a word out")
			}
		}
	}
	for _, topic := range regexp.MustCompile(`forms|functions|units`).FindAllString(strings.SplitN(starterPack, "\n", 2)[0], -1) {
		assert.NotNil(t, explain.TopicNamed(topic), topic)
	}
}
