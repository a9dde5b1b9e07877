package plain

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// through writes a text in pieces of n bytes.
func through(t interface{ Fatal(...any) }, mode Mode, text string, n int) string {
	var out bytes.Buffer
	w := New(&out, &mode)
	for text != "" {
		piece := text[:min(n, len(text))]
		if k, err := w.Write([]byte(piece)); err != nil || k != len(piece) {
			t.Fatal(k, err)
		}
		text = text[len(piece):]
	}
	return out.String()
}

// The signs are those of the Unicode standard, annex 9 (bidirectional marks), ECMA-48 (control functions), and of the logs
// of continuous integration: :: at the beginning of a line, ##word[ in it (memory).
func TestWhatPasses(t *testing.T) {
	for text, want := range map[string]string{
		"plain text\n\twith a tab, ü, 日本, 1.2 Ω, é\n": "plain text\n\twith a tab, ü, 日本, 1.2 Ω, é\n",
		"a\x1b[2Jb\x07c\rd\x00e\x7f":                  "a?[2Jb?c?d?e?",
		"\u009b2J a\u202eb\u2066c\u200bd\ufeff\u2028": "?2J a?b?c?d??",
		"::error::x\n  ::add-mask::y\n\t::z":          ": :error::x\n  : :add-mask::y\n\t: :z",
		"\x1b::error::x":                              "?: :error::x",
		"\u200b::error::x":                            "?: :error::x",
		"a::b\n:c\n: :d":                              "a::b\n:c\n: :d",
		"##[error]x ##vso[task]y ##word[z":            "## [error]x ##vso [task]y ##word [z",
		"###[x":                                       "### [x",
		"## Heading\n[link] # [x] ##1[y]":             "## Heading\n[link] # [x] ##1[y]",
		"bad \xff\xfe utf":                            "bad \ufffd\ufffd utf",
		"no\u00a0break, thin\u2009blank":              "no\u00a0break, thin\u2009blank",
	} {
		for _, n := range []int{1, 2, 3, 1000} {
			assert.Equal(t, want, through(t, Mode{}, text, n), "%q by %d", text, n)
		}
	}
	for _, n := range []int{1, 2, 1000} {
		assert.Equal(t, "\x1b[1;31mFAIL\x1b[0m ?[2J: :", through(t, Mode{Colours: true}, "\x1b[1;31mFAIL\x1b[0m \x1b[2J: :", n))
		assert.Equal(t, "\x1b[1m: :error", through(t, Mode{Colours: true}, "\x1b[1m::error", n), "a style is no text")
	}
}

// JSON stays what it says: only how a character is written changes.
func TestJSONKeepsItsTexts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`(::|##[a-z]{0,3}\[|[\x{202a}-\x{202e}\x{80}-\x{9f}\x{feff}]|\x{e0001}|x){0,9}`)).Draw(t, "text")
		data, err := json.Marshal(map[string]string{text: text})
		require.NoError(t, err)
		got := through(t, Mode{JSON: true}, string(data), rapid.IntRange(1, 40).Draw(t, "n"))
		var back map[string]string
		require.NoError(t, json.Unmarshal([]byte(got), &back), got)
		require.Equal(t, text, back[text])
		for _, r := range got {
			require.True(t, unicode.IsGraphic(r), "%q", got)
		}
	})
}

// Whatever is written, in whatever pieces: no line begins with a command and nothing unseen comes out.
func TestNothingGetsThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`(:|#|\[|[a-z]| |\n|\x1b|\x{202e}|\r|x){0,30}`)).Draw(t, "text")
		whole := through(t, Mode{}, text, len(text)+1)
		require.Equal(t, whole, through(t, Mode{}, text, rapid.IntRange(1, 5).Draw(t, "n")), "pieces make no difference")
		for _, line := range strings.Split(whole, "\n") {
			require.False(t, strings.HasPrefix(strings.TrimSpace(line), "::"), "%q", whole)
			require.NotRegexp(t, `##[a-z]*\[`, line)
			for _, r := range line {
				require.True(t, unicode.IsGraphic(r) || r == '\t', "%q", whole)
			}
		}
	})
}
