package engine_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema/document"
)

// productPack multiplies in each place where a rule may: a hydraulic power by let and measure, a velocity in a value of the pack.
const productPack = `pack: shop/work
title: Work
edition: 1
part: Fuel pump
limits:
  most: {is: 15 W, because: [{practice: p}]}
  bore: {is: 50 mm2, because: [{practice: p}]}
facts:
  drain: {is: flow, label: drain, means: Flow at the drain., range: 0 L/h..500 L/h, example: 100 L/h, where: tape}
values:
  speed:
    is: design.own.work.drain / limit.bore
    of: velocity
    means: how fast it runs at the drain
    formula: flow by area
    because: [{practice: p}]
rules:
  - id: power
    title: t
    danger: none
    due: planned
    about: design.pump
    let: {moment: design.pump.rated_flow * design.pump.rated_pressure}
    measure: moment
    must: {at_most: limit.most}
    say: "{moment} and {2.0 * moment}"
    mend: m
    because: [{practice: p}]
  - {id: speed, title: t, danger: none, due: planned, about: design.own.work, measure: design.own.work.speed, must: {at_most: 1 m/s}, say: "{design.own.work.speed}", mend: m, because: [{practice: p}]}
`

// 255 L/h at 300 kPa are 21.25 W; 360 L/h through 50 mm2 run at 2 m/s.
func TestRulesMultiply(t *testing.T) {
	files := fstest.MapFS{"p.yaml": {Data: []byte(productPack)}}
	lib, err := engine.Load(files)
	require.NoError(t, err)
	design := "pump: {rated_flow: 255 L/h, rated_pressure: 300 kPa}\n"
	_, found := reportOf(t, lib, design)
	f := found["shop/work.power"]
	assert.Equal(t, engine.Fail, f.Outcome)
	assert.InDelta(t, 21.25, f.Measured.Value, 1e-9)
	assert.Contains(t, f.Text, "42.5 W")
	root, err := document.Parse("d.yaml", []byte("plumbline: 1\nown: {work: {drain: 360 L/h}}\n"))
	require.NoError(t, err)
	d, err := lib.Declared().LoadNode("d.yaml", root)
	require.NoError(t, err)
	for _, f := range lib.Judge(d, engine.Options{}).Findings {
		if f.Rule == "shop/work.speed" {
			assert.Equal(t, engine.Fail, f.Outcome)
			assert.InDelta(t, 2, f.Measured.Value, 1e-9)
		}
	}
	// From an image they come as from packs; those that declare facts of their own have none.
	head, rest, _ := strings.Cut(productPack, "facts:\n")
	_, rules, _ := strings.Cut(rest, "rules:\n")
	rules, _, _ = strings.Cut(rules, "  - {id: speed")
	head, _, _ = strings.Cut(head, "  bore:")
	files = fstest.MapFS{"p.yaml": {Data: []byte(head + "rules:\n" + rules)}}
	lib, err = engine.Load(files)
	require.NoError(t, err)
	image, err := engine.WriteImage(files)
	require.NoError(t, err)
	again, err := engine.WriteImage(files)
	require.NoError(t, err)
	assert.Equal(t, image, again)
	opened, err := engine.OpenImage(files, image)
	require.NoError(t, err)
	want, _ := reportOf(t, lib, design)
	got, found := reportOf(t, opened, design)
	assert.True(t, sameReport(t, want, got))
	assert.Contains(t, found["shop/work.power"].Text, "42.5 W")
}
