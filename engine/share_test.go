package engine_test

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// Shares are typed: what designs write in percent or ppm is read back so, in the sentence, the measure and its bounds, and
// a share never meets a plain number.
func TestSharesReadInPercent(t *testing.T) {
	lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(`pack: p
title: P
edition: 1
part: Fuel
limits:
  most: {is: 15 %, because: [{practice: p}]}
rules:
  - {id: share, title: t, danger: none, due: planned, about: design.fuel, let: {highest: "design.engine.cylinders == 6 ? limit.most : percent(10)"}, measure: design.fuel.ethanol, must: {at_most: limit.most}, say: "It holds {design.fuel.ethanol} of {limit.most}; {highest}.", mend: m, because: [{practice: p}]}
  - {id: plain, title: t, danger: none, due: planned, about: design.engine, measure: design.engine.volumetric_efficiency, must: {at_most: 0.5}, say: "It is {design.engine.volumetric_efficiency}.", mend: m, because: [{practice: p}]}
  - {id: each, title: t, danger: none, due: planned, each: {run: design.feed.runs}, measure: "smaller(run.ethanol_rating, limit.most)", must: {at_least: design.fuel.ethanol}, say: "It stands {run.ethanol_rating}.", mend: m, because: [{practice: p}]}
`)}})
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nfuel: {ethanol: 85 %}\nengine: {volumetric_efficiency: 0.8, cylinders: 6}\nfeed: {runs: [{ethanol_rating: 12.5 %}]}\n"))
	require.NoError(t, err)
	got := map[string]engine.Finding{}
	for _, f := range lib.Judge(d, engine.Options{}).Findings {
		got[f.Rule] = f
	}
	assert.Equal(t, "It holds 85 % of 15 %; 15 %.", got["p.share"].Text)
	assert.Equal(t, "85 %", got["p.share"].Measured.Text)
	assert.Equal(t, 0.85, got["p.share"].Measured.Value)
	assert.Equal(t, "15 %", got["p.share"].Bounds[0].Bound.Text)
	assert.Equal(t, "It is 0.8.", got["p.plain"].Text)
	assert.Equal(t, "0.8", got["p.plain"].Measured.Text)
	assert.Equal(t, "It stands 12.5 %.", got["p.each"].Text)
	assert.Equal(t, "12.5 %", got["p.each"].Measured.Text)
	assert.Equal(t, "15 %", lib.Limits()[0].Value.Text)
	for _, wrong := range []string{"design.fuel.ethanol > 0.1", "design.fuel.ethanol > limit.most / percent(1)", "design.engine.volumetric_efficiency > percent(80)", "design.fuel.ethanol + 0.1 > percent(3)"} {
		_, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte("pack: p\ntitle: P\nedition: 1\npart: Fuel\nlimits:\n  most: {is: 15 %, because: [{practice: p}]}\nrules:\n" +
			"  - {id: a, title: t, danger: none, due: planned, about: design.fuel, must: '" + wrong + " || design.fuel.ethanol < limit.most', say: s, mend: m, because: [{practice: p}]}\n")}})
		require.Error(t, err, wrong)
		assert.Regexp(t, "found no matching overload|is a share and needs a unit: write percent", err.Error(), wrong)
	}
}
