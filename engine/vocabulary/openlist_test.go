package vocabulary

import (
	"testing"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On a list of which something is named, exists can come true but not false, all false but not true; how many there are and
// what adds up over it nobody knows.
func TestOpenList(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	d := design(t, `
suction: none
return_line: none
second_tank: none
feed:
  runs:
    - {name: hose, kind: hose, bore: 8 mm, length: 1 m}
    - {name: tube, kind: tube, bore: 6 mm, length: 3 m}
circuits: [{name: fan, load: {kind: motor}}]
connectors: none
`)
	for text, want := range map[string]ref.Val{
		"design.feed.runs.exists(r, r.kind == 'tube')":                                                     types.True,
		"design.feed.runs.exists(r, true)":                                                                 types.True,
		"design.feed.runs.all(r, r.bore > mm(7))":                                                          types.False,
		"design.fuel_lines.exists(r, r.kind == 'tube')":                                                    types.True,
		"design.fuel_lines.all(r, r.bore > mm(7))":                                                         types.False,
		"design.feed.runs.exists(r, r.kind == 'tube') || design.pump.isolated":                             types.True,
		"design.circuits.exists(c, c.name == 'fan')":                                                       types.True,
		"design.connectors.size() == 0":                                                                    types.True,
		"design.connectors.all(c, c.name == 'a')":                                                          types.True,
		"design.feed.runs.all(r, r.kind == 'hose') && design.circuits.exists(c, true)":                     types.False,
		"design.line_joints.exists(j, j.kind == 'spigot' || design.feed.runs.exists(r, r.kind == 'hose'))": types.True,
	} {
		assert.Equal(t, want, evaluate(t, v, d, text), text)
	}
	feed, circuits := []string{"design.feed.runs"}, []string{"design.circuits"}
	for text, missing := range map[string][]string{
		"design.feed.runs.exists(r, r.kind == 'filter')":             feed,
		"design.feed.runs.all(r, r.bore > mm(5))":                    feed,
		"design.feed.runs.size() == 2":                               feed,
		"size(design.feed.runs) > 0":                                 feed,
		"design.feed.runs.filter(r, r.kind == 'filter').size() == 0": feed,
		"design.feed.runs.map(r, r.kind) == ['hose', 'tube']":        feed,
		"'hose' in design.feed.runs.map(r, r.name)":                  feed,
		"design.fuel_lines.exists(r, r.kind == 'filter')":            feed,
		"design.fuel_lines.all(r, r.line == 'feed')":                 feed,
		"design.line_joints.size() == 3":                             feed,
		"design.circuits.exists(c, c.load.kind == 'fuel_pump')":      circuits,
	} {
		facts, reasons := Missing(evaluate(t, v, d, text))
		assert.Equal(t, missing, facts, text)
		assert.Empty(t, reasons, text)
	}
	_, err = v.Compile("design.feed.runs[0].kind == 'hose'", nil)
	assert.ErrorContains(t, err, "nothing has a fixed place in design.feed.runs")
}
