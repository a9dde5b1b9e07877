package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// Whatever is stated, each part on the other ways leads to something of a design, and what nobody stated is drawn unknown.
func TestOtherWaysLeadToParts(t *testing.T) {
	six, err := schema.Load("x", []byte("plumbline: 1\nexhaust: {catalyst: none}\noxygen_sensors: [{name: left, kind: wide_band}]\ncomplete: [oxygen_sensors]\npassages: [{name: firewall, hole: 50 mm}]\nintake: {cleaner_area: 120 cm2}\n"))
	assert.NoError(t, err)
	for _, d := range []*schema.Design{schema.Empty(), six} {
		stops, unknown := 0, 0
		for _, o := range sheet.OtherWays() {
			w := o.Way(&sheet.Job{Design: d, Report: &engine.Report{}})
			assert.NotEmpty(t, w.Title)
			for _, leg := range w.Legs {
				for _, s := range leg.Stops {
					stops++
					assert.True(t, schema.TypeAt(s.Path) != "" || schema.Describe(s.Path).Field.Key != "", "%s: %s", s.Name, s.Path)
					if s.Unknown {
						unknown++
					}
				}
			}
		}
		if d == six {
			assert.Less(t, unknown, stops-2)
		} else {
			assert.Greater(t, unknown, stops-3, "but the ground and what has no fact of its own")
		}
	}
}
