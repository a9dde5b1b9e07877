package engine_test

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// Leaving the cases out changes nothing that is judged.
func TestJudgingOnlyJudgesTheSame(t *testing.T) {
	t.Parallel()
	whole, err := engine.Load(rules.Files())
	require.NoError(t, err)
	lean, err := engine.Load(engine.JudgingOnly(rules.Files()))
	require.NoError(t, err)
	for _, name := range []string{"six-return", "van-v6-in-tank", "four-faulty", "counter-half-known"} {
		data, err := os.ReadFile("../designs/demo/" + name + ".yaml")
		require.NoError(t, err)
		d, err := schema.Load(name, data)
		require.NoError(t, err)
		assert.True(t, sameReport(t, whole.Judge(d, engine.Options{}), lean.Judge(d, engine.Options{})), name)
	}
	// The packs of other regions are not needed, whatever the regions are.
	data, err := os.ReadFile("../designs/demo/six-return.yaml")
	require.NoError(t, err)
	d, err := schema.Load("six-return", data)
	require.NoError(t, err)
	for _, r := range proofs.Sample(whole.Regions(), 12) {
		o := engine.Options{Regions: []string{r.Name, "us-nowhere"}}
		some, err := engine.Load(engine.JudgingIn(rules.Files(), o.Regions))
		require.NoError(t, err)
		assert.True(t, sameReport(t, whole.Judge(d, o), some.Judge(d, o)), r.Name)
		assert.Len(t, some.Regions(), len(whole.Regions()))
	}
	none, err := engine.Load(engine.JudgingIn(rules.Files(), nil))
	require.NoError(t, err)
	for _, p := range none.Packs() {
		assert.True(t, len(p.Regions) == 0 || len(p.Rules) == 0, p.Pack)
	}
	cases := 0
	for _, p := range lean.Packs() {
		for _, r := range p.Rules {
			cases += len(r.Cases)
		}
	}
	assert.Zero(t, cases)
}

// sameReport compares what two reports say; the programs that their grounds keep are compiled anew by each library.
func sameReport(t *testing.T, a, b *engine.Report) bool {
	one, err := json.Marshal(a)
	require.NoError(t, err)
	other, err := json.Marshal(b)
	require.NoError(t, err)
	return bytes.Equal(one, other)
}
