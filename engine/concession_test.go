package engine

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/pack"
	"plumbline/schema"
)

// conceding runs a concession for x/y.z until 2027-03-31 on one finding.
func conceding(t *testing.T, more, today string, f *Finding) []*Finding {
	t.Helper()
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nconcessions: [{rule: x/y.z, reason: bench engine only, granted_by: workshop lead, until: 2027-03-31"+more+"}]\n"))
	require.NoError(t, err)
	day, err := time.Parse(time.DateTime, today)
	require.NoError(t, err)
	j := &judging{design: d, options: Options{Today: day}}
	return j.concede([]*Finding{f})
}

// ISO 9000, concession: permission to use what does not conform. What is wrong, doubtful or open can be permitted;
// what passed or does not concern the design needs no permission, and nothing else is covered.
func TestWhatAConcessionCovers(t *testing.T) {
	const day = "2027-01-01 12:00:00"
	for outcome, covered := range map[Outcome]bool{Fail: true, Warn: true, Open: true, Pass: false, NotApplicable: false} {
		f := &Finding{Rule: "x/y.z", Subject: "design.pump", Outcome: outcome, Danger: pack.EngineDamage}
		told := conceding(t, "", day, f)
		assert.Equal(t, covered, f.Conceded != nil, "%s", outcome)
		assert.Equal(t, !covered, len(told) == 1, "%s: a concession that matches nothing is told", outcome)
	}
	other := &Finding{Rule: "x/y.other", Subject: "design.pump", Outcome: Warn, Danger: pack.EngineDamage}
	assert.Len(t, conceding(t, "", day, other), 1)
	assert.Nil(t, other.Conceded)
	for subject, covered := range map[string]bool{"design.pump": true, "design.tank": false} {
		f := &Finding{Rule: "x/y.z", Subject: "design.pump", Outcome: Warn, Danger: pack.EngineDamage}
		conceding(t, ", subject: "+subject, day, f)
		assert.Equal(t, covered, f.Conceded != nil, subject)
	}
	for _, danger := range pack.Dangers() {
		f := &Finding{Rule: "x/y.z", Subject: "design.pump", Outcome: Warn, Danger: danger}
		told := conceding(t, "", day, f)
		assert.Equal(t, danger == pack.Fire || danger == pack.Poisoning || danger == pack.LossOfControl, f.Conceded == nil, "%s", danger)
		assert.Equal(t, f.Conceded == nil, len(told) == 1, "%s", danger)
	}
}

// "Until" includes its day and ends with it.
func TestAConcessionEndsWithItsDay(t *testing.T) {
	for today, holds := range map[string]bool{
		"2027-03-31 00:00:00": true, "2027-03-31 23:59:59": true, "2027-04-01 00:00:00": false, "2027-04-01 00:00:01": false, "2027-04-20 12:00:00": false,
	} {
		f := &Finding{Rule: "x/y.z", Subject: "design.pump", Outcome: Fail, Danger: pack.EngineDamage}
		told := conceding(t, "", today, f)
		assert.Equal(t, holds, f.Conceded != nil, today)
		assert.Equal(t, !holds, len(told) == 1, today)
	}
}
