package engine_test

import (
	"testing"
	"testing/fstest"

	"plumbline/engine"
	"plumbline/engine/proof"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Whatever the bytes of a pack, loading ends in a library or in problems, and
// a library that loads can judge an empty design and run its cases.
func FuzzPack(f *testing.F) {
	f.Add(packWith("must: design.pump.check_valve", because))
	f.Add(packWith("each: {x: design.feed.runs}", "measure: x.bore", "must: {at_least: 3 mm}", because))
	f.Add("limits: {l: {is: 3 L/h, because: [{practice: p}]}}\n" + packWith("must: design.pump.rated_flow > limit.l", because))
	f.Add("tables: {t: {key: k, columns: {p: pressure}, rows: [{k: a, p: 3 psi}], because: [{practice: p}]}}\n" +
		packWith("must: table.t['a'].p < design.regulator.setting", because, "cases: [{name: a, given: {regulator: {setting: 3 psi}}, expect: fail}]"))
	f.Add("sources: {s: {kind: law, title: t, edition: e, seen: 2026-01-31, read: text}}\n" + packWith("must: design.pump.place == 'in_tank'", "because: [{source: s}]"))
	f.Fuzz(func(t *testing.T, pack string) {
		lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(pack)}})
		if err != nil {
			return
		}
		lib.Judge(schema.Empty(), engine.Options{})
		proof.Cases(lib)
	})
}

// Whatever the text of an expression, compiling it ends in a program or in
// faults with a place.
func FuzzExpression(f *testing.F) {
	for _, text := range []string{
		"design.pump.rated_flow > psi(100)", "q('3/8 in') < mm(9)", "design.feed.runs.all(r, r.bore > mm(3))", "has(design.pump)",
		"1.0 / 0.0 > 2.0", "design.circuits.exists(c, c.fuse.fitted && c.fuse.rating > A(3))", "'a'.matches('(a+)+$')", "[1,2,3].map(x, x * 2).size()",
		"design.pump.place in ['in_tank']", "degC(-300) > degC(2)", "((((((((((", "\x00", "psi(1e400)",
	} {
		f.Add(text)
	}
	v, err := vocabulary.New()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := v.Compile(text, nil)
		if err == nil && p == nil {
			t.Fatal("no program and no fault")
		}
	})
}
