package engine_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
)

// Leaving the cases out changes nothing that is judged.
func TestJudgingOnlyJudgesTheSame(t *testing.T) {
	whole, err := engine.Load(rules.Files())
	require.NoError(t, err)
	lean, err := engine.Load(engine.JudgingOnly(rules.Files()))
	require.NoError(t, err)
	for _, name := range []string{"six-return", "v8-in-tank", "four-faulty", "counter-half-known"} {
		data, err := os.ReadFile("../designs/demo/" + name + ".yaml")
		require.NoError(t, err)
		d, err := schema.Load(name, data)
		require.NoError(t, err)
		assert.Equal(t, whole.Judge(d, engine.Options{}), lean.Judge(d, engine.Options{}), name)
	}
	cases := 0
	for _, p := range lean.Packs() {
		for _, r := range p.Rules {
			cases += len(r.Cases)
		}
	}
	assert.Zero(t, cases)
}
