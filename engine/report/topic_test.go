package report

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
)

func asking(paths ...string) []engine.Question {
	out := make([]engine.Question, len(paths))
	for i, path := range paths {
		out[i] = engine.Question{Path: "design." + path, Danger: "none", Rules: []string{"a/b.c"}}
	}
	return out
}

func TestTopicsGroupWhatOneLookAnswers(t *testing.T) {
	for name, c := range map[string]struct {
		asked []string
		want  string
	}{
		"sections, by their first question": {[]string{"tank.vent", "pump.kind", "tank.material"}, "tank: vent material; pump: kind"},
		"a list or a part as a whole":       {[]string{"circuits", "suction.runs", "suction"}, "circuits: ; suction: runs "},
		"elements apart from their section": {[]string{"feed.runs[1].zone", "feed.rise", "feed.runs[1].filter.mesh"}, "feed.runs[1]: zone filter.mesh; feed: rise"},
		"an element inside an element":      {[]string{"circuits[0].feed_wires[2].gauge"}, "circuits[0].feed_wires[2]: gauge"},
		"elements that lack the same facts": {[]string{"grounds[0].size", "grounds[2].to", "grounds[2].size", "grounds[0].to", "grounds[1].size"},
			"grounds[0] grounds[2]: size to; grounds[1]: size"},
		"the same facts of another list": {[]string{"feed.runs[0].zone", "suction.runs[0].zone"}, "feed.runs[0]: zone; suction.runs[0]: zone"},
	} {
		var got []string
		for _, topic := range topics(asking(c.asked...)) {
			var names, keys []string
			for _, path := range append([]string{topic.path}, topic.same...) {
				names = append(names, factName(path))
			}
			for _, q := range topic.asked {
				keys = append(keys, topic.key(q))
			}
			got = append(got, strings.Join(names, " ")+": "+strings.Join(keys, " "))
		}
		assert.Equal(t, c.want, strings.Join(got, "; "), name)
	}
}

func TestTopicWeighsItsRulesOnce(t *testing.T) {
	asked := asking("pump.kind", "pump.curve")
	asked[1].Rules, asked[1].Danger = []string{"a/b.c", "a/b.d"}, "fire"
	open := func(rule string, missing ...string) engine.Finding {
		return engine.Finding{Rule: rule, Outcome: engine.Open, Missing: missing}
	}
	findings := []engine.Finding{open("a/b.c", "design.pump.kind", "design.pump.curve"), open("a/b.d", "design.pump.curve", "design.climate.hot_fuel")}
	rules, alone, danger := topics(asked)[0].weight(findings)
	assert.Equal(t, 2, rules)
	assert.Equal(t, 1, alone, "a/b.d waits for the climate too")
	assert.Equal(t, pack.Fire, danger)
	assert.Equal(t, "Danger of fire; 2 rules wait for it, 1 for nothing else", topics(asked)[0].stakes(findings))
}

func TestAskWordsSayHowToAnswer(t *testing.T) {
	for path, want := range map[string]string{
		"tank.vent":                        "vent: how air gets in as fuel is drawn. One of vented_cap, vent_line, canister or blocked.",
		"tank.bonded":                      "bonded: tank shell is bonded to the chassis by a wire or strap. True or false.",
		"pump.prime_time":                  "prime_time: time it runs to fill the line at key-on. Such as 2 s.",
		"pump.inertia_switch":              "inertia_switch: a switch that cuts the pump in a crash. Write none, or its opens, rating and manual_reset.",
		"pump.curve":                       "curve: flow and current against pressure, from the box or a bench test; at least two points. List them, each with pressure, flow and current.",
		"feed.runs[3].filter":              "filter: the filter element of a filter. Write its mesh, rated_drop and rated_flow.",
		"sensors.manifold_pressure.nobody": "nobody.",
	} {
		fact := schema.Describe("design." + path)
		q := &engine.Question{Path: "design." + path, Ask: fact.Doc, Example: fact.Example, Words: fact.Words}
		assert.Equal(t, want, askWords(q, path[strings.LastIndexByte(path, '.')+1:]))
	}
	for path, want := range map[string]string{
		"circuits":   "Write circuits: none, or list them, each with name, purpose, source, branch_of, fuse, relay and so on.",
		"surge_tank": "Write surge_tank: none, or its volume, lifted_by, lift_flow, location, material, approval_mark and so on.",
	} {
		assert.Equal(t, want, wholeWords(&engine.Question{Path: "design." + path}))
	}
}

