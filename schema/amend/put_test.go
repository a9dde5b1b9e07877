package amend_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/schema/amend"
	"plumbline/schema/document"
)

func TestPut(t *testing.T) {
	for name, c := range map[string]struct {
		before, path string
		value        *yaml.Node
		want         string
	}{
		"what is not there":             {"a: 1\n", "b", amend.Plain("x"), "a: 1\nb: x\n"},
		"a word with its remark":        {"a: 1\npump:\n  place: y   # here\n  z: 1\n", "pump.place", amend.Plain("x"), "a: 1\npump:\n  place: x   # here\n  z: 1\n"},
		"in quotes":                     {"a: 'it''s \"so\"' # q\nb: \"x\\\"y\" # r\n", "b", amend.Text("58 # psi"), "a: 'it''s \"so\"' # q\nb: '58 # psi' # r\n"},
		"in braces":                     {"pump: {place: y, z: 1}  # here\n", "pump.place", amend.Plain("x"), "pump: {place: x, z: 1}  # here\n"},
		"a brace in quotes":             {"pump: {a: '}', place: y}\n", "pump.place", amend.Plain("x"), "pump: {a: '}', place: x}\n"},
		"none by a part":                {"relay: none # was\nb: 1\n", "relay", amend.Part("rating", amend.Plain("30 A")), "relay: # was\n  rating: 30 A\nb: 1\n"},
		"none by a part in braces":      {"c: {relay: none, b: 1}\n", "c.relay", amend.Part("rating", amend.Plain("30 A")), "c: {relay: {rating: 30 A}, b: 1}\n"},
		"a part by none":                {"# top\nrelay:\n  a: 1 # one\n  # two\n  b: 2\n\n# next\nz: 1\n", "relay", amend.Plain("none"), "# top\n# one\n# two\nrelay: none\n\n# next\nz: 1\n"},
		"a part in braces by none":      {"relay: {a: 1, # one\n  b: 2} # two\nz: 1\n", "relay", amend.Plain("none"), "# one\nrelay: none # two\nz: 1\n"},
		"a folded text":                 {"notes: >\n  one\n\n  two\n\nz: 1\n", "notes", amend.Text("x"), "notes: x\n\nz: 1\n"},
		"an item of a list of words":    {"c: [fan, pump]\n", "c[1]", amend.Plain("x"), "c: [fan, x]\n"},
		"a fact of an item":             {"c:\n  - name: a\n    fuse: 1\n  - name: b\n    fuse: 2 # b\n", "c[1]b.fuse", amend.Plain("3"), "c:\n  - name: a\n    fuse: 1\n  - name: b\n    fuse: 3 # b\n"},
		"the first key behind a dash":   {"c:\n  - name: a\n    fuse: 1\n", "c[0]a.name", amend.Plain("b"), "c:\n  - name: b\n    fuse: 1\n"},
		"windows line ends":             {"a: 1\r\nb: 2\r\n", "a", amend.Plain("3"), "a: 3\r\nb: 2\r\n"},
		"letters of more than one byte": {"ä: {ö: 'ü', b: 1} # ß\n", "ä.b", amend.Plain("2"), "ä: {ö: 'ü', b: 2} # ß\n"},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := amend.Put("f.yaml", []byte(c.before), path(c.path), c.value)
			require.NoError(t, err)
			assert.Equal(t, c.want, string(got))
		})
	}
}

