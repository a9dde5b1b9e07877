package vocabulary

import (
	"testing"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A view shows the parts of several lists; a list nobody stated keeps open what
// the others do not settle, and a line that is not there has no parts.
func TestViewOverLines(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	d := design(t, `
complete: [feed]
feed: {runs: [{name: a, kind: hose, zone: cabin}, {name: b, kind: tube}]}
return_line: none
second_tank: none
`)
	for text, want := range map[string]ref.Val{
		"design.fuel_lines.exists(r, r.zone == 'cabin')":                       types.True,
		"design.fuel_lines.all(r, r.kind == 'hose')":                           types.False,
		"design.fuel_lines.exists(r, r.line == 'feed' && r.kind == 'tube')":    types.True,
		"design.feed.runs.all(r, r.line == 'feed')":                            types.True,
		"design.fuel_lines.exists(r, r.line == 'suction' || r.kind == 'hose')": types.True,
	} {
		assert.Equal(t, want, evaluate(t, v, d, text), text)
	}
	for text, missing := range map[string][]string{
		"design.fuel_lines.all(r, r.kind in ['hose', 'tube'])": {"design.suction.runs"},
		"design.fuel_lines.size() < 9":                         {"design.suction.runs"},
		"design.fuel_lines.exists(r, r.kind == 'filter')":      {"design.suction.runs"},
		"design.fuel_lines.all(r, r.bore > mm(7))":             {"design.feed.runs[0].bore", "design.feed.runs[1].bore", "design.suction.runs"},
	} {
		facts, reasons := Missing(evaluate(t, v, d, text))
		assert.Equal(t, missing, facts, text)
		assert.Empty(t, reasons, text)
	}
}

// What stands in a view is checked when a pack loads, like any other part.
func TestViewIsTyped(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	for text, want := range map[string]string{
		"design.fuel_lines.all(r, r.bor > mm(7))":     "did you mean 'bore'",
		"design.fuel_lines.all(r, r.bore > psi(7))":   "(Length, Pressure)",
		"design.fuel_lines.all(r, r.kind == 'tub')":   "did you mean 'tube'",
		"design.fuel_lines.all(r, r.line == 'feeed')": "did you mean 'feed'",
		"design.fuel_lines[0].kind == 'hose'":         "nothing has a fixed place",
		"design.fuel_line.all(r, r.kind == 'hose')":   "did you mean 'fuel_lines'",
	} {
		_, err := v.Compile(text, nil)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want, text)
	}
}