// A fact that is stated as a range is not asked for anew, wherever it is named.
func TestARangeIsNarrowed(t *testing.T) {
	r := sample()
	r.Asked[0].Stated = "1..2"
	r.Asked[1].Stated = "10..20 A"
	var text, js bytes.Buffer
	require.NoError(t, Text(&text, []*engine.Report{r}, TextOptions{Verbose: true}))
	assert.Contains(t, text.String(), "springs that close the throttle. Stated as 1..2; narrow it.")
	assert.Contains(t, text.String(), "circuits[0].fuse.rating (narrow 10..20 A)")
	assert.Equal(t, []string{"engine: power (narrow about 300 hp), cylinders."}, bySection([]*engine.Question{
		{Path: "design.engine.power", Stated: "about 300 hp"}, {Path: "design.engine.cylinders"}}))
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Outcome == engine.Open && slices.Contains(f.Missing, r.Asked[1].Path) {
			assert.Contains(t, FindingWords(f, r.Asked), "circuits[0].fuse.rating (narrow 10..20 A)")
		}
	}
	require.NoError(t, JSON(&js, []*engine.Report{r}, About{}))
	assert.Contains(t, js.String(), `"stated":"10..20 A"`)
}

// A sheet with many topics prints the first ten and counts the facts of the others; verbose names each of those.
func TestQuestionsAreCappedAndCounted(t *testing.T) {
	r := clearReport()
	for i := range mostTopics + 2 {
		r.Asked = append(r.Asked, asking(fmt.Sprintf("feed.runs[%d].f%d", i, i))...)
	}
	r.Asked = append(r.Asked, asking("grounds", "pump.kind", "suction", "suction.runs", "circuits[0].name", "circuits[1].name")...)
	var brief, long bytes.Buffer
	require.NoError(t, Text(&brief, []*engine.Report{r}, TextOptions{}))
	require.NoError(t, Text(&long, []*engine.Report{r}, TextOptions{Verbose: true}))
	assert.Contains(t, brief.String(), "\n  And 8 more facts; --verbose lists them.\n")
	assert.NotContains(t, brief.String(), "11. ")
	assert.Contains(t, long.String(), "  And 8 more facts:\n    feed: runs[].f10, runs[].f11.\n    grounds.\n    pump: kind.\n"+
		"    suction (or none): runs.\n    circuits: [].name (2 times).\n")
}

func TestTextDoesNotRepeatItsDanger(t *testing.T) {
	for text, want := range map[string]string{
		"it sprays fuel: fire.":         "Danger of fire: it sprays fuel.",
		"it sprays fuel: fire":          "Danger of fire: it sprays fuel.",
		"a leak is a fire.":             "Danger of fire: a leak is a fire.",
		"what comes of it: fire. Look.": "Danger of fire: what comes of it: fire. Look.",
	} {
		assert.Equal(t, want, foundWords(&engine.Finding{Text: text, Danger: "fire"}))
	}
	assert.Equal(t, "It sprays fuel: fire.", foundWords(&engine.Finding{Text: "It sprays fuel: fire.", Danger: "engine"}))
}

func TestNowhereIsThePlaceSectionsShare(t *testing.T) {
	at := func(subject string, line, column int) engine.Finding {
		return engine.Finding{Subject: "design." + subject, Place: schema.Place{File: "a.yaml", Line: line, Column: column}}
	}
	root := schema.Place{File: "a.yaml", Line: 1, Column: 1}
	for name, c := range map[string]struct {
		findings []engine.Finding
		want     schema.Place
	}{
		"two sections not written":       {[]engine.Finding{at("pump", 4, 1), at("tank", 1, 1), at("grounds", 1, 1)}, root},
		"every section written":          {[]engine.Finding{at("pump", 4, 1), at("pump.curve", 4, 1), at("tank", 9, 1)}, schema.Place{}},
		"a fact two sections are judged": {[]engine.Finding{at("pump", 4, 9), at("tank", 4, 9)}, schema.Place{}},
	} {
		assert.Equal(t, c.want, nowhere(&engine.Report{Findings: c.findings}), name)
	}
}

// A job that is stopped by hundreds of points stays readable: a few causes of each part, the others as a sum.
func TestStoppingPointsAreSummed(t *testing.T) {
	r := &engine.Report{File: "a.yaml", Stage: "built"}
	for i := range 300 {
		f := engine.Finding{Rule: fmt.Sprintf("a/b.r%d", i), Title: fmt.Sprintf("rule %d", i), Part: "wiring", Outcome: engine.Open,
			Danger: "none", Blocks: true, Subject: "design.circuits", Missing: []string{fmt.Sprintf("design.harness.f%d", i/2)}}
		if i < 10 {
			f.Danger = "fire"
		}
		r.Findings = append(r.Findings, f)
	}
	var b bytes.Buffer
	require.NoError(t, Text(&b, []*engine.Report{r}, TextOptions{}))
	assert.Contains(t, b.String(), "Do not start it yet: 300 points are not judged.")
	assert.Contains(t, b.String(), "Open: Wiring: 300 points (10 fire).")
	assert.Contains(t, b.String(), "Danger of fire: Rule 0; rule 1? Find out: harness.f0. Rule a/b.r0, a/b.r1.")
	assert.Contains(t, b.String(), "And 294 more (4 fire). Find out: harness.f3, harness.f4")
	assert.Less(t, strings.Count(b.String(), "\n"), 20)
}
