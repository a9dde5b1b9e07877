package engine_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

const basePack = `pack: base
title: Base
edition: 1
part: Fuel pump
limits:
  least: {is: 1.15, because: [{practice: p}]}
  most: {is: 500 kPa, because: [{practice: p}]}
  hot: {is: 60 degC, because: [{practice: p}]}
  both: {is: 3 mm, because: [{practice: p}]}
rules:
  - {id: least, title: t, danger: engine, due: planned, about: design.engine, measure: design.engine.volumetric_efficiency, should: {at_least: limit.least}, say: s, mend: m, because: [{practice: p}]}
  - {id: most, title: t, danger: engine, due: planned, about: design.regulator, measure: design.regulator.setting, must: {at_most: limit.most}, say: s, mend: m, because: [{practice: p}]}
  - {id: hot, title: t, danger: fire, due: planned, about: design.climate, must: design.climate.hot_fuel <= limit.hot, say: s, mend: m, because: [{practice: p}]}
  - {id: both, title: t, danger: engine, due: planned, about: design.regulator, must: "design.tank.exhaust_clearance > limit.both || design.tank.pickup_above_bottom < limit.both", say: s, mend: m, because: [{practice: p}]}
`

func withLocal(t *testing.T, lines ...string) (*engine.Library, error) {
	t.Helper()
	local := "pack: shop/house\ntitle: House\nedition: 1\npart: Shop\n" + strings.Join(lines, "\n") + "\n"
	return engine.Load(fstest.MapFS{"base.yaml": {Data: []byte(basePack)}}, fstest.MapFS{"house.yaml": {Data: []byte(local)}})
}

func outcomes(t *testing.T, lib *engine.Library, design string) map[string]engine.Outcome {
	t.Helper()
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+design))
	require.NoError(t, err)
	out := map[string]engine.Outcome{}
	for _, f := range lib.Judge(d, engine.Options{}).Findings {
		out[f.Rule] = f.Outcome
	}
	return out
}

const regulator450 = "regulator: {setting: 450 kPa}\n"

func TestTightenMovesALimit(t *testing.T) {
	lib, err := withLocal(t, "tighten: [{limit: base.most, is: 400 kPa, reason: house rule}]")
	require.NoError(t, err)
	assert.Equal(t, engine.Fail, outcomes(t, lib, regulator450)["base.most"])
	plain, err := withLocal(t)
	require.NoError(t, err)
	assert.Equal(t, engine.Pass, outcomes(t, plain, regulator450)["base.most"])
	for _, l := range lib.Limits() {
		if l.Name == "base.most" {
			assert.Equal(t, "lower", l.Stricter)
			require.Len(t, l.Steps, 2)
			assert.Equal(t, "tightened", l.Steps[1].How)
			assert.Equal(t, "house.yaml", l.Steps[1].Place.File)
		}
	}
}

func TestTheStrictestTighteningHolds(t *testing.T) {
	house := func(name, is string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte("pack: shop/" + name + "\ntitle: House\nedition: 1\npart: Shop\ntighten: [{limit: base.most, is: " + is + ", reason: r}]\n")}
	}
	lib, err := engine.Load(fstest.MapFS{"base.yaml": {Data: []byte(basePack)}}, fstest.MapFS{"a.yaml": house("a", "400 kPa"), "b.yaml": house("b", "470 kPa"), "c.yaml": house("c", "400 kPa")})
	require.NoError(t, err)
	assert.Equal(t, engine.Fail, outcomes(t, lib, regulator450)["base.most"])
	var how []string
	for _, l := range lib.Limits() {
		for _, s := range l.Steps {
			if l.Name == "base.most" {
				how = append(how, s.How)
			}
		}
	}
	assert.Equal(t, []string{"set", "tightened", "left", "same"}, how)
}

func TestRaiseMakesAWarningAFail(t *testing.T) {
	lib, err := withLocal(t, "raise: [{rule: base.least, reason: comebacks}]")
	require.NoError(t, err)
	assert.Equal(t, engine.Fail, outcomes(t, lib, "engine: {volumetric_efficiency: 0.8}\n")["base.least"])
}

