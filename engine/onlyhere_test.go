package engine

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/internal/rule"
	"plumbline/rules"
	"plumbline/schema"
)

// likeDanger are the dangers a general rule may name for a fact that a region's rule reads for one.
var likeDanger = map[string][]string{
	"fire":            {"fire"},
	"loss_of_control": {"loss_of_control"},
	"burn":            {"burn", "fire"},
	"poisoning":       {"poisoning"},
	"shock":           {"shock"},
}

// namedRule finds the full names of rules in a text.
var namedRule = regexp.MustCompile(`[a-z-]+/[a-z-]+\.[a-z-]*[a-z]`)

// factsJudged lists the facts by which a rule decides, by the type of their part and their key, such as Tank.guarded:
// what is asked of a run is the same in every line.
func factsJudged(r *rule.Rule) []string {
	leaves := map[string]bool{}
	for _, part := range schema.Types() {
		for _, f := range part.Fields {
			leaves[part.Name+"."+f.Key] = f.Part == ""
		}
	}
	var out []string
	for _, p := range r.Deciding() {
		for _, f := range p.Fields {
			if leaves[f] {
				out = append(out, f)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// A danger that a region's rule knows is a danger everywhere: each fact such a rule decides by is read by a general rule of
// a like danger, or stands in the list with the reason why only there. A row that is not needed fails.
func TestDangersOfRegionsAreGeneral(t *testing.T) {
	only := listed(t, "regions/only-here.txt", 2)
	lib, err := Load(rules.Files())
	require.NoError(t, err)
	general := map[string][]string{}
	for _, r := range lib.rules {
		if len(r.Pack.Regions) == 0 {
			for _, f := range factsJudged(r) {
				general[f] = append(general[f], string(r.Decl.Danger))
			}
		}
	}
	for f, row := range only {
		for _, name := range namedRule.FindAllString(row[1], -1) {
			assert.True(t, slices.ContainsFunc(lib.rules, func(r *rule.Rule) bool { return r.ID == name }), "%s: there is no rule %s", f, name)
		}
	}
	needed := map[string]bool{}
	for _, r := range lib.rules {
		alike, dangerous := likeDanger[string(r.Decl.Danger)]
		if len(r.Pack.Regions) == 0 || !dangerous {
			continue
		}
		for _, f := range factsJudged(r) {
			if slices.ContainsFunc(general[f], func(d string) bool { return slices.Contains(alike, d) }) {
				continue
			}
			needed[f] = true
			assert.Contains(t, only, f, "%s decides a danger of %s by it: write a general rule, or the reason why not in rules/regions/only-here.txt", r.ID, r.Decl.Danger)
		}
	}
	for f := range only {
		assert.True(t, needed[f], "%s needs no row in rules/regions/only-here.txt: no region's rule of a danger reads it alone", f)
	}
}
