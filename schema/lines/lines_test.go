package lines_test

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/lines"
	"plumbline/schema/words"
)

var update = flag.Bool("update", false, "write what was read into testdata/lines.txt")

// lists are the blocks of testdata/lines.txt: a list of one or more lines, then what it must be read as, each fact
// indented, and what must be left after a !.
func lists(t *testing.T) (list, want []string) {
	text, err := os.ReadFile("testdata/lines.txt")
	require.NoError(t, err)
	for block := range strings.SplitSeq(strings.TrimSpace(string(text)), "\n\n") {
		var said, read []string
		for line := range strings.SplitSeq(block, "\n") {
			switch {
			case strings.HasPrefix(line, "//"):
			case strings.HasPrefix(line, "  "):
				read = append(read, line)
			default:
				said = append(said, line)
			}
		}
		if len(said) > 0 {
			list, want = append(list, strings.Join(said, "\n")), append(want, strings.Join(read, "\n"))
		}
	}
	return list, want
}

func shown(r *lines.Reading) string {
	var out []string
	for _, l := range r.Lines {
		for _, u := range l.Understood {
			out = append(out, "  "+u.Path+" = "+u.Value)
		}
		for _, x := range l.Left {
			out = append(out, "  ! "+x.Text)
			if len(x.Could) > 0 {
				out[len(out)-1] += " ? " + strings.Join(x.Could, " | ")
			}
		}
	}
	return strings.Join(out, "\n")
}

// Each list is read as written beside it, and what was understood loads as a design.
func TestPlainLines(t *testing.T) {
	list, want := lists(t)
	assert.GreaterOrEqual(t, len(list), 80)
	for i, text := range list {
		r := lines.Read(text)
		assert.Equal(t, want[i], shown(r), text)
		whole(t, text, r)
		fitted(t, r)
	}
	if *update {
		var b strings.Builder
		for _, text := range list {
			b.WriteString(text + "\n" + shown(lines.Read(text)) + "\n\n")
		}
		require.NoError(t, os.WriteFile("testdata/lines.txt", []byte(b.String()), 0o644))
	}
}

// fitted holds that a part which a list names and that may be none is stated to be there, or not: nothing falls between two numbers.
func fitted(t *testing.T, r *lines.Reading) {
	var paths []string
	for _, l := range r.Lines {
		for _, u := range l.Understood {
			paths = append(paths, "."+u.Path+".")
		}
	}
	for _, l := range r.Lines {
		for _, p := range l.Pieces {
			if p.Kind != lines.Between || len(l.Left) > 0 {
				continue
			}
			for word := range strings.FieldsSeq(p.Text) {
				for _, h := range words.Said(strings.Trim(word, ",;.:()")) {
					at := slices.IndexFunc(schema.FieldsOf(h.Row.Part), func(f schema.FieldInfo) bool { return f.Key == h.Row.Key })
					if !h.Own || h.Value != nil || at < 0 {
						continue
					}
					if field := schema.FieldsOf(h.Row.Part)[at]; field.Kind != schema.KindMaybe || field.Part == "Line" {
						continue
					}
					assert.True(t, slices.ContainsFunc(paths, func(path string) bool { return strings.Contains(path, "."+h.Row.Key+".") }), "%q: %s is dropped", l.Text, word)
				}
			}
		}
	}
}

// whole holds what must be true of every reading: no byte is lost, and what was understood is a design.
func whole(t require.TestingT, text string, r *lines.Reading) {
	var all strings.Builder
	for _, l := range r.Lines {
		for _, p := range l.Pieces {
			all.WriteString(p.Text)
		}
		taken := false
		for _, p := range l.Pieces {
			taken = taken || p.Kind == lines.NotTaken
		}
		require.Equal(t, taken, len(l.Left) > 0, "%q: what is left is told", l.Text)
	}
	require.Equal(t, text, all.String())
	design, err := schema.Load("list.yaml", r.YAML())
	require.NoError(t, err, "%s\n%s", text, r.YAML())
	for _, l := range r.Lines {
		for _, u := range l.Understood {
			if fact := design.FactAt("design." + u.Path); fact != nil {
				require.True(t, schema.IsStated(fact), "%s of %q", u.Path, text)
			}
		}
	}
}
