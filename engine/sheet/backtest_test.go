package sheet_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// counterKnows are the facts a counter has of a customer's list: what is printed on a part, seen by eye, or remembered.
var counterKnows = strings.Fields(`
vehicle.model_year vehicle.use vehicle.class
engine.displacement engine.cylinders engine.power engine.aspiration engine.strokes engine.cycle
fuel.ethanol
pump.place pump.rated_flow pump.rated_pressure pump.rated_submersible
feed.runs.name feed.runs.kind feed.runs.bore feed.runs.mark feed.runs.pressure_rating feed.runs.material
return_line return_line.runs.kind return_line.runs.bore return_line.runs.name
regulator.style regulator.setting regulator.reference
throttle_body.bores throttle_body.highest_pressure throttle_body.lowest_pressure
throttle_body.injectors.count throttle_body.injectors.static_flow throttle_body.injectors.static_mass_flow throttle_body.injectors.test_pressure throttle_body.injectors.location
surge_tank
battery.system_voltage battery.grounded_pole alternator.kind alternator.rated_output
ignition.mode ignition.kind ignition.plug_wires sensors.speed_signal.source`)

func known(path string) bool {
	path = pattern.Generic(path)
	for _, k := range counterKnows {
		if k == path {
			return true
		}
	}
	return false
}

// Complete designs are cut down to what a counter knows. Where an open finding of what is left leans, the whole design must
// come out so in 99 of 100; the rest stands in backtest.txt with the reason. What is decided of the cut design is so of the
// whole one, and no part of these builds, all of them right, is told NO.
func TestLeaningsAgreeWithTheWholeDesign(t *testing.T) {
	lib, patterns := shipped(t)
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	agree, all := 0, 0
	against, no := map[string]bool{}, map[string]bool{}
	for _, f := range proofs.Sample(files, 5) {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		whole, err := schema.LoadBased(f, data, os.ReadFile)
		require.NoError(t, err)
		full := map[string]*engine.Finding{}
		r := lib.Judge(whole, engine.Options{})
		for i := range r.Findings {
			full[r.Findings[i].Rule+" "+r.Findings[i].Subject] = &r.Findings[i]
		}
		name := strings.TrimSuffix(filepath.Base(f), ".yaml")
		half := lib.Judge(whole.Keep(known), engine.Options{Patterns: patterns, Stage: "planned"})
		for i := range half.Findings {
			x := &half.Findings[i]
			y := full[x.Rule+" "+x.Subject]
			if x.Leaning == nil || x.Leaning.Lean == engine.Turns || y == nil || y.Outcome == engine.Open || y.Outcome == engine.NotApplicable {
				continue
			}
			all++
			if string(x.Leaning.Lean) == "would "+string(y.Outcome) {
				agree++
				continue
			}
			against[fmt.Sprintf("%s %s %s, but %s", name, x.Rule, x.Leaning.Lean, y.Outcome)] = true
			t.Logf("%s: %s %s: %s, but %s: %s", name, x.Rule, x.Subject, x.Leaning.Text, y.Outcome, y.Text)
		}
		for _, p := range sheet.SlipOf(whole.Keep(known), half, nil).Parts {
			if p.Word == sheet.No {
				no[name+" no "+strings.TrimPrefix(p.Subject, "design.")] = true
				t.Logf("%s: NO %s: %s %v", name, p.Name, p.Text, p.Rules)
			}
		}
	}
	t.Logf("%d of %d leanings agree", agree, all)
	assert.GreaterOrEqual(t, float64(agree)/float64(all), 0.99)
	maps.Copy(against, no)
	sameAs(t, "testdata/backtest.txt", against)
}
