package engine_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

// A measured cranking voltage far under the computed one: what rests on the computed one keeps its outcome and is
// marked; what does not rest on it is not.
func TestMeasurementCastsDoubt(t *testing.T) {
	text := designText(t, "demo/six-return.yaml")
	const stated = "cranking_voltage: 11.0 V"
	require.Equal(t, 1, bytes.Count(text, []byte(stated)))
	sound := judged(t, library(t), "six.yaml", text)
	for _, f := range sound.Findings {
		assert.Empty(t, f.Doubts, f.Rule)
	}
	weak := judged(t, library(t), "six.yaml", bytes.Replace(text, []byte(stated), []byte("cranking_voltage: 7.0 V"), 1))
	assert.Equal(t, engine.Fail, oneFinding(t, weak, "start/measured.cranking-voltage").Outcome)
	assert.Empty(t, oneFinding(t, weak, "start/measured.cranking-voltage").Doubts)

	marked := oneFinding(t, weak, "fuel/pressure.cranking-pressure")
	require.Len(t, marked.Doubts, 1)
	assert.Equal(t, "at.cranking.battery_voltage", marked.Doubts[0].Value)
	assert.Equal(t, "start/measured.cranking-voltage", marked.Doubts[0].Rule)
	assert.Contains(t, marked.Doubts[0].Text, "7 V")
	assert.Equal(t, oneFinding(t, sound, "fuel/pressure.cranking-pressure").Outcome, marked.Outcome)
	assert.Empty(t, oneFinding(t, weak, "fuel/delivery.flow-at-full-load").Doubts)

	for i := range weak.Findings {
		f, was := weak.Findings[i], oneFindingOf(t, sound, weak.Findings[i])
		if !strings.HasPrefix(f.Rule, "start/measured.") && !strings.HasPrefix(f.Rule, "electrical/power.") {
			assert.Equal(t, was.Outcome, f.Outcome, f.Rule)
		}
	}
}

func oneFindingOf(t *testing.T, r *engine.Report, like engine.Finding) engine.Finding {
	t.Helper()
	for _, f := range r.Findings {
		if f.Rule == like.Rule && f.Subject == like.Subject {
			return f
		}
	}
	t.Fatalf("no finding of %s on %s", like.Rule, like.Subject)
	return engine.Finding{}
}

// Values solved together stand and fall together: a measured pump current that contradicts casts doubt on the flow.
func TestDoubtReachesWhatWasSolvedTogether(t *testing.T) {
	text := string(designText(t, "demo/six-return.yaml"))
	i := strings.Index(text, "  pump_current: ")
	require.Positive(t, i)
	line, _, _ := strings.Cut(text[i:], "\n")
	r := judged(t, library(t), "six.yaml", []byte(strings.Replace(text, line, "  pump_current: 14 A", 1)))
	assert.NotEmpty(t, oneFinding(t, r, "fuel/delivery.flow-at-full-load").Doubts)
	assert.Empty(t, oneFinding(t, r, "fuel/tank.breathes").Doubts)
}
