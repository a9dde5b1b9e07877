package engine_test

import (
	"testing"
	"time"

	"github.com/google/cel-go/cel"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// plainExpressions are the conditions of the ten rules in plain CEL over a map of numbers and words: what evaluating them
// costs without unknowns, units, findings and texts.
var plainExpressions = []string{
	"d.stop_control in ['controller_speed_signal', 'oil_pressure_switch']", "d.ethanol_rating >= d.ethanol", "d.inertia_switch",
	"d.opening_at_floor >= 0.95", "!(d.linkage in ['cable', 'rod']) || d.pedal_stop", "!(d.place in ['in_tank', 'in_surge_tank']) || d.rated_submersible",
	"d.circuits.all(c, !c.fused || c.fuse_place != 'engine_bay_open')", "d.circuits.all(c, c.source == 'other_circuit' || c.fused)",
	"d.runs.all(r, r.kind != 'hose' || r.material == 'ptfe_braided' || !(r.mark in ['unmarked', 'sae_j30_r13']))", "d.harness_clearance >= 0.0127",
}

func plainPrograms(t *testing.T) func() {
	env, err := cel.NewEnv(cel.Variable("d", cel.MapType(cel.StringType, cel.DynType)))
	require.NoError(t, err)
	circuit := map[string]any{"fused": true, "fuse_place": "cabin", "source": "battery"}
	run := map[string]any{"kind": "hose", "material": "rubber", "mark": "sae_j30_r9"}
	facts := map[string]any{"d": map[string]any{"stop_control": "controller_speed_signal", "ethanol_rating": 0.2, "ethanol": 0.1, "inertia_switch": true,
		"opening_at_floor": 0.98, "linkage": "cable", "pedal_stop": true, "place": "in_tank", "rated_submersible": true, "harness_clearance": 0.02,
		"circuits": []map[string]any{circuit, circuit, circuit, circuit, circuit, circuit, circuit}, "runs": []map[string]any{run, run, run, run, run, run}}}
	var programs []cel.Program
	for _, text := range plainExpressions {
		tree, iss := env.Compile(text)
		require.NoError(t, iss.Err(), text)
		p, err := env.Program(tree, cel.EvalOptions(cel.OptOptimize))
		require.NoError(t, err)
		programs = append(programs, p)
	}
	return func() {
		for _, p := range programs {
			if v, _, err := p.Eval(facts); err != nil || v.Value() != true {
				t.Fatal(v, err)
			}
		}
	}
}

// How dear things are beside each other, in one process and by turns, the cheapest of many tries of each: a machine that
// is busy slows both. Each bound is about a third above what was
// measured on two idle cores when it was set: 6.8, 2.4 and 0.025.
func TestRatiosOfSpeed(t *testing.T) {
	proofs.Alone(t)
	lib, err := engine.OpenImage(rules.Files(), rules.Image())
	require.NoError(t, err)
	var names []string
	for name := range tenByHand() {
		names = append(names, name)
	}
	ten, plain, text := lib.Only(names...), plainPrograms(t), []byte(designText(t, "demo/six-return.yaml"))
	d, err := schema.Load("six", text)
	require.NoError(t, err)
	for _, x := range []struct {
		what       string
		dear, base func()
		times      int
		most       float64
	}{
		{"ten rules with their findings : the same in plain CEL", func() { ten.Judge(d, engine.Options{}) }, plain, 300, 9.5},
		{"judging a complete design : reading it", func() { lib.Judge(d, engine.Options{}) }, func() { _, _ = schema.Load("six", text) }, 60, 3.3},
		{"opening the library : compiling its packs", func() { _, _ = engine.OpenImage(rules.Files(), rules.Image()) }, func() { _, _ = engine.Load(rules.Files()) }, 5, 0.04},
	} {
		least := func(now time.Duration, do func()) time.Duration {
			begin := time.Now()
			do()
			return min(now, time.Since(begin))
		}
		dear, base := time.Hour, time.Hour
		for range x.times {
			dear, base = least(dear, x.dear), least(base, x.base)
		}
		ratio := float64(dear) / float64(base)
		t.Logf("%s: %s : %s = %.3g", x.what, dear, base, ratio)
		assert.LessOrEqual(t, ratio, x.most, x.what)
	}
}
