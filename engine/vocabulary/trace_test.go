package vocabulary

import (
	"testing"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/derive"
)

func traced(t *testing.T, text, designText string) *Trace {
	t.Helper()
	v, err := New()
	require.NoError(t, err)
	s := NewScope(derive.NewSession(design(t, designText), derive.Options{}))
	root, at := v.Root(s)
	act, err := cel.NewActivation(map[string]any{"design": root, "at": at})
	require.NoError(t, err)
	out, err := v.Trace(s, text, nil, act)
	require.NoError(t, err)
	return out
}

// every lists a trace and all below it by text.
func every(t *Trace, out map[string]ref.Val) map[string]ref.Val {
	out[t.Text] = t.Value
	for _, p := range t.Parts {
		every(p, out)
	}
	return out
}

const twoRuns = `
complete: [feed]
pump: {place: in_tank, rated_flow: 250 L/h}
feed: {runs: [{name: hose, kind: hose, bore: 8 mm}, {name: tube, kind: tube, bore: 6 mm}]}
`

// Both sides of || are there although the first decides, literals and units are not.
func TestTraceShowsEveryPart(t *testing.T) {
	top := traced(t, "design.pump.place == 'in_tank' || design.pump.rated_flow * 2.0 < L_per_h(400)", twoRuns)
	got := every(top, map[string]ref.Val{})
	require.Len(t, got, 6)
	assert.Equal(t, types.True, top.Value)
	assert.Equal(t, types.True, got["design.pump.place == 'in_tank'"])
	assert.Equal(t, types.String("in_tank"), got["design.pump.place"])
	assert.Equal(t, types.False, got["design.pump.rated_flow * 2.0 < L_per_h(400)"])
	assert.InDelta(t, 500.0/3.6e6, got["design.pump.rated_flow * 2.0"].(Quantity).Of.SI(), 1e-12)
	leaf := top.Parts[0].Parts[0]
	require.Len(t, leaf.Reads.Facts, 1)
	assert.Equal(t, "design.pump.place", leaf.Reads.Facts[0].Path())
}

func TestTraceAsksEveryItem(t *testing.T) {
	top := traced(t, "design.feed.runs.filter(r, r.kind == 'tube').all(r, r.bore > mm(7))", twoRuns)
	assert.Equal(t, types.False, top.Value)
	require.Len(t, top.Parts, 2, "the filter and the one run it leaves")
	filter := top.Parts[0]
	require.Len(t, filter.Parts, 2)
	assert.Equal(t, types.False, filter.Parts[0].Value)
	assert.Equal(t, types.True, filter.Parts[1].Value)
	asked := top.Parts[1]
	assert.Equal(t, "design.feed.runs[1]", asked.Item)
	assert.Equal(t, "tube", asked.Name)
	assert.Equal(t, "r.bore > mm(7)", asked.Text)
	assert.Equal(t, types.False, asked.Value)
}

func TestTraceOfAnUnknownList(t *testing.T) {
	top := traced(t, "design.circuits.all(c, c.fuse.fitted)", twoRuns)
	facts, _ := Missing(top.Value)
	assert.Equal(t, []string{"design.circuits"}, facts)
	assert.Empty(t, top.Parts)
}

func TestTraceOfARefusedExpression(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	s := NewScope(derive.NewSession(design(t, twoRuns), derive.Options{}))
	_, err = v.Trace(s, "design.pump.plcae == 'in_tank'", nil, cel.NoVars())
	assert.ErrorContains(t, err, "did you mean 'place'")
}
