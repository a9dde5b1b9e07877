package engine_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// A duty or an inspection that nobody read in a text says so in the sentence of its finding, whatever the outcome.
func TestALawThatWasNotReadSaysSoInTheSentence(t *testing.T) {
	for _, row := range []struct{ name, from, to, want string }{
		{"read in the text", "", "", ""},
		{"read in a copy", "read: text", "read: mirror", ""},
		{"a page about it", "read: text", "read: secondary", "The rule is known from a page about it; its text was not read."},
		{"from memory", "{source: act, where: section 3}", "{memory: it is so}", "The rule is from memory; no text of it was read."},
		{"practice is no text", "{source: act, where: section 3}", "{practice: it is so}", "The rule is from memory; no text of it was read."},
		{"advice read in the text", "consequence: duty", "consequence: advice", ""},
		{"advice on practice claims no law", "{source: act, where: section 3}", "{practice: it is done so}", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := strings.Replace(regionPack, row.from, row.to, 1)
			if !strings.Contains(text, "source: act") {
				text = strings.Replace(text, "sources:\n  act: {kind: law, title: The Act, edition: \"2020-01-01\", seen: 2026-01-31, read: text}\n", "", 1)
			}
			if strings.Contains(row.to, "it is done so") {
				text = strings.Replace(text, "consequence: duty", "consequence: advice", 1)
			}
			if strings.Contains(row.to, "it is so") {
				text = strings.Replace(text, "consequence: duty", "consequence: inspection", 1)
			}
			if strings.Contains(row.to, "memory") || strings.HasPrefix(row.name, "advice") {
				text = strings.Replace(strings.Replace(text, "must:", "should:", 1), "papers: {carried: false}}, expect: fail", "papers: {carried: false}}, expect: warn", 1)
			}
			lib, err := regional(t, text)
			require.NoError(t, err)
			for _, carried := range []string{"true", "false"} {
				d, err := schema.Load("d.yaml", []byte("plumbline: 1\nregions: [xx]\nvehicle: {first_registration_date: 1970-01-01}\npapers: {carried: "+carried+"}\n"))
				require.NoError(t, err)
				for _, f := range lib.Judge(d, engine.Options{Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}).Findings {
					if f.Rule != "regions/xx.age" {
						continue
					}
					known := map[bool]string{strings.Contains(row.want, "page"): "page", strings.Contains(row.want, "memory"): "memory"}[true]
					assert.Equal(t, known, f.KnownFrom)
					said := strings.HasSuffix(f.Text, row.want)
					assert.True(t, said, f.Text)
					if row.want == "" {
						assert.NotContains(t, f.Text, "was not read")
					}
				}
			}
		})
	}
}

// What is only remembered is nobody's duty: the pack is refused.
func TestNoDutyOnMemoryAlone(t *testing.T) {
	text := strings.Replace(regionPack, "{source: act, where: section 3}", "{memory: it is so}", 1)
	text = strings.Replace(text, "sources:\n  act: {kind: law, title: The Act, seen: \"2020-01-01\", read: text}\n", "", 1)
	_, err := regional(t, text)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "a duty rests on a document")
}
