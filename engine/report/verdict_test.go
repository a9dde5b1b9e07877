package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine"
)

// A job that nothing stops says in its headline what does not add up, at every stage; a doubt of another kind is not told there.
func TestWhatDoesNotAddUpStandsInTheHeadline(t *testing.T) {
	bore := engine.Finding{Rule: "sense/lines.bore-usual", Part: "Fuel lines", Outcome: engine.Warn, Sense: true, Subject: "design.feed.runs[0]"}
	age := engine.Finding{Rule: "fuel/hose.hose-age", Part: "Fuel lines", Outcome: engine.Warn, Subject: "design.feed.runs[1]"}
	lead := func(stage string, list ...engine.Finding) string {
		return verdictOf(&engine.Report{Stage: stage, Findings: list}, nil).lead()
	}
	for stage, step := range steps {
		assert.Equal(t, "Nothing stands against "+step.doing+", but 1 thing does not add up", lead(stage, bore, age), stage)
		assert.Equal(t, "Nothing stands against "+step.doing, lead(stage, age), stage)
	}
	other := bore
	other.Rule, other.Subject = "sense/lines.length-usual", "design.feed.runs[2]"
	assert.Equal(t, "Nothing stands against the first start, but 2 things do not add up", lead("built", bore, other))
}
