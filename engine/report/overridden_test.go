package report

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// Every format says which figures are others where the design is used: what it is, from what to what, where, and by which source.
func TestEveryFormatListsWhatWasOverridden(t *testing.T) {
	r := sample()
	r.Overridden = []engine.Overridden{{What: "limit fuel/x.most", From: "500 kPa", To: "400 kPa", Region: "us-hs",
		Because: []engine.Ground{{Standing: "law", Text: "The code of the hot state, section 9"}}, Place: schema.Place{File: "hot.yaml", Line: 9, Column: 5}}}
	planned := *r
	planned.Stage = "planned"
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"))
	require.NoError(t, err)
	for _, format := range Formats {
		for what, x := range map[string]Item{"sheet": {Name: r.File, Report: r}, "slip": {Name: r.File, Report: &planned, Design: d}} {
			text := strings.ReplaceAll(in(t, format, x, TextOptions{Width: 100}), `\_`, "_")
			for _, want := range []string{"uel/x.most", "500 kPa", "400 kPa", "us-hs", "The code of the hot state, section 9", "hot.yaml"} {
				assert.Contains(t, strings.ReplaceAll(text, `\`, ""), want, "%s, %s", format, what)
			}
		}
	}
	var doc Document
	require.NoError(t, json.Unmarshal([]byte(in(t, "json", Item{Name: r.File, Report: r}, TextOptions{})), &doc))
	require.Len(t, doc.Reports[0].Overridden, 1)
	assert.Equal(t, "law", doc.Reports[0].Overridden[0].Because[0].Standing)
}
