package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// Whoever names one hose of the feed is not told that there is no filter, but asked whether that is all. Said so, it fails.
func TestAHalfKnownListIsAskedAfter(t *testing.T) {
	lib := library(t)
	const filter = "{name: filter, kind: filter, filter: {mesh: 10 um}}"
	judge := func(text string) *engine.Report {
		d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"+text))
		require.NoError(t, err)
		return lib.Judge(d, engine.Options{})
	}
	outcome := func(r *engine.Report, subject, rule string) (out engine.Outcome, missing []string) {
		for _, f := range r.Findings {
			if f.Rule == rule && f.Subject == subject {
				return f.Outcome, f.Missing
			}
		}
		return "", nil
	}
	const feed, rule = "design.feed", "fuel/filters.fine-filter-before-injectors"
	half := judge("feed: {runs: [{name: hose, kind: hose}]}\n")
	got, missing := outcome(half, feed, rule)
	assert.Equal(t, engine.Open, got)
	assert.Equal(t, []string{"design.feed.runs"}, missing)

	asked := 0
	for _, q := range half.Asked {
		if q.Path == "design.feed.runs" {
			asked++
			assert.Equal(t, "Is that all of the feed, from pump to throttle body? Write complete: [feed], or name the rest.", q.Ask)
			assert.Equal(t, "feed", q.Complete)
		}
	}
	assert.Equal(t, 1, asked, "one question for one list")

	got, _ = outcome(judge("complete: [feed]\nfeed: {runs: [{name: hose, kind: hose}]}\n"), feed, rule)
	assert.Equal(t, engine.Fail, got)
	got, _ = outcome(judge("feed: {runs: [{name: hose, kind: hose}, "+filter+"]}\n"), feed, rule)
	assert.Equal(t, engine.Pass, got)

	// The rest of a list has no findings of its own where a rule judges each item.
	for _, f := range half.Findings {
		assert.NotEqual(t, "design.feed.runs", f.Subject, f.Rule)
	}
	for _, f := range judge("title: nothing named\n").Findings {
		if f.Subject == "design.feed.runs" {
			return
		}
	}
	t.Error("a list nobody spoke of has findings of its own")
}
