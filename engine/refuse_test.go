package engine_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema/document"
)

func problems(t *testing.T, pack string) []string {
	t.Helper()
	_, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(pack)}})
	require.Error(t, err)
	var list document.Problems
	require.True(t, errors.As(err, &list), "%T: %v", err, err)
	var out []string
	for _, p := range list {
		out = append(out, p.String())
	}
	return out
}

// A rule with the given lines; everything else is in order.
func packWith(lines ...string) string {
	return "pack: a/b\ntitle: T\nedition: 1\npart: P\nrules:\n  - id: one\n    title: t\n    danger: none\n    due: built\n    about: design.pump\n    say: s\n    mend: Do it.\n" +
		"    " + strings.Join(lines, "\n    ") + "\n"
}

const because = "because: [{practice: p}]"

// The four faults a pack's author makes most, each with its line and column,
// all in one run.
func TestEveryFaultInOneRun(t *testing.T) {
	pack := `pack: a/b
title: T
edition: 1
part: Pump
rules:
  - id: dimension
    title: flow against pressure
    danger: none
    due: built
    about: design.pump
    must: design.pump.rated_flow > psi(100)
    say: s
    mend: Do it.
    because: [{practice: p}]
  - id: fact
    title: a misspelt fact
    danger: none
    due: built
    about: design.pump
    must: |
      design.pump.check_valve &&
        design.pump.plcae == 'in_tank'
    say: s
    mend: Do it.
    because: [{practice: p}]
  - id: word
    title: a misspelt word
    danger: none
    due: built
    about: design.pump
    must: "design.pump.place == 'in_tnk'"
    say: s
    mend: Do it.
    because: [{practice: p}]
  - id: source
    title: a missing source
    danger: none
    due: built
    about: design.pump
    must: design.pump.check_valve
    say: s
    mend: Do it.
    because: [{source: nowhere}]
  - id: ground
    title: no reason at all
    danger: none
    due: built
    about: design.pump
    must: design.pump.check_valve
    say: s
    mend: Do it.
`
	got := problems(t, pack)
	want := []string{
		"p.yaml:11:34: found no matching overload for '_>_' applied to '(Flow, Pressure)'",
		"p.yaml:22:20: undefined field 'plcae'; did you mean 'place'?",
		"p.yaml:31:33: 'in_tnk' is not a word this fact can have; did you mean 'in_tank'?",
		"p.yaml:43:24: there is no source \"nowhere\"",
		`p.yaml:44:5: rules[4] lacks "because"`,
	}
	require.Len(t, got, len(want), "%s", strings.Join(got, "\n"))
	for i := range want {
		assert.True(t, strings.HasPrefix(got[i], want[i]), "got  %s\nwant %s", got[i], want[i])
	}
}

