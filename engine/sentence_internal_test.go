package engine

import (
	"testing"

	"github.com/google/cel-go/common/types"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// Every word a fact may take is printed as people write it, alone and in a list.
func TestWordsArePrintedAsSpoken(t *testing.T) {
	j, tried := &judging{}, 0
	for _, part := range schema.Types() {
		for _, f := range part.Fields {
			list := make([]string, 0, len(f.Words))
			for _, w := range f.Words {
				tried++
				list = append(list, w)
				text := j.words(types.String(w))
				assert.NotEmpty(t, text)
				assert.False(t, rule.RawWord.MatchString(text), "%s.%s: %q is printed as %q", part.Name, f.Key, w, text)
			}
			if len(list) > 0 {
				text := j.words(types.DefaultTypeAdapter.NativeToValue(list))
				assert.False(t, rule.RawWord.MatchString(text), "%s.%s: a list of its words is printed as %q", part.Name, f.Key, text)
			}
		}
	}
	require.Greater(t, tried, 300, "the words of the schema were not found")
	assert.Equal(t, "draught tube", j.words(types.String("draught_tube")))
	assert.True(t, rule.RawWord.MatchString("a draught_tube"), "the check would find it")
}

// A finding of a case is looked at for words of the file, and a pass for values that it does not settle.
func TestUnspeakable(t *testing.T) {
	computed, set := &pack.Case{}, &pack.Case{Assume: pack.Named[pack.Scalar]{{Key: "at.idle.x"}}}
	for name, c := range map[string]struct {
		f    Finding
		c    *pack.Case
		want string
	}{
		"in order":                {Finding{Outcome: Pass, Text: "The pump sits in the tank."}, computed, ""},
		"a word of the file":      {Finding{Outcome: Warn, Text: "The pump sits in_tank."}, computed, `"in_tank"`},
		"in the remedy":           {Finding{Outcome: Fail, Text: "Wrong.", Remedy: "Correct pump.rated_flow."}, computed, `"pump.rated_flow"`},
		"not known":               {Finding{Outcome: Pass, Text: "The hose is (not known) thick."}, computed, "need not be known"},
		"cannot be worked out":    {Finding{Outcome: Pass, Text: "A fuse of (none)."}, computed, "need not be known"},
		"a case that sets values": {Finding{Outcome: Pass, Text: "The hose is (not known) thick."}, set, ""},
		"open":                    {Finding{Outcome: Open, Text: "in_tank (not known)"}, computed, ""},
	} {
		got := unspeakable(&c.f, c.c)
		if c.want == "" {
			assert.Empty(t, got, name)
			continue
		}
		assert.Contains(t, got, c.want, name)
	}
}
