package engine_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/report"
	"plumbline/rules"
)

// mostUnseen is how many known failures may stay without a rule.
const mostUnseen = 2

// Every known failure of a conversion is caught by a rule, or a reason says why
// no design can show it; and no rule claims a failure nobody knows.
func TestCoverageOfKnownFailures(t *testing.T) {
	failures, err := report.ReadFailures(rules.Files())
	require.NoError(t, err)
	require.Len(t, failures, 110)
	counted := report.Covered(library(t), failures)
	caught := map[string][]string{}
	for _, p := range library(t).Packs() {
		for i := range p.Rules {
			name, claimed := p.Pack+"."+p.Rules[i].ID, map[string]bool{}
			for _, id := range p.Rules[i].Covers {
				assert.False(t, claimed[id], "%s names %s twice", name, id)
				claimed[id] = true
				caught[id] = append(caught[id], name)
			}
		}
	}
	unseen := 0
	for i, f := range failures {
		assert.Equal(t, fmt.Sprintf("FM%03d", i+1), f.ID)
		switch by := caught[f.ID]; {
		case f.Unseen == "":
			assert.NotEmpty(t, by, "no rule covers %s, %s", f.ID, f.Words)
		default:
			unseen++
			assert.Empty(t, by, "%s has a reason why no rule can catch it, and a rule that does", f.ID)
		}
		delete(caught, f.ID)
	}
	assert.LessOrEqual(t, unseen, mostUnseen)
	assert.Equal(t, report.Coverage{Known: len(failures), Caught: len(failures) - unseen, Unseen: unseen}, counted)
	assert.Empty(t, caught, "rules cover failures that are not in rules/failures.txt")
}
