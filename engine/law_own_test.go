package engine_test

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

// shopLaw declares facts of every kind and values over them, over lists and over each other, and judges by all of them.
const shopLaw = `pack: shop/bench
title: Bench
edition: 1
part: Work
facts:
  gap: {is: length, label: gap, means: Gap at the arms., range: 0 mm..500 mm, example: 40 mm, where: tape}
  load: {is: mass, label: load, means: Load on the hook., range: 0 kg..3000 kg, example: 900 kg, where: memory}
  visits: {is: count, label: visits, means: Visits so far., range: 0..20, example: 2, where: memory}
  towed: {is: truth, label: towed, means: It tows., example: true, where: memory}
  lift: {is: word, label: lift, means: How it is lifted., words: [posts, pit], example: pit, where: eye}
limits:
  least: {is: 25 mm, because: [{practice: arms settle}]}
values:
  left:
    is: design.own.bench.gap - limit.least
    of: length
    means: what is left of the gap
    formula: gap less the least
    because: [{practice: house rule}]
  hose:
    is: sum(design.feed.runs.map(r, r.length))
    of: length
    means: hose there is
    formula: lengths added
    because: [{practice: house rule}]
  slack:
    is: design.own.bench.hose - design.own.bench.left
    of: length
    means: hose beyond the gap
    formula: hose less what is left
    because: [{practice: house rule}]
rules:
`

// shopRule is a rule of shopLaw.
func shopRule(id, says string) string {
	return "  - {id: " + id + ", title: Rule " + id + ", danger: engine, due: planned, " + says +
		", say: It is wrong., met: It is right., mend: Mend it., because: [{practice: house rule}]}\n"
}

// The law holds where a shop declares facts and values: stating more of them, or of ours below them, only settles.
func TestMoreFactsOfAShopNeverChangeAFinding(t *testing.T) {
	t.Parallel()
	text := shopLaw +
		shopRule("left", "about: design.own.bench, measure: design.own.bench.left, must: {at_least: 0 mm}") +
		shopRule("slack", "about: design.own.bench, measure: design.own.bench.slack, must: {at_least: 1 m}") +
		shopRule("towed", "about: design.own.bench, applies: design.own.bench.towed, measure: design.own.bench.load, must: {at_most: 1500 kg}") +
		shopRule("either", "about: design.own.bench, must: \"design.own.bench.lift == 'pit' || design.own.bench.visits > 3 || design.own.bench.gap > mm(100)\"") +
		shopRule("each", "each: {r: design.feed.runs}, must: \"r.length > design.own.bench.gap && !design.own.bench.towed\"") +
		shopRule("longest", "about: design.feed, measure: \"greatest(design.feed.runs.map(r, r.length))\", must: {at_most: 2 m}")
	lib, err := engine.Load(fstest.MapFS{"bench.yaml": {Data: []byte(text)}})
	require.NoError(t, err)
	day := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	settled, compared, judged := 0, 0, map[string]int{}
	for i := range uint64(160) {
		g := newGrowth(i)
		g.declared = lib.Declared()
		design := g.part("Design", 0.9)
		var reports []*engine.Report
		for range 5 {
			d, err := lib.Declared().LoadNode("random.yaml", design)
			if err != nil {
				break
			}
			reports = append(reports, lib.Judge(d, engine.Options{NoAssumptions: true, Today: day}))
			design = g.thin(design, 0.1)
			g.unnamed(design, 0.3)
		}
		for k := 0; k+1 < len(reports); k++ {
			s, c := compareReports(t, int(i), reports[k+1], reports[k])
			settled, compared = settled+s, compared+c
			for _, f := range reports[k].Findings {
				if strings.HasPrefix(f.Rule, "shop/") && (f.Outcome == engine.Pass || f.Outcome == engine.Fail) {
					judged[f.Rule+" "+string(f.Outcome)]++
				}
			}
		}
	}
	t.Logf("%d passes and fails compared, %d settled: %v", compared, settled, judged)
	assert.Len(t, judged, 12, "every rule passes and fails")
	assert.Greater(t, settled, 100)
}
