package engine

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/rules"
	"plumbline/schema"
)

// linesJudged lists, by fact of a piece, the lines on which a general rule judges it.
func linesJudged(l *Library) map[string]map[string]bool {
	of := map[string][]string{
		"design.fuel_lines": {"suction", "feed", "return"}, "design.suction.runs": {"suction"}, "design.suction_runs": {"suction"}, "design.feed_runs": {"feed"}, "design.return_runs": {"return"},
		"design.feed.runs": {"feed"}, "design.return_line.runs": {"return"},
	}
	out := map[string]map[string]bool{}
	for _, r := range l.rules {
		if r.Each == nil || len(r.Pack.Regions) > 0 {
			continue
		}
		lines := of[r.List()]
		for _, p := range r.Deciding() {
			for _, f := range p.Facts {
				rest, ok := strings.CutPrefix(f, r.EachVar+".")
				if !ok || len(lines) == 0 {
					continue
				}
				fact, _, _ := strings.Cut(rest, ".")
				if out[fact] == nil {
					out[fact] = map[string]bool{}
				}
				for _, line := range lines {
					out[fact][line] = true
				}
			}
		}
	}
	return out
}

// Every fact of a piece is judged on every line, but for those listed with the reason.
func TestFactsOfAPieceAreJudgedOnEveryLine(t *testing.T) {
	l, err := Load(rules.Files())
	require.NoError(t, err)
	judged := linesJudged(l)
	except := map[string]string{
		"name":        "a name",
		"count":       "read by the pressure loss of the line",
		"fitting":     "only a check valve in the return is a mistake as such; losses of others are in the line's loss",
		"flame_braid": "asked by motorsport rules alone",
		"original":    "asked by motorsport rules alone",
		"bonded":      "asked by motorsport rules alone",
	}
	i := slices.IndexFunc(schema.Types(), func(x schema.TypeInfo) bool { return x.Name == "Run" })
	require.GreaterOrEqual(t, i, 0)
	for _, f := range schema.Types()[i].Fields {
		all := judged[f.Key]["suction"] && judged[f.Key]["feed"] && judged[f.Key]["return"]
		assert.Equal(t, except[f.Key] == "", all, "run.%s is judged on %v; exception: %q", f.Key, judged[f.Key], except[f.Key])
	}
}
