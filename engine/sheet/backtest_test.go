package sheet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/sheet"
	"plumbline/rules"
	"plumbline/schema"
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

func TestBacktest(t *testing.T) {
	lib, err := engine.OpenImage(rules.Files(), rules.Image())
	require.NoError(t, err)
	patterns, err := pattern.Read(designs.Patterns())
	require.NoError(t, err)
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	agree, against, turns, parts, wrongParts := 0, map[string]int{}, 0, map[sheet.Word]int{}, 0
	total := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		whole, err := schema.LoadBased(f, data, os.ReadFile)
		if err != nil {
			t.Logf("%s: %v", f, err)
			continue
		}
		full := map[string]*engine.Finding{}
		r := lib.Judge(whole, engine.Options{})
		for i := range r.Findings {
			full[r.Findings[i].Rule+" "+r.Findings[i].Subject] = &r.Findings[i]
		}
		cut := whole.Keep(known)
		half := lib.Judge(cut, engine.Options{Patterns: patterns, Stage: "planned"})
		for i := range half.Findings {
			x := &half.Findings[i]
			y := full[x.Rule+" "+x.Subject]
			if x.Leaning == nil || y == nil || y.Outcome == engine.Open || y.Outcome == engine.NotApplicable {
				continue
			}
			ok := false
			switch x.Leaning.Lean {
			case engine.WouldPass:
				ok = y.Outcome == engine.Pass
			case engine.WouldWarn:
				ok = y.Outcome == engine.Warn
			case engine.WouldFail:
				ok = y.Outcome == engine.Fail
			default:
				turns++
				continue
			}
			total++
			if ok {
				agree++
				continue
			}
			against[fmt.Sprintf("%s %s but %s", x.Rule, x.Leaning.Lean, y.Outcome)]++
			if os.Getenv("SHOW") != "" {
				t.Logf("%s: %s %s: %s, but %s: %s", filepath.Base(f), x.Rule, x.Subject, x.Leaning.Text, y.Outcome, y.Text)
			}
		}
		s := sheet.SlipOf(cut, half)
		for _, p := range s.Parts {
			parts[p.Word]++
			if p.Word == sheet.No {
				wrongParts++
				t.Logf("%s: false NO %s: %s %v", filepath.Base(f), p.Name, p.Text, p.Rules)
			}
		}
	}
	var list []string
	for k, n := range against {
		list = append(list, fmt.Sprintf("%3d %s", n, k))
	}
	sort.Sort(sort.Reverse(sort.StringSlice(list)))
	t.Logf("%d of %d leanings agree, %d turn; parts %v\n%s", agree, total, turns, parts, strings.Join(list, "\n"))
}