func TestRefusedPacks(t *testing.T) {
	for name, c := range map[string]struct{ pack, want string }{
		"has":                       {packWith("must: has(design.pump.place)", because), "there is no has()"},
		"constant must":             {packWith("must: 1 < 2", because), "never depends on the design"},
		"constant applies":          {packWith("applies: 'false'", "must: design.pump.check_valve", because), "never depends on the design"},
		"no must and no should":     {packWith(because), "needs must or should"},
		"bounds without measure":    {packWith("must: {at_least: 1}", because), "bounds need a measure"},
		"unbounded measure":         {packWith("measure: design.pump.rated_flow", "must: design.pump.check_valve", because), "nothing bounds the measure"},
		"bound of other dimension":  {packWith("measure: design.pump.rated_flow", "must: {at_least: 3 psi}", because), "the bound is a pressure, the measure a flow"},
		"measure of words":          {packWith("measure: design.pump.place", "must: {at_least: 3}", because), "a measure is a quantity or a number; this is a text"},
		"unknown bound":             {packWith("measure: design.pump.rated_flow", "must: {at_leest: 3 L/h}", because), "did you mean at_least?"},
		"unknown key":               {packWith("musst: true", because), "did you mean must?"},
		"bad danger":                {strings.Replace(packWith("must: design.pump.check_valve", because), "danger: none", "danger: fier", 1), "did you mean fire?"},
		"memory alone":              {packWith("must: design.pump.check_valve", "because: [{memory: m}]"), "memory never makes a must"},
		"two reasons in one":        {packWith("must: design.pump.check_valve", "because: [{memory: m, practice: p}]"), "one of source, practice, memory or physics"},
		"unguarded none":            {packWith("must: design.pump.inertia_switch.manual_reset", because), "design.pump.inertia_switch may be none: ask design.pump.inertia_switch.fitted"},
		"name with a dot":           {strings.Replace(packWith("must: design.pump.check_valve", because), "pack: ", "pack: a.", 1), "a pack's name is lower-case words"},
		"reads regions":             {packWith("must: design.regions.exists(r, r == 'gb')", because), "does not read design.regions"},
		"unused let":                {packWith("let: {x: design.pump.place}", "must: design.pump.check_valve", because), "x is never used"},
		"placeholder fault":         {strings.Replace(packWith("must: design.pump.check_valve", because), "say: s", "say: \"it is {design.pump.plac}\"", 1), "p.yaml:11:29: undefined field 'plac'"},
		"open brace":                {strings.Replace(packWith("must: design.pump.check_valve", because), "say: s", "say: \"it is {design\"", 1), "a { has no }"},
		"no such part":              {strings.Replace(packWith("must: design.pump.check_valve", because), "about: design.pump", "about: design.pmup", 1), "no part design.pmup"},
		"each of no list":           {packWith("each: {x: design.pump.place}", "must: x == 'in_tank'", because), "each needs a list"},
		"exact equality":            {packWith("must: design.pump.rated_flow == L_per_h(3)", because), "never exactly equal"},
		"not true or false":         {packWith("must: design.pump.place", because), "must be true or false; it is a text"},
		"unused limit":              {"limits: {l: {is: 3 psi, because: [{practice: p}]}}\n" + packWith("must: design.pump.check_valve", because), "limit l is never used"},
		"source, no edition":        {"sources: {s: {kind: law, title: t, seen: 2026-01-31, read: text}}\n" + packWith("must: design.pump.check_valve", "because: [{source: s}]"), `sources.s lacks "edition": the date or issue printed on the copy, or unknown`},
		"source, never seen":        {"sources: {s: {kind: law, title: t, edition: e, read: text}}\n" + packWith("must: design.pump.check_valve", "because: [{source: s}]"), `sources.s lacks "seen": the day it was read`},
		"source, not read":          {"sources: {s: {kind: law, title: t, edition: e, seen: 2026-01-31}}\n" + packWith("must: design.pump.check_valve", "because: [{source: s}]"), `sources.s lacks "read": text, mirror (a copy of it)`},
		"source, read in no way":    {"sources: {s: {kind: law, title: t, edition: e, seen: 2026-01-31, read: quickly}}\n" + packWith("must: design.pump.check_valve", "because: [{source: s}]"), "sources.s.read must be one of text, mirror, secondary, memory"},
		"source, seen is no day":    {"sources: {s: {kind: law, title: t, edition: e, seen: an old copy, read: text}}\n" + packWith("must: design.pump.check_valve", "because: [{source: s}]"), "must be a day, such as 2026-11-25; the date of the document is its edition"},
		"source, edition of blanks": {"sources: {s: {kind: law, title: t, edition: \" \", seen: 2026-01-31, read: text}}\n" + packWith("must: design.pump.check_valve", "because: [{source: s}]"), "sources.s.edition is empty"},
		"unused source":             {"sources: {s: {kind: law, title: t, edition: \"2020\", seen: 2026-01-31, read: text}}\n" + packWith("must: design.pump.check_valve", because), "source s is never cited"},
		"limit without reason":      {"limits: {l: {is: 3 L/h}}\n" + packWith("must: design.pump.rated_flow > limit.l", because), `lacks "because"`},
		"limit of nonsense":         {"limits: {l: {is: 3 furlongs, because: [{practice: p}]}}\n" + packWith("must: design.pump.check_valve", because), "furlong"},
		"assumption of no fact":     {"assumptions: [{fact: design.pump.colour, is: 3, because: [{practice: p}]}]\n" + packWith("must: design.pump.check_valve", because), "colour"},
		"table of no column type":   {"tables: {t: {key: k, columns: {p: presure}, rows: [{k: a, p: 3 psi}], because: [{practice: p}]}}\n" + packWith("must: design.pump.check_valve", because), "no column type"},
		"table cell of other unit":  {"tables: {t: {key: k, columns: {p: pressure}, rows: [{k: a, p: 3 L/h}], because: [{practice: p}]}}\n" + packWith("must: design.pump.check_valve", because), "a pressure is expected"},
		"empty file":                {"", "is empty"},
		"yaml anchor":               {packWith("must: &a design.pump.check_valve", because), "anchor"},
		"expensive":                 {packWith("must: design.circuits.all(a, design.circuits.all(b, design.circuits.all(c, design.circuits.all(d, a.name == b.name || c.name == d.name))))", because), "may cost"},
		"long":                      {packWith("must: \""+strings.Repeat("design.pump.check_valve && ", 400)+"true\"", because), "size"},
		"deep":                      {packWith("must: \""+strings.Repeat("(", 400)+"design.pump.check_valve"+strings.Repeat(")", 400)+"\"", because), "recursion"},
	} {
		t.Run(name, func(t *testing.T) {
			got := strings.Join(problems(t, c.pack), "\n")
			assert.Contains(t, got, c.want)
			assert.Contains(t, got, "p.yaml:", "every problem has a place")
		})
	}
}

