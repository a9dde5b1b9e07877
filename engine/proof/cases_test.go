package proof

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine"
	"plumbline/engine/pack"
)

// A finding of a case is looked at for words of the file, and a pass for values that it does not settle.
func TestUnspeakable(t *testing.T) {
	computed, set := &pack.Case{}, &pack.Case{Assume: pack.Named[pack.Scalar]{{Key: "at.idle.x"}}}
	for name, c := range map[string]struct {
		f    engine.Finding
		c    *pack.Case
		want string
	}{
		"in order":                {engine.Finding{Outcome: engine.Pass, Text: "The pump sits in the tank."}, computed, ""},
		"a word of the file":      {engine.Finding{Outcome: engine.Warn, Text: "The pump sits in_tank."}, computed, `"in_tank"`},
		"in the remedy":           {engine.Finding{Outcome: engine.Fail, Text: "Wrong.", Remedy: "Correct pump.rated_flow."}, computed, `"pump.rated_flow"`},
		"not known":               {engine.Finding{Outcome: engine.Pass, Text: "The hose is (not known) thick."}, computed, "need not be known"},
		"cannot be worked out":    {engine.Finding{Outcome: engine.Pass, Text: "A fuse of (none)."}, computed, "need not be known"},
		"a case that sets values": {engine.Finding{Outcome: engine.Pass, Text: "The hose is (not known) thick."}, set, ""},
		"open":                    {engine.Finding{Outcome: engine.Open, Text: "in_tank (not known)"}, computed, ""},
	} {
		got := unspeakable(&c.f, c.c)
		if c.want == "" {
			assert.Empty(t, got, name)
			continue
		}
		assert.Contains(t, got, c.want, name)
	}
}
