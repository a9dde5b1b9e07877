package report_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/schema"
)

// Doubts that one stated fact explains are told once, over the parts of the vehicle: the fact and the slip first, then the
// others; JSON keeps every finding.
func TestDoubtsOfOneFactAreToldOnce(t *testing.T) {
	at := schema.Place{File: "d.yaml", Line: 3, Column: 5}
	cause := &engine.Cause{Path: "design.engine.displacement", Stated: "0.2 L", Place: at, Meant: []string{"2 L"}}
	doubt := func(rule, part, text string, c *engine.Cause) engine.Finding {
		return engine.Finding{Rule: rule, Title: "a title", Part: part, Outcome: engine.Warn, Danger: "none", Due: "planned", Subject: "design.engine",
			Place: at, Text: text, Remedy: "Look again.", Sense: true, Cause: c}
	}
	r := &engine.Report{File: "d.yaml", Stage: "planned", Findings: []engine.Finding{
		doubt("sense/engine.one", "Engine", "A lot from a litre.", cause),
		doubt("sense/air.two", "Air", "A small cylinder.", cause),
		doubt("sense/air.three", "Air", "Of itself.", nil),
	}}
	var b bytes.Buffer
	require.NoError(t, report.Text(&b, []*engine.Report{r}, report.TextOptions{Width: 400}))
	text := b.String()
	assert.Contains(t, text, "engine.displacement 0.2 L explains 2 doubts: perhaps 2 L? A lot from a litre.")
	assert.Contains(t, text, "Also: A small cylinder. Rule sense/air.two.")
	assert.Equal(t, 2, strings.Count(text, "Doubtful:"), text)
	assert.Less(t, strings.Index(text, "A lot from a litre."), strings.Index(text, "A small cylinder."))

	b.Reset()
	require.NoError(t, report.JSON(&b, []*engine.Report{r}, report.About{}))
	var doc report.Document
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	require.Len(t, doc.Reports[0].Findings, 3)
	for _, f := range doc.Reports[0].Findings {
		if f.Rule == "sense/air.three" {
			assert.Nil(t, f.Cause)
			continue
		}
		require.NotNil(t, f.Cause, f.Rule)
		assert.Equal(t, []string{"2 L"}, f.Cause.Meant)
	}

	b.Reset()
	require.NoError(t, report.SARIF(&b, []*engine.Report{r}, report.About{}))
	assert.Equal(t, 2, strings.Count(b.String(), "may come of one fact: engine.displacement 0.2 L."))
}
