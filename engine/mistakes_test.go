package engine_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema/document"
)

// mistake is one paragraph of testdata/mistakes.
type mistake struct {
	name, pack string
	said       [][2]string // text at the place, beginning of what is said
}

func mistakes(t *testing.T) []mistake {
	t.Helper()
	files, err := filepath.Glob("testdata/mistakes/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var out []mistake
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, paragraph := range strings.Split("\n"+strings.ReplaceAll(string(data), "⍽", "\u00a0"), "\n# ")[1:] {
			name, body, _ := strings.Cut(paragraph, "\n")
			m := mistake{name: filepath.Base(file) + "/" + name}
			var top, rule strings.Builder
			inTop := false
			for line := range strings.Lines(body) {
				switch text, is := strings.CutPrefix(line, "> "); {
				case is:
					at, said, found := strings.Cut(strings.TrimSuffix(text, "\n"), " | ")
					require.True(t, found, "%s: %s", m.name, line)
					m.said = append(m.said, [2]string{at, said})
				case strings.TrimSpace(line) == "":
				case line[0] != ' ':
					inTop = true
					top.WriteString(line)
				case inTop && !ruleKey(line):
					top.WriteString(line)
				default:
					inTop = false
					rule.WriteString(line)
				}
			}
			m.pack = "pack: a/b\ntitle: T\nedition: 1\npart: P\n" + top.String() + "rules:\n  - id: one\n    title: t\n    danger: none\n    due: built\n" + rule.String()
			for key, line := range map[string]string{"about:": "about: design.pump", "say:": "say: s", "mend:": "mend: Do it.", "because:": "because: [{practice: p}]"} {
				if !strings.Contains(rule.String(), "    "+key) && (key != "about:" || !strings.Contains(rule.String(), "    each:")) {
					m.pack += "    " + line + "\n"
				}
			}
			out = append(out, m)
		}
	}
	return out
}

// ruleKey reports whether a line begins the lines of the rule.
func ruleKey(line string) bool {
	for _, key := range []string{"must:", "measure:", "applies:", "let:", "each:"} {
		if strings.HasPrefix(line, "    "+key) {
			return true
		}
	}
	return false
}

// Each mistake is told once, at its place, with what to write instead.
func TestMistakesAreToldAtTheirPlace(t *testing.T) {
	for _, m := range mistakes(t) {
		t.Run(m.name, func(t *testing.T) {
			t.Parallel()
			_, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(m.pack)}})
			require.Error(t, err, m.pack)
			var list document.Problems
			require.True(t, errors.As(err, &list), "%T: %v", err, err)
			require.Len(t, list, len(m.said), "%v", err)
			for i, want := range m.said {
				at := strings.LastIndex(m.pack, want[0])
				require.GreaterOrEqual(t, at, 0, "%q is not in the pack", want[0])
				before := m.pack[:at]
				line := strings.Count(before, "\n") + 1
				column := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
				assert.Equal(t, fmt.Sprintf("p.yaml:%d:%d", line, column), list[i].Place.String(), "%v", list[i])
				assert.True(t, strings.HasPrefix(list[i].Message, want[1]), "got  %s\nwant %s", list[i].Message, want[1])
			}
		})
	}
}
