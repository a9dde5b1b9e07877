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
		{"a page about it", "read: text", "read: secondary", "So says a page about the rule; its text was not read."},
		{"from memory", "{source: act, where: section 3}", "{memory: it is so}", "So the rule is remembered; its text was not read."},
		{"practice is no text", "{source: act, where: section 3}", "{practice: it is so}", "So the rule is remembered; its text was not read."},
		{"advice claims no law", "consequence: duty", "consequence: advice", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := strings.Replace(regionPack, row.from, row.to, 1)
			if !strings.Contains(text, "source: act") {
				text = strings.Replace(text, "sources:\n  act: {kind: law, title: The Act, edition: \"2020-01-01\", seen: 2026-01-31, read: text}\n", "", 1)
			}
			if strings.Contains(row.to, "memory") {
				text = strings.Replace(strings.Replace(text, "must:", "should:", 1), "papers: {carried: false}}, expect: fail", "papers: {carried: false}}, expect: warn", 1)
			}
			if row.want == "" && strings.HasPrefix(row.name, "advice") {
				text = strings.Replace(text, "read: text", "read: secondary", 1)
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