func TestLoosenedStandsInTheReport(t *testing.T) {
	lib, err := withLocal(t, "loosen:", "  - {limit: base.most, is: 600 kPa, reason: tested here}", "  - {rule: base.most, reason: only a hint for us}")
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nregulator: {setting: 650 kPa}\n"))
	require.NoError(t, err)
	r := lib.Judge(d, engine.Options{})
	require.Len(t, r.Loosened, 2)
	assert.Equal(t, "limit base.most", r.Loosened[0].What)
	assert.Contains(t, r.Loosened[0].From, "500 kPa")
	assert.Equal(t, engine.Warn, outcomes(t, lib, "regulator: {setting: 650 kPa}\n")["base.most"])
	assert.Equal(t, engine.Pass, outcomes(t, lib, "regulator: {setting: 550 kPa}\n")["base.most"])
}

func TestRefusedAdjustments(t *testing.T) {
	for name, x := range map[string]struct{ line, want string }{
		"tighten that loosens":    {"tighten: [{limit: base.most, is: 600 kPa, reason: r}]", "loosens it, which needs loosen"},
		"loosen that tightens":    {"loosen: [{limit: base.least, is: 1.3, reason: r}]", "does not loosen it; write it under tighten"},
		"loosen without a reason": {"loosen: [{limit: base.least, is: 1.0}]", `lacks "reason"`},
		"number in quotes":        {`tighten: [{limit: base.least, is: "1.3", reason: r}]`, "without quotes: is: 1.3"},
		"empty reason":            {"loosen: [{limit: base.least, is: 1.0, reason: ' '}]", "the reason is empty"},
		"limit changed twice":     {"tighten: [{limit: base.most, is: 400 kPa, reason: a}, {limit: base.most, is: 470 kPa, reason: b}]", "the limit base.most is changed at line 5 already"},
		"tightened and loosened":  {"tighten: [{limit: base.most, is: 400 kPa, reason: a}]\nloosen: [{limit: base.most, is: 470 kPa, reason: b}]", "the limit base.most is changed at line 5 already"},
		"raised and loosened":     {"raise: [{rule: base.least, reason: a}]\nloosen: [{rule: base.least, reason: b}]", "the rule base.least is changed at line 5 already"},
		"limit without its pack":  {"tighten: [{limit: most, is: 400 kPa, reason: r}]", "did you mean base.most?"},
		"loosen fire":             {"loosen: [{limit: base.hot, is: 70 degC, reason: r}]", "cannot be loosened: base.hot guards against fire"},
		"loosen a fire rule":      {"loosen: [{rule: base.hot, reason: r}]", "cannot be loosened: it guards against fire"},
		"loosen a should":         {"loosen: [{rule: base.least, reason: r}]", "no must to loosen"},
		"raise a must":            {"raise: [{rule: base.most, reason: r}]", "no should to raise"},
		"both ways":               {"tighten: [{limit: base.both, is: 2 mm, reason: r}]", "use it both ways"},
		"misspelt limit":          {"tighten: [{limit: base.mots, is: 2 mm, reason: r}]", "did you mean base.most?"},
		"misspelt rule":           {"raise: [{rule: base.leest, reason: r}]", "did you mean base.least?"},
		"wrong dimension":         {"tighten: [{limit: base.most, is: 3 mm, reason: r}]", "the limit is a pressure"},
		"no value":                {"tighten: [{limit: base.most, reason: r}]", "write is"},
		"rule and limit":          {"raise: [{rule: base.least, limit: base.least, reason: r}]", "name a rule alone"},
		"limit and rule":          {"tighten: [{rule: base.least, reason: r}]", "name a limit"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := withLocal(t, x.line)
			require.Error(t, err)
			assert.Contains(t, err.Error(), x.want)
			assert.Regexp(t, `house\.yaml:[56]:`, err.Error())
		})
	}
}

// A limit a shop may want to tighten says by its rules which way that is; the
// few that are used both ways are known.
func TestWhichLimitsCannotBeAdjusted(t *testing.T) {
	lib := library(t)
	var untold []string
	for _, l := range lib.Limits() {
		if l.Stricter == "" {
			untold = append(untold, l.Name)
		}
	}
	assert.Less(t, len(untold), len(lib.Limits())/10, untold)
}