func TestDrop(t *testing.T) {
	for name, c := range map[string]struct{ before, path, want string }{
		"nothing there":                    {"a: 1\n", "b.c", "a: 1\n"},
		"a key":                            {"a: 1\n# on b\nb: 2 # two\nc: 3\n", "b", "a: 1\n# on b\n# two\nc: 3\n"},
		"the last key":                     {"a: 1\n\nb: 2\n", "b", "a: 1\n\n"},
		"a part with remarks":              {"a: 1\npump:\n  x: 1 # one\n  # two\n  y: 2\n\n# tank\ntank: {}\n", "pump", "a: 1\n# one\n# two\n\n# tank\ntank: {}\n"},
		"the only key of a part":           {"a: 1\npump: # p\n  x: 1 # one\nb: 2\n", "pump.x", "a: 1\n# one\npump: {} # p\nb: 2\n"},
		"in braces, the first":             {"pump: {x: 1, y: 2} # p\n", "pump.x", "pump: {y: 2} # p\n"},
		"in braces, the last":              {"pump: {x: 1, y: 2} # p\n", "pump.y", "pump: {x: 1} # p\n"},
		"in braces, the only one":          {"# top\npump: {x: 1} # p\nz: 1\n", "pump.x", "# top\npump: {} # p\nz: 1\n"},
		"an item":                          {"c:\n  - name: a\n    fuse: 1 # f\n  - name: b\n", "c[0]a", "c:\n  # f\n  - name: b\n"},
		"an item in brackets":              {"c: [{name: a}, {name: b}]\n", "c[1]b", "c: [{name: a}]\n"},
		"the first key behind a dash":      {"a: 1\n\nc:\n  - name: a\n    fuse:   1\n", "c[0]a.name", "a: 1\n\nc:\n  - fuse:   1\n"},
		"the only key behind a dash":       {"a: 1\n\nc:\n  - name: a # one\n", "c[0]a.name", "a: 1\n\nc:\n  # one\n  - {}\n"},
		"the last item":                    {"a: 1\n\nc: # c\n  - name: a\nz: 1\n", "c[0]a", "a: 1\n\nc: [] # c\nz: 1\n"},
		"in braces over two lines":         {"a: 1\n\npump: {x: 1,\n  y: 2, z: 3} # p\n", "pump.z", "a: 1\n\npump: {x: 1,\n  y: 2} # p\n"},
		"a text of several lines":          {"notes: |\n  # no remark\n  two\nz: 1\n", "notes", "# no remark\nz: 1\n"},
		"remarks of what comes next stay":  {"pump:\n  x: 1\n  # on y\n  y: 2\n", "pump.x", "pump:\n  # on y\n  y: 2\n"},
		"remarks at the end stay in place": {"pump:\n  x: 1\n  y: 2\n  # end\nz: 1\n", "pump.y", "pump:\n  x: 1\n  # end\nz: 1\n"},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := amend.Drop("f.yaml", []byte(c.before), path(c.path))
			require.NoError(t, err)
			assert.Equal(t, c.want, string(got))
		})
	}
}

// Whatever of the committed designs is replaced or taken away, every remark stays, and so does every line that is not part of it.
func TestPutAndDropKeepWhatIsWritten(t *testing.T) {
	files, err := filepath.Glob("../../designs/[dg]*/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for i, file := range files {
		if testing.Short() && i%6 != 0 {
			continue
		}
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		root, err := document.Parse(file, text)
		require.NoError(t, err)
		places := everyKey(root, nil)
		for i := 0; i < len(places); i += 1 + len(places)/20 {
			dropped, err := amend.Drop(file, text, places[i])
			require.NoError(t, err, "%s %v", file, places[i])
			put, err := amend.Put(file, text, places[i], amend.There())
			require.NoError(t, err, "%s %v", file, places[i])
			for what, got := range map[string][]byte{"drop": dropped, "put": put} {
				for _, remark := range remarks(string(text)) {
					if !strings.Contains(string(got), remark) {
						require.Fail(t, "a remark is gone", "%s of %v in %s: %s", what, places[i], file, remark)
					}
				}
				before := "\n" + string(text) + "\n"
				for _, l := range untouched(strings.Split(string(got), "\n")) {
					if !strings.Contains(before, "\n"+l+"\n") {
						require.Fail(t, "a line is another one", "%s of %v in %s: %s", what, places[i], file, l)
					}
				}
			}
		}
	}
}

// everyKey are the ways to all keys of a tree, and to all items that are mappings.
func everyKey(n *yaml.Node, at []amend.Step) [][]amend.Step {
	var out [][]amend.Step
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i].Value, n.Content[i+1]
		next := append(at[:len(at):len(at)], amend.Step{Key: key, Item: amend.Whole})
		out = append(append(out, next), everyKey(value, next)...)
		for j, item := range value.Content {
			if value.Kind == yaml.SequenceNode && item.Kind == yaml.MappingNode {
				next := append(at[:len(at):len(at)], amend.Step{Key: key, Item: j})
				out = append(append(out, next), everyKey(item, next)...)
			}
		}
	}
	return out
}

// remarks are the texts of the remarks on lines of their own, and behind two blanks.
func remarks(text string) []string {
	var out []string
	for l := range strings.Lines(text) {
		l = strings.TrimRight(l, "\n")
		if strings.HasPrefix(strings.TrimSpace(l), "# ") {
			out = append(out, strings.TrimSpace(l))
		} else if at := strings.Index(l, "  # "); at >= 0 {
			out = append(out, l[at+2:])
		}
	}
	return out
}

// untouched are the lines but those with a remark or an empty part, which an edit may make.
func untouched(list []string) []string {
	var out []string
	for _, l := range list {
		if !strings.Contains(l, "#") && !strings.Contains(l, "{") && !strings.HasSuffix(l, "[]") && !strings.Contains(l, "- ") {
			out = append(out, l)
		}
	}
	return out
}
