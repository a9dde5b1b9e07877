package vocabulary

import (
	"fmt"
	"testing"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// told is everything a rule learns from an evaluation.
func told(s *Scope, v ref.Val) string {
	facts, reasons := Missing(v)
	out := fmt.Sprintf("%T", v)
	switch x := v.(type) {
	case *types.Unknown:
		out = fmt.Sprint("unknown ", facts, reasons)
	case *types.Err:
		absent, _ := AbsentPart(v)
		out = fmt.Sprint("error ", x, " ", absent)
	case *object:
		out = "part " + PathOf(v)
	case types.Bool, types.String, types.Double, types.Int, Quantity:
		out = fmt.Sprint(v)
	}
	for _, f := range s.Reads().Facts {
		out += "; fact " + f.Path()
	}
	for _, r := range s.Reads().Derived {
		out += "; value " + r.Path
	}
	for _, p := range s.Reads().Assumed {
		out += "; assumed " + p
	}
	return out
}

// Looked up beforehand or step by step by cel-go itself, an expression comes to
// the same, and reads the same.
func TestPlannedExpressionsComeToTheSame(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	designs := map[string]*schema.Design{
		"nothing": design(t, ""),
		"some": design(t, `
pump: {place: in_tank, rated_flow: 250 L/h, check_valve: true}
return_line: none
fuel: {ethanol: 10 %}
exhaust: {catalyst: none}
feed: {rise: 1 m, runs: [{name: hose, kind: hose, bore: 8 mm}, {name: tube, kind: tube}]}
circuits: [{name: a, fuse: none, load: {runs_at: [idle, cruise]}}, {name: b, fuse: {rating: 10 A}}]
`),
		"another": design(t, `
pump: {place: frame_rail}
return_line: {rise: -1 m, runs: []}
exhaust: {catalyst: {distance: 1 m}}
engine: {power: 100 kW, specific_consumption: 300 g/kWh}
fuel: {ethanol: 0 %, density: 0.74 kg/L}
`),
	}
	for _, text := range []string{
		"design.pump.place",
		"design.pump.place == 'in_tank' && design.pump.rated_flow > L_per_h(200)",
		"design.pump.place in ['in_tank', 'in_surge_tank'] || design.pump.check_valve",
		"!(design.pump.place in ['frame_rail'])",
		"design.return_line.fitted && design.return_line.rise < mm(-500)",
		"design.return_line.rise",
		"design.return_line.fitted ? design.return_line.rise : design.feed.rise",
		"(design.pump.place == 'in_tank' ? design.suction : design.return_line).rise > mm(3)",
		"(design.pump.place == 'in_tank' ? design.pump.curve[0] : design.pump.curve[1]).flow",
		"design.pump.curve[0].flow > L_per_h(7)", "design.pump.curve[7].flow > L_per_h(7)",
		"design.feed.runs.all(design, design.bore > mm(7))",
		"design.feed.runs.exists(r, r.bore > mm(7) && r.kind == 'hose')",
		"design.feed.runs.filter(r, r.kind == 'tube').map(r, r.bore)[0]",
		"design.circuits.all(c, !c.fuse.fitted || c.fuse.rating < A(20))",
		"design.circuits.exists(c, 'idle' in c.load.runs_at)",
		"design.fuel.ethanol > percent(5)", "design.fuel.hot_density", "design.exhaust.catalyst.distance",
		"at.full_load.fuel_mass_demand > q('10 kg/h')", "at.full_load.fuel_mass_demand",
		"design.pump", "at.idle",
	} {
		p, err := v.Compile(text, nil)
		require.NoError(t, err, text)
		tree, iss := compile(v.base, text)
		require.NoError(t, iss.Err(), text)
		plain, err := v.base.Program(tree)
		require.NoError(t, err, text)
		for name, d := range designs {
			var got [2]string
			for i, eval := range []func(cel.Activation) ref.Val{p.Eval, (&Program{prog: plain}).Eval} {
				s := NewScope(derive.NewSession(d, derive.Options{}))
				root, at := v.Root(s)
				act, err := cel.NewActivation(map[string]any{"design": root, "at": at})
				require.NoError(t, err)
				for range 2 { // the second time from what is kept
					s.Start()
					got[i] += told(s, eval(act)) + "\n"
				}
			}
			assert.Equal(t, got[1], got[0], "%s on %s", text, name)
		}
	}
}

// A chain alone and units are looked up and worked out beforehand.
func TestPlanKnowsChainsBeforehand(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	for text, fields := range map[string]int{
		"design.pump.place": 2, "at.idle.fuel_demand": 2, "design.return_line.fitted": 2,
		"design.pump.check_valve || design.pump.isolated": 0, "design.pump.curve[0].flow": 0,
	} {
		p, err := v.Compile(text, nil)
		require.NoError(t, err, text)
		if fields == 0 {
			assert.Nil(t, p.chain, text)
			continue
		}
		require.NotNil(t, p.chain, text)
		assert.Len(t, p.chain.fields, fields, text)
	}
}

// What one evaluation has read is read again by the next.
func TestEveryEvaluationNotesWhatItReads(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	s := NewScope(derive.NewSession(design(t, twoRuns), derive.Options{}))
	root, at := v.Root(s)
	act, err := cel.NewActivation(map[string]any{"design": root, "at": at})
	require.NoError(t, err)
	p, err := v.Compile("design.pump.place == 'in_tank' || design.pump.place == 'frame_rail'", nil)
	require.NoError(t, err)
	for range 3 {
		s.Start()
		assert.Empty(t, s.Reads().Facts)
		p.Eval(act)
		p.Eval(act)
		require.Len(t, s.Reads().Facts, 1, "each once")
		assert.Equal(t, "design.pump.place", s.Reads().Facts[0].Path())
	}
}
