package editor

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The cursor is written as ^. What stands there follows from YAML 1.2.2: flow collections (7.4), quoted and plain scalars
// (7.3), block scalars (8.1), comments (6.6).
func TestWhereACursorStands(t *testing.T) {
	for text, want := range map[string]string{
		"^":                                           "key '' at ",
		"pl^":                                         "key 'pl' at ",
		"pump:\n  pla^ce: in_tank\n":                  "key 'pla' at pump",
		"pump:\n  place: in_^tank\n":                  "value 'in_' at pump.place",
		"pump:\n  place: in_tank\n  ki^":              "key 'ki' at pump beside place",
		"pump:\n  ki^\n  place: in_tank\n":            "value 'ki' at pump",
		"pump:\n  place: ^\n":                         "value '' at pump.place",
		"feed:\n  runs:\n    - ki^":                   "value 'ki' at feed.runs[]",
		"feed:\n  runs:\n    - kind: ho^":             "value 'ho' at feed.runs[].kind",
		"feed:\n  runs:\n    - kind: hose\n      bo^": "key 'bo' at feed.runs[] beside kind",
		"feed: {runs: [{kind: hose, bo^":              "key 'bo' at feed.runs[] beside kind",
		"feed: {runs: [{kind: ho^":                    "value 'ho' at feed.runs[].kind",
		"feed: {runs: [{kind: ho^}]}\nx: [":           "value 'ho' at feed.runs[].kind",
		"title: \"a {b^":                              "value 'a {b' at title",
		"title: 'it''s {b^'":                          "value 'it's {b' at title",
		"title: don't {b^":                            "value 'don't {b' at title",
		"must: |\n  a &&\n  b.^":                      "value 'a &&\nb.' at must",
		"must: >-\n  a &&\n\n  b.^\nsay: x":           "value 'a &&\nb.' at must",
		"rows: [[a, b^":                               "value 'b' at rows[][]",
		"a: 1 # note\nb: ^":                           "value '' at b",
		"{\"pump\": {\"place\": \"in_^":               "value 'in_' at pump.place",
		"a: x\n# com^ment\n":                          "nothing",
		"a: }\nb: ^":                                  "nothing",
		"a: x # com^ment":                             "nothing",
		"a: [\nb: ^":                                  "value '' at a[].b",
		"a: \U0001F600\nb: ä^":                        "value 'ä' at b",
		"a: x\r\nb: y^\r\n":                           "value 'y' at b",
		"circuits:\n  - name: a\n    ^\n    load:\n":  "key '' at circuits[] beside name load",
	} {
		before, after, found := strings.Cut(text, "^")
		require.True(t, found)
		got := "nothing"
		if s := SpotAt(before+after, len(before)); s != nil {
			got = map[bool]string{true: "key", false: "value"}[s.Key] + " '" + s.Text + "' at " + pathOf(s.Way)
			if s.Key && len(s.Beside) > 0 {
				got += " beside " + strings.Join(s.Beside, " ")
			}
		}
		assert.Equal(t, want, got, "%q", text)
	}
}

// Whatever a text is and wherever the cursor stands, nothing breaks: half of what is typed is no YAML.
func FuzzSpot(f *testing.F) {
	for _, text := range []string{"pump: {place: in_tank}\n", "a: |\n  x\nb: [\"c\", 'd''e'] # f\n", "- - a: b\n  - {c: d\n", "a: &x [*x, !!int 1]\n", "\xff\xfe", "? a\n: b\n"} {
		f.Add(text, len(text)/2)
	}
	f.Fuzz(func(t *testing.T, text string, at int) {
		if len(text) > 1<<12 {
			return
		}
		at = min(max(at, 0), len(text))
		if s := SpotAt(text, at); s != nil {
			_ = pathOf(s.Way)
		}
	})
}
