package engine_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// said is the text of the cautions of a report, by their ids without the pack.
func said(r *engine.Report) map[string]string {
	out := map[string]string{}
	for _, c := range r.Cautions {
		out[strings.TrimPrefix(c.ID, "start/cautions.")] = c.Text
	}
	return out
}

// Which cable comes off first follows the pole that is on the chassis: on a positive-ground vehicle the
// negative cable is the live one. While the pole is not known, the wording is right for both.
func TestBatteryCautionFollowsTheGroundedPole(t *testing.T) {
	lib := library(t)
	text := func(pole string) string {
		head := "plumbline: 1\nstage: built\nbattery: {system_voltage: 12 V" + pole + "}\n"
		r := judged(t, lib, "a.yaml", []byte(head))
		var out []string
		for id, text := range said(r) {
			if strings.HasPrefix(id, "battery-cable") {
				out = append(out, text)
			}
		}
		require.Len(t, out, 1)
		return out[0]
	}
	assert.Contains(t, text(", grounded_pole: negative"), "take the negative cable")
	assert.Contains(t, text(", grounded_pole: positive"), "take the positive cable off first")
	assert.Contains(t, text(""), "find out which pole")
	assert.NotContains(t, text(", grounded_pole: positive"), "negative")
}

// Every caution of the library goes with something a design has, is short enough to be read, and rests on a ground.
func TestCautionsAreShort(t *testing.T) {
	for _, p := range library(t).Packs() {
		for _, c := range p.Cautions {
			for _, text := range []string{c.Say, c.Unsure} {
				assert.LessOrEqual(t, utf8.RuneCountInString(text), 170, text)
			}
			for _, part := range c.Parts {
				assert.NotEmpty(t, schema.Describe("design."+part).Doc, part)
			}
			assert.NotEmpty(t, c.Because)
		}
	}
}

// A design with nothing wrong sends nobody to the vehicle; a rule against gas in the cabin brings the caution on gas.
func TestCautionsGoWithFindings(t *testing.T) {
	lib := library(t)
	assert.Empty(t, judged(t, lib, "a.yaml", []byte("plumbline: 1\n")).Cautions)
	r := judged(t, lib, "a.yaml", []byte("plumbline: 1\ntank: {vent: blocked}\n"))
	require.Contains(t, said(r), "fuel")
	for _, c := range r.Cautions {
		require.NotEmpty(t, c.Rules)
		for _, rule := range c.Rules {
			assert.True(t, slices.ContainsFunc(r.Findings, func(f engine.Finding) bool { return f.Rule == rule && f.Sends() }))
		}
	}
	assert.NotEmpty(t, lib.CautionsOf("fuel/tank.breathes"))
	assert.Empty(t, lib.CautionsOf("no/such.rule"))
}

// A part in a caution is as close as it is written: hot coolant goes with its sensor and not with the air's, and not with an engine that has none.
func TestCautionsAreAsCloseAsTheirPart(t *testing.T) {
	lib := library(t)
	coolant := "sensors: {coolant: {shared_with_gauge: true}}\n"
	of := func(text string) map[string]string {
		return said(judged(t, lib, "a.yaml", []byte("plumbline: 1\nstage: planned\n"+text)))
	}
	assert.Contains(t, of("engine: {cooling: liquid}\n"+coolant), "hot-coolant")
	assert.Contains(t, of(coolant), "hot-coolant")
	assert.NotContains(t, of("engine: {cooling: air}\n"+coolant), "hot-coolant")
	assert.NotContains(t, of("engine: {cooling: liquid}\nsensors: {intake_air: {place: under_bonnet}}\n"), "hot-coolant")
	discharge := of("sensors: {speed_signal: {source: capacitive_discharge_coil}}\n")
	assert.Contains(t, discharge, "high-voltage")
	assert.NotContains(t, discharge, "hot-coolant")
	leak := of("exhaust: {cabin_leak: leaking}\n")
	assert.Contains(t, leak, "exhaust-gas")
	assert.Contains(t, leak, "welding")
	joints := of("procedure: {leak_test_before_spark: false}\n")
	for _, id := range []string{"fuel", "fuel-in-the-eyes"} {
		assert.Contains(t, joints, id)
	}
}

// What cannot be right is refused where it stands.
func TestCautionsAreChecked(t *testing.T) {
	for text, want := range map[string]string{
		"{id: a, say: x, because: [{practice: p}]}":                                                                          "name the parts or the dangers",
		"{id: a, parts: [tonk], say: x, because: [{practice: p}]}":                                                           `no part "tonk"`,
		"{id: a, dangers: [fog], say: x, because: [{practice: p}]}":                                                          `no danger "fog"`,
		"{id: a, parts: [tank], when: 1 == 1, say: x, because: [{practice: p}]}":                                             "never depends on the design",
		"{id: a, parts: [tank], when: design.tank.capacity, say: x, because: [{practice: p}]}":                               "must be true or false",
		"{id: a, parts: [tank], unsure: y, say: x, because: [{practice: p}]}":                                                "nothing is unsure",
		"{id: a, parts: [tank], say: x}":                                                                                     `lacks "because"`,
		"{id: a, parts: [tank], say: x, because: [{practice: p}]}, {id: a, parts: [tank], say: y, because: [{practice: p}]}": "once in the pack",
	} {
		pack := "pack: shop/care\ntitle: Care\nedition: 1\npart: Workshop\ncautions: [" + text + "]\n"
		_, err := engine.Load(fstest.MapFS{"care.yaml": {Data: []byte(pack)}})
		var problems document.Problems
		require.ErrorAs(t, err, &problems, text)
		assert.Contains(t, err.Error(), want, text)
		assert.Equal(t, 5, problems[0].Place.Line, text)
	}
}

// What kills without burning is guarded as fire is.
func TestPoisoningIsGrave(t *testing.T) {
	for _, d := range []pack.Danger{pack.Fire, pack.Poisoning, pack.LossOfControl} {
		assert.True(t, d.Grave() && d.Hurts(), d)
	}
	for _, d := range []pack.Danger{pack.Shock, pack.Burn} {
		assert.True(t, d.Hurts() && !d.Grave(), d)
	}
	assert.False(t, pack.EngineDamage.Hurts())
	assert.Less(t, pack.Danger("no").Rank(), 0)
	assert.False(t, pack.Danger("no").Hurts())
}
