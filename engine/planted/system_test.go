package planted

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
)

// Every part that a pack of the library is listed under and every section of a design belongs to exactly one system, and
// what the table says of a part of a section is in the schema.
func TestSystemsHoldEveryPartAndFact(t *testing.T) {
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	parts, facts := map[string]int{}, map[string]int{}
	for _, s := range Systems() {
		for _, p := range s.Parts {
			parts[p]++
		}
		for _, path := range s.Facts {
			facts[path]++
		}
	}
	used := map[string]bool{}
	for _, p := range lib.Packs() {
		name := p.Part
		if strings.HasPrefix(name, regionsPart) {
			name = regionsPart
		}
		used[name] = true
		assert.Equal(t, 1, parts[name], p.Part)
	}
	assert.Len(t, used, len(parts), "a part of the table that no pack is listed under")

	types := schema.Types()
	fields := func(of string) []schema.FieldInfo {
		i := slices.IndexFunc(types, func(p schema.TypeInfo) bool { return p.Name == of })
		require.GreaterOrEqual(t, i, 0, of)
		return types[i].Fields
	}
	for _, f := range fields("Design") {
		if !slices.Contains(unjudged(), f.Key) {
			assert.Equal(t, 1, facts[f.Key], f.Key)
		}
	}
	for _, path := range between() {
		facts[path]++
	}
	for path, times := range facts {
		assert.Equal(t, 1, times, path)
		of := "Design"
		for key := range strings.SplitSeq(path, ".") {
			all := fields(of)
			i := slices.IndexFunc(all, func(f schema.FieldInfo) bool { return f.Key == key })
			require.GreaterOrEqual(t, i, 0, "%s: %s has no %s", path, of, key)
			of = all[i].Part
		}
	}
}

func TestAcross(t *testing.T) {
	for change, want := range map[string]bool{
		"pump.place=boot":     false,
		"feed.runs[0].bore=1": false,
		"pumpkin=1":           false,
		"circuits[fuel pump].feed_wires[0].size=20 AWG":  true,
		"pump.place=boot; engine.power=300 hp":           true,
		"pump.own_ground=false":                          true,
		"feed.runs[engine hose].exhaust_clearance=20 mm": true,
		"engine.old_mechanical_pump=in_series":           false,
		"throttle_body.fuel_inlet.beaded=false":          false,
		"throttle_body.injectors.location=above_the_sky": true,
		"climate.hot_ambient=45 degC":                    false,
		"measured.idle_pressure=200 kPa":                 false,
		"ignition=none":                                  true,
	} {
		assert.Equal(t, want, across(change, ruledBy("Fuel pump")), change)
		assert.False(t, across(change, ruledBy("Rules of Texas")), change)
	}
}

// A clip every 600 mm is the most on a fuel line: 630 mm misses that by 5 %, 700 mm by 17 %. A hose of the wrong mark
// misses nothing by any part. A temperature has no part: 10 K beyond 600 degC would be 1 % or 2 %.
func TestResultOfAPlantedMistake(t *testing.T) {
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	field := New(lib, os.DirFS("../../designs"))
	var tally Tally
	for _, c := range []struct {
		change, finds, system string
		near, across          bool
	}{
		{"feed.runs[engine hose].mark=sae_j30_r7", "fail fuel/hose.injection-grade", "fuel", false, false},
		{"feed.runs[frame tube].clip_spacing=700 mm", "warn fuel/routing.clips", "fuel", false, false},
		{"feed.runs[frame tube].clip_spacing=630 mm", "warn fuel/routing.clips", "fuel", true, false},
		{"oxygen_sensors[0].hexagon_temperature=610 degC", "fail sensors/oxygen-fitting.hexagon-temperature", "sensors, exhaust and controller", false, false},
		{"engine.idle_vacuum=9 inHg", "fail air/vacuum.booster-vacuum", "throttle and intake", false, true},
	} {
		got, err := field.Plant(Mistake{Name: c.change, Design: "demo/six-return.yaml", Change: c.change, Finds: c.finds})
		require.NoError(t, err)
		require.True(t, got.Found, "%v", got.Fresh)
		assert.Equal(t, c.system, got.System)
		assert.Equal(t, c.near, got.Near, c.change)
		assert.Equal(t, c.across, got.Across, c.change)
		tally.Add(got)
	}
	tally.Add(Result{Fresh: []string{"warn something/else"}, Near: true})
	assert.Equal(t, []int{5, 1, 1, 3}, []int{tally.Found, tally.Near, tally.Across, tally.Systems["fuel"]})
	assert.True(t, strings.HasPrefix(tally.BySystem(), "fuel 3; "), tally.BySystem())
}
