package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

const sixCurve = `    - {pressure: 200 kPa, flow: 176 L/h, current: 4.9 A}
    - {pressure: 300 kPa, flow: 160 L/h, current: 5.8 A}
    - {pressure: 400 kPa, flow: 140 L/h, current: 6.8 A}
    - {pressure: 500 kPa, flow: 114 L/h, current: 7.9 A}
`

// withCurve judges the six with other points of its pump's curve, beside other changes.
func withCurve(t *testing.T, points string, change ...string) *engine.Report {
	text := string(designText(t, "demo/six-return.yaml"))
	change = append([]string{sixCurve, points}, change...)
	for i := 0; i < len(change); i += 2 {
		require.Equal(t, 1, strings.Count(text, change[i]), change[i])
		text = strings.Replace(text, change[i], change[i+1], 1)
	}
	return judged(t, library(t), "six.yaml", []byte(text))
}

func oneFinding(t *testing.T, r *engine.Report, rule string) engine.Finding {
	t.Helper()
	for _, f := range r.Findings {
		if f.Rule == rule {
			return f
		}
	}
	t.Fatalf("no finding of %s", rule)
	return engine.Finding{}
}

// A curve that ends short of the working point decides by its bounds: the six's pump works
// at about 318 kPa, its engine burns 41.4 L/h.
func TestBoundsDecide(t *testing.T) {
	t.Parallel()
	const rule = "fuel/delivery.flow-at-full-load"
	const noLabel = "  rated_flow: 160 L/h\n  rated_pressure: 300 kPa\n"

	above := withCurve(t, "    - {pressure: 400 kPa, flow: 140 L/h, current: 6.8 A}\n    - {pressure: 500 kPa, flow: 114 L/h, current: 7.9 A}\n", noLabel, "")
	f := oneFinding(t, above, rule)
	assert.Equal(t, engine.Pass, f.Outcome)
	met := oneFinding(t, above, "electrical/wires.pump-drop")
	assert.Equal(t, engine.Pass, met.Outcome)
	assert.Contains(t, met.Text, "loses at most", "what the pump draws below its first point is at most what it draws there")
	assert.NotContains(t, met.Text, "turns slower", "a pass is told in the sentence of a pass")
	assert.True(t, strings.HasPrefix(f.Measured.Text, "at least 3."), f.Measured.Text)
	assert.Zero(t, above.Count(engine.Fail))

	low := "    - {pressure: 100 kPa, flow: 44 L/h, current: 4 A}\n    - {pressure: 200 kPa, flow: 38 L/h, current: 4.9 A}\n"
	f = oneFinding(t, withCurve(t, low, noLabel, ""), rule)
	assert.Equal(t, engine.Fail, f.Outcome)
	assert.Contains(t, f.Text, "can give 32.4 L/h to 33 L/h", "above its last point it gives at most what the straight line gives")

	between := "    - {pressure: 100 kPa, flow: 52 L/h, current: 4 A}\n    - {pressure: 200 kPa, flow: 51 L/h, current: 4.9 A}\n"
	open := withCurve(t, between, noLabel, "")
	f = oneFinding(t, open, rule)
	assert.Equal(t, engine.Open, f.Outcome)
	assert.Contains(t, f.Missing, "design.pump.curve")
	assert.Nil(t, f.Measured)
	assert.Contains(t, strings.Join(f.Unreachable, " "), "known only between bounds")
	require.NotEmpty(t, open.Asked)

	// The point that was asked for settles it, either way.
	settled := withCurve(t, between+"    - {pressure: 350 kPa, flow: 48 L/h, current: 6.3 A}\n", noLabel, "")
	assert.Equal(t, engine.Pass, oneFinding(t, settled, rule).Outcome)
	settled = withCurve(t, between+"    - {pressure: 350 kPa, flow: 20 L/h, current: 6.3 A}\n", noLabel, "")
	assert.Equal(t, engine.Fail, oneFinding(t, settled, rule).Outcome)
}

// A need beyond the pressure at which the pump delivers nothing fails; it does not fall silent.
func TestBeyondTheDeadHeadFails(t *testing.T) {
	text := string(designText(t, "demo/six-return.yaml"))
	const tube = "- name: frame tube        # 3/8 in tube, 0.028 in wall\n      guarded: true\n      kind: tube\n      bore: 8.1 mm"
	require.Equal(t, 1, strings.Count(text, tube))
	text = strings.Replace(text, tube, strings.Replace(tube, "8.1 mm", "1.5 mm", 1), 1)
	r := judged(t, library(t), "six.yaml", []byte(text))
	assert.Equal(t, engine.Fail, oneFinding(t, r, "fuel/delivery.flow-at-full-load").Outcome)
	for _, f := range r.Findings {
		assert.NotEqual(t, engine.Open, f.Outcome, "%s: %v %v", f.Rule, f.Missing, f.Unreachable)
	}
}
