package vocabulary

import (
	"testing"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/derive"
	"plumbline/schema"
)

func evaluate(t *testing.T, v *Vocabulary, d *schema.Design, text string) ref.Val {
	t.Helper()
	p, err := v.Compile(text, nil)
	require.NoError(t, err, text)
	s := NewScope(derive.NewSession(d, derive.Options{}))
	design, at := v.Root(s)
	act, err := cel.NewActivation(map[string]any{"design": design, "at": at})
	require.NoError(t, err)
	return p.Eval(act)
}

func design(t *testing.T, text string) *schema.Design {
	t.Helper()
	d, err := schema.Load("design.yaml", []byte("plumbline: 1\n"+text))
	require.NoError(t, err)
	return d
}

func TestFactsAndUnknowns(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	d := design(t, `
pump: {place: in_tank, rated_flow: 255 L/h}
return_line: none
complete: [feed]
feed:
  runs:
    - {name: hose, kind: hose, bore: 8 mm}
    - {name: tube, kind: tube}
`)
	for text, want := range map[string]ref.Val{
		"design.pump.place == 'in_tank'":                            types.True,
		"design.pump.rated_flow > q('50 gal/h')":                    types.True,
		"design.pump.rated_flow * 2.0 < L_per_h(500)":               types.False,
		"design.return_line.fitted":                                 types.False,
		"design.feed.runs.exists(r, r.kind == 'tube')":              types.True,
		"design.feed.runs.all(r, r.bore > mm(9))":                   types.False,
		"design.feed.runs.size() == 2":                              types.True,
		"design.pump.place == 'in_tank' || design.pump.check_valve": types.True,
		"design.pump.rated_flow / L_per_h(510) < 0.51":              types.True,
	} {
		assert.Equal(t, want, evaluate(t, v, d, text), text)
	}
	for text, missing := range map[string][]string{
		"design.pump.check_valve":                                   {"design.pump.check_valve"},
		"design.pump.place == 'in_tank' && design.pump.check_valve": {"design.pump.check_valve"},
		"design.feed.runs.all(r, r.bore > mm(7))":                   {"design.feed.runs[1].bore"},
		"design.suction.fitted":                                     {"design.suction"},
		"design.suction.rise > mm(2)":                               {"design.suction.rise"},
		"design.circuits.all(c, c.fuse.fitted)":                     {"design.circuits"},
		"design.pump.rated_flow > design.pump.rated_flow && within(design.regulator.setting, kPa(300), kPa(1)) || design.pump.isolated": {"design.pump.isolated"},
		"at.full_load.fuel_mass_demand > q('10 kg/h')": {"design.engine.consumption_ethanol", "design.engine.net_share", "design.engine.power", "design.engine.power_as", "design.engine.specific_consumption", "design.fuel.ethanol"},
	} {
		facts, reasons := Missing(evaluate(t, v, d, text))
		assert.Equal(t, missing, facts, text)
		assert.Empty(t, reasons, text)
	}
	part, absent := AbsentPart(evaluate(t, v, d, "design.return_line.rise > mm(2)"))
	assert.True(t, absent)
	assert.Equal(t, "design.return_line", part)
}

func TestRefusals(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	for text, want := range map[string]string{
		"design.pump.rated_flow > psi(100)":           "found no matching overload for '_>_' applied to '(Flow, Pressure)'",
		"design.pump.plcae == 'in_tank'":              "did you mean 'place'",
		"design.pump.rated_flow > limit.lowe":         "the pack has no limit of this name",
		"design.pump.place == 'in_tnk'":               "did you mean 'in_tank'",
		"design.pump.place in ['in_tank','frame']":    "'frame' is not a word",
		"has(design.pump.place)":                      "there is no has()",
		"design.pump.rated_flow == L_per_h(3)":        "never exactly equal",
		"design.engine.volumetric_efficiency == 0.1":  "never exactly equal",
		"design.fuel.ethanol == percent(10)":          "never exactly equal",
		"design.fuel.ethanol == 0.1":                  "is a share and needs a unit: write percent(0.1)",
		"design.pump.rated_flow > 100":                "needs a unit: write L_per_h(100)",
		"design.climate.hot_fuel + degC(2) > degC(3)": "rise(from, to)",
		"psia(3) > psi(3)":                            "AbsolutePressure",
		"design.feed.runs.all(r, r.kind == 'tub')":    "did you mean 'tube'",
		"q('3 furlong') > mm(2)":                      "furlong",
	} {
		_, err := v.Compile(text, nil)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want, text)
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		_, _ = New()
	}
}

func BenchmarkCompile(b *testing.B) {
	v, _ := New()
	for b.Loop() {
		_, _ = v.Compile("design.pump.place == 'in_tank' && design.pump.rated_flow > L_per_h(100)", nil)
	}
}

func BenchmarkExtend(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		v, _ := New()
		b.StartTimer()
		_, _ = v.Compile("run.bore > mm(3)", []Variable{{Name: "run", Type: types.NewObjectType("plumbline.Run")}})
	}
}

// Every function's example holds as written, so the documentation is true.
func TestExamplesHold(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	for _, f := range append(Operators(), Functions()...) {
		assert.NotEmpty(t, f.Doc, f.Name)
		assert.Equal(t, types.True, evaluate(t, v, schema.Empty(), f.Example), "%s: %s", f.Name, f.Example)
	}
}
