package proof_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/proof"
)

// The cases proposed for a rule without any, put under it, are right and leave nothing missing.
func TestProposedCasesProveARule(t *testing.T) {
	data, err := os.ReadFile("testdata/bare.yaml")
	require.NoError(t, err)
	lib, err := engine.Load(fstest.MapFS{"bare.yaml": {Data: data}})
	require.NoError(t, err)
	rules := strings.Split(string(data), "\n  - id: ")
	for i := range rules[1:] {
		id, _, _ := strings.Cut(rules[i+1], "\n")
		list := proof.Propose(lib, "house/prop."+id)
		require.NotEmpty(t, list, id)
		rules[i+1] = strings.TrimRight(rules[i+1], "\n") + "\n    cases:"
		for _, p := range list {
			rules[i+1] += "\n      " + p.Text
		}
	}
	text := strings.Join(rules, "\n  - id: ") + "\n"
	lib, err = engine.Load(fstest.MapFS{"bare.yaml": {Data: []byte(text)}})
	require.NoError(t, err, text)
	for _, r := range proof.Cases(lib) {
		assert.Empty(t, r.Problem, "%s %s", r.Rule, r.Case)
	}
	for i := range rules[1:] {
		id, _, _ := strings.Cut(rules[i+1], "\n")
		assert.Empty(t, proof.Propose(lib, "house/prop."+id), "%s lacks nothing more", id)
	}
}
