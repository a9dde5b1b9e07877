package engine

import (
	"testing"

	"github.com/google/cel-go/common/types"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/internal/rule"
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