// Positions inside expressions hold for every way YAML writes a text.
func TestPlacesInsideScalars(t *testing.T) {
	for name, c := range map[string]struct {
		lines []string
		place string
	}{
		"plain":         {[]string{"must: design.pump.check_valve && wrong"}, "13:38"},
		"plain folded":  {[]string{"must: design.pump.check_valve &&", "  wrong"}, "14:7"},
		"single quoted": {[]string{"must: 'design.pump.place == ''in_tank'' && wrong'"}, "13:48"},
		"double quoted": {[]string{`must: "design.pump.place == \"in_tank\" && wrong"`}, "13:48"},
		"literal":       {[]string{"must: |", "  design.pump.check_valve &&", "    wrong"}, "15:9"},
		"folded":        {[]string{"must: >-", "  design.pump.check_valve &&", "  wrong"}, "15:7"},
	} {
		t.Run(name, func(t *testing.T) {
			got := problems(t, packWith(append(c.lines, because)...))
			require.NotEmpty(t, got)
			assert.True(t, strings.HasPrefix(got[0], fmt.Sprintf("p.yaml:%s: undeclared reference to 'wrong'", c.place)), got[0])
		})
	}
}

// What to do may depend on the design; the last text is for all that is left.
func TestRemediesRefused(t *testing.T) {
	with := func(mend string) string {
		return strings.Replace(packWith("must: design.pump.check_valve", because), "    mend: Do it.\n", mend, 1)
	}
	for mend, want := range map[string]string{
		"    mend: []\n": "rules[0].mend must be a text, or a list of texts with conditions",
		"    mend:\n      - {when: design.pump.isolated, text: Do it.}\n":                          "the last remedy has no condition",
		"    mend:\n      - {text: Do it.}\n      - {text: Or that.}\n":                            "only the last remedy has no condition",
		"    mend:\n      - {when: design.pump.rated_flow, text: Do it.}\n      - {text: That.}\n": "this must be true or false",
		"    mend:\n      - {when: 1 < 2, text: Do it.}\n      - {text: That.}\n":                  "this never depends on the design",
		"    mend:\n      - {when: design.pump.isolated}\n      - {text: That.}\n":                 `lacks "text"`,
		"    mend:\n      - {if: design.pump.isolated, text: Do it.}\n      - {text: That.}\n":     `has no key "if"`,
	} {
		assert.Contains(t, strings.Join(problems(t, with(mend)), "\n"), want, mend)
	}
}
