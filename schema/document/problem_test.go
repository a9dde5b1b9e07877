package document

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestTidySortsDropsAndCaps(t *testing.T) {
	var p Problems
	for line := 80; line > 0; line-- {
		one := Problem{Place: Place{"f", line, 2}, Message: fmt.Sprint("wrong ", line)}
		p = append(p, one, one)
	}
	tidy := p.Tidy()
	require.Len(t, tidy, MaxProblems+1)
	assert.Equal(t, "f:1:2: wrong 1", tidy[0].String())
	assert.Equal(t, "f:50:2: wrong 50", tidy[49].String())
	assert.Equal(t, "f: 30 more problems are not shown; mend these first", tidy[50].String())
	assert.Equal(t, 80, p[0].Place.Line, "the receiver is left alone")
	assert.Len(t, p[:100].Tidy(), 50, "at the cap nothing is added")
	assert.NoError(t, Problems(nil).Err())
}

func TestProblemsErrorIsOneLineEach(t *testing.T) {
	err := Problems{
		{Place: Place{"b", 1, 1}, Message: "second"},
		{Place: Place{"a", 9, 9}, Message: "first"},
		{Message: "nowhere"},
	}.Err()
	assert.EqualError(t, err, "nowhere\na:9:9: first\nb:1:1: second")
}

func TestCut(t *testing.T) {
	assert.Equal(t, "a b c", Cut("a\nb\tc"))
	assert.Equal(t, strings.Repeat("x", 60), Cut(strings.Repeat("x", 60)))
	assert.Equal(t, strings.Repeat("ä", 57)+"...", Cut(strings.Repeat("ä", 61)))
}

func TestNearest(t *testing.T) {
	words := []string{"in_tank", "frame_rail", "engine_bay", "boot", "road"}
	for word, want := range map[string]string{
		"in_tnak":               "in_tank",
		"In Tank":               "in_tank",
		"frame-rail":            "frame_rail",
		"engin_bay":             "engine_bay",
		"boto":                  "boot",
		"rod":                   "road",
		"x":                     "",
		"BOOT ":                 "boot",
		"":                      "",
		"carburettor":           "",
		strings.Repeat("r", 99): "",
	} {
		assert.Equal(t, want, Nearest(word, words), "%q", word)
	}
	assert.Equal(t, "abc", Nearest("abb", []string{"abc", "abd"}), "the first of equals wins")
	assert.Empty(t, Nearest("uk", []string{"us", "gb"}), "of two letters, one changed is another word")
	assert.Equal(t, "gb", Nearest(" GB", []string{"us", "gb"}))
}

func TestNearestFindsOneSlip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-z_]{4,20}[a-z]`).Draw(t, "word")
		at := rapid.IntRange(1, len(word)-1).Draw(t, "at")
		slip := word[:at] + rapid.StringMatching(`[a-z]`).Draw(t, "letter") + word[at:]
		if rapid.Bool().Draw(t, "drop") {
			slip = word[:at] + word[at+1:]
		}
		assert.Equal(t, word, Nearest(slip, []string{"qqqqqqqqqqqqqqqqqqqqqqqqq", word}))
	})
}
