package amend_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
)

// path reads circuits[2]fan.fuse: a list's item by its place and, after it, its name.
func path(text string) []amend.Step {
	var out []amend.Step
	for key := range strings.SplitSeq(text, ".") {
		s := amend.Step{Key: key, Item: amend.Whole}
		if name, rest, ok := strings.Cut(key, "["); ok {
			at, item, _ := strings.Cut(rest, "]")
			s = amend.Step{Key: name, Item: int(at[0] - '0'), Name: item}
		}
		out = append(out, s)
	}
	return out
}

func TestSet(t *testing.T) {
	for name, c := range map[string]struct{ before, path, want string }{
		"key at the end of the file":            {"plumbline: 1\n", "title", "plumbline: 1\ntitle: x\n"},
		"no line end at the end":                {"plumbline: 1", "title", "plumbline: 1\ntitle: x\n"},
		"part with its first fact":              {"a: 1\n", "pump.kind", "a: 1\npump:\n  kind: x\n"},
		"part that is there":                    {"pump:\n  place: y\n\n# the tank\ntank:\n  vent: z\n", "pump.kind", "pump:\n  place: y\n  kind: x\n\n# the tank\ntank:\n  vent: z\n"},
		"a comment that belongs to the part":    {"pump:\n    place: y   # here\n    # and more\n# the tank\ntank: {}\n", "pump.kind", "pump:\n    place: y   # here\n    # and more\n    kind: x\n# the tank\ntank: {}\n"},
		"below a value of several lines":        {"pump:\n  curve:\n    - {a: 1,\n       b: 2}\n\ntank: {}\n", "pump.kind", "pump:\n  curve:\n    - {a: 1,\n       b: 2}\n  kind: x\n\ntank: {}\n"},
		"below a folded text":                   {"notes: >\n  one\n\n  two\n\nz: 1\n", "z2", "notes: >\n  one\n\n  two\n\nz: 1\nz2: x\n"},
		"below a text with a number sign":       {"a:\n  b: |\n    one\n    # two\n\nz: 1\n", "a.c", "a:\n  b: |\n    one\n    # two\n  c: x\n\nz: 1\n"},
		"in braces":                             {"pump: {place: y}  # here\n", "pump.kind", "pump: {place: y, kind: x}  # here\n"},
		"in braces with blanks":                 {"pump: { place: y }\n", "pump.kind", "pump: { place: y, kind: x }\n"},
		"in braces with brackets and quotes":    {"pump: {a: '}', b: \"\\\"}\", c: [1, {d: 2}], e: 14' 6}  # }\nz: 1\n", "pump.kind", "pump: {a: '}', b: \"\\\"}\", c: [1, {d: 2}], e: 14' 6, kind: x}  # }\nz: 1\n"},
		"in braces over two lines":              {"pump: {a: 1, # one }\n  b: 2}\nz: 1\n", "pump.kind", "pump: {a: 1, # one }\n  b: 2, kind: x}\nz: 1\n"},
		"braces that are empty":                 {"pump: {}  # one\nz: 1\n", "pump.kind", "pump:  # one\n  kind: x\nz: 1\n"},
		"empty braces in braces":                {"a: {pump: {}}\n", "a.pump.kind", "a: {pump: {kind: x}}\n"},
		"a long line in braces":                 {"pump: {place: " + strings.Repeat("y", 100) + "}\n", "pump.kind", "pump: {place: " + strings.Repeat("y", 100) + ",\n       kind: x}\n"},
		"deeper braces":                         {"c: [{name: fan, load: {a: 1}}, {name: pump}]\n", "c[0]fan.load.b", "c: [{name: fan, load: {a: 1, b: x}}, {name: pump}]\n"},
		"first item of a list":                  {"a: 1\n", "c[0]fan.fuse", "a: 1\nc:\n  - name: fan\n    fuse: x\n"},
		"a further item":                        {"c:\n  - name: fan\n\nz: 1\n", "c[1]pump.fuse", "c:\n  - name: fan\n  - name: pump\n    fuse: x\n\nz: 1\n"},
		"a list at the key's own column":        {"c:\n- name: fan\n# z\nz: 1\n", "c[0]fan.fuse", "c:\n- name: fan\n  fuse: x\n# z\nz: 1\n"},
		"an item by its name":                   {"c:\n  - {name: a}\n  - {name: b}\n", "c[0]b.fuse", "c:\n  - {name: a}\n  - {name: b, fuse: x}\n"},
		"an item in brackets":                   {"c: [{name: a}]\n", "c[1]b.fuse", "c: [{name: a}, {name: b, fuse: x}]\n"},
		"an empty item":                         {"c:\n  - {}\n  - {}  # two\n", "c[1].fuse", "c:\n  - {}\n  - fuse: x  # two\n"},
		"an empty list":                         {"c: []\n", "c[0]fan.fuse", "c:\n  - name: fan\n    fuse: x\n"},
		"an empty part in an item":              {"c:\n  - name: fan\n    load: {}\n  - name: b\n", "c[0]fan.load.a", "c:\n  - name: fan\n    load:\n      a: x\n  - name: b\n"},
		"an empty part first in an item":        {"c:\n  - load: {}\n    b: 1\n", "c[0].load.a", "c:\n  - load:\n      a: x\n    b: 1\n"},
		"a dash on a line of its own":           {"c:\n  -\n    name: fan\n\n  -\n    name: b # b\n", "c[0]fan.fuse", "c:\n  - name: fan\n    fuse: x\n  - name: b # b\n"},
		"a comma too many":                      {"# top\npump: {a: 1,}\n\n# z\nz: 1 # one\n", "pump.kind", "# top\npump: {a: 1, kind: x}\n# z\nz: 1 # one\n"},
		"the whole file in braces":              {"{plumbline: 1}\n", "title", "{plumbline: 1, title: x}\n"},
		"windows line ends":                     {"a: 1\r\npump:\r\n  b: 2\r\n", "pump.kind", "a: 1\r\npump:\r\n  b: 2\r\n  kind: x\r\n"},
		"letters that take more than one byte":  {"ä: {ö: 'ü', b: 1} # ß\n", "ä.kind", "ä: {ö: 'ü', b: 1, kind: x} # ß\n"},
		"a document's first line and last line": {"---\na: 1\n...\n", "b", "a: 1\nb: x\n"},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := amend.Set("f.yaml", []byte(c.before), path(c.path), amend.Plain("x"))
			require.NoError(t, err)
			assert.Equal(t, c.want, string(got))
		})
	}
}

func TestSetValues(t *testing.T) {
	for text, want := range map[string]string{
		"58 psi": "58 psi", "6": "6", "true": "true", "1971-12-01": "1971-12-01", "in_tank": "in_tank", "3/8 in": "3/8 in", "-6": "-6", "30 %": "30 %",
		"a: b": "'a: b'", "# x": "'# x'", "x # y": "'x # y'", "{": "'{'", "*x": "'*x'", "a, b": "a, b", "'": "''''", "~": "~",
	} {
		got, err := amend.Set("f", []byte("a: 1\n"), path("b"), amend.Plain(text))
		require.NoError(t, err, text)
		var doc struct{ B yaml.Node }
		require.NoError(t, yaml.Unmarshal(got, &doc))
		assert.Equal(t, text, doc.B.Value)
		if text != "a, b" && text != "{" {
			assert.Contains(t, []string{"a: 1\nb: " + want + "\n", "a: 1\nb: " + strings.ReplaceAll(want, "'", `"`) + "\n"}, string(got), text)
		}
		got, err = amend.Set("f", []byte("a: {z: 1}\n"), path("a.b"), amend.Text(text))
		require.NoError(t, err, text)
		var inside struct{ A struct{ B yaml.Node } }
		require.NoError(t, yaml.Unmarshal(got, &inside))
		assert.Equal(t, text, inside.A.B.Value)
		assert.Equal(t, "!!str", inside.A.B.ShortTag(), "%q is a text", text)
	}
	for name, c := range map[string]struct {
		value *yaml.Node
		want  string
	}{
		"there":        {amend.There(), "a: 1\nb: {}\n"},
		"empty items":  {amend.List(amend.There(), amend.There()), "a: 1\nb:\n  - {}\n  - {}\n"},
		"items":        {amend.List(amend.Part("name", amend.Text("fan")), amend.Plain("x")), "a: 1\nb:\n  - name: fan\n  - x\n"},
		"parts":        {amend.Part("c", amend.Part("d", amend.There())), "a: 1\nb:\n  c:\n    d: {}\n"},
		"a number's":   {amend.Text("1972"), "a: 1\nb: \"1972\"\n"},
		"empty a list": {amend.List(), "a: 1\nb: []\n"},
	} {
		got, err := amend.Set("f", []byte("a: 1\n"), path("b"), c.value)
		require.NoError(t, err, name)
		assert.Equal(t, c.want, string(got), name)
	}
}

// A range is written as it is typed and read back as one, quoted where a reader of YAML would take it for something else.
func TestSetWritesRanges(t *testing.T) {
	for _, value := range []string{"280..320 hp", "280..300..320 hp", "300 hp +- 5 %", "300 \u00b1 15 hp", "about 300 hp", "~300 hp", "ca. 300 hp"} {
		got, err := amend.Set("d.yaml", []byte("plumbline: 1\n"), path("engine.power"), amend.Plain(value))
		require.NoError(t, err, value)
		assert.Equal(t, "plumbline: 1\nengine:\n  power: "+value+"\n", string(got))
		d, err := schema.Load("d.yaml", got)
		require.NoError(t, err, value)
		assert.True(t, d.Engine.Power.Ranged(), value)
	}
	got, err := amend.Set("d.yaml", []byte("plumbline: 1\n"), path("engine.cylinders"), amend.Plain("6..8"))
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", got)
	require.NoError(t, err)
	assert.True(t, d.Engine.Cylinders.Ranged())
}

func TestSetRefuses(t *testing.T) {
	for name, c := range map[string]struct{ before, path, want string }{
		"stated already": {"a: 1\nb: 2\n", "b", "line 2 states this already"},
		"no mapping":     {"a: none\n", "a.b", "line 1 is no mapping of keys to values"},
		"no list":        {"a: none\n", "a[0].b", "line 1 is no list"},
		"not readable":   {"a: 1\na: 2\n", "b", "f:2:1: key a is already on line 1; keep one of them"},
	} {
		_, err := amend.Set("f", []byte(c.before), path(c.path), amend.Plain("x"))
		assert.EqualError(t, err, c.want, name)
	}
	_, err := amend.Set("f", []byte("a: 1\n"), nil, amend.Plain("x"))
	assert.Error(t, err)
}

// Whatever mapping or list of the committed designs grows, at most one line is another than it was; the rest stands as it stood.
func TestSetKeepsWhatIsWritten(t *testing.T) {
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		root, err := document.Parse(file, text)
		require.NoError(t, err)
		places := everywhere(root, nil)
		for i := 0; i < len(places); i += 1 + len(places)/12 {
			got, err := amend.Set(file, text, append(places[i], amend.Step{Key: "new", Item: amend.Whole}), amend.Plain("x"))
			require.NoError(t, err, "%s %v", file, places[i])
			before, after := strings.Split(string(text), "\n"), strings.Split(string(got), "\n")
			for len(before) > 0 && before[0] == after[0] {
				before, after = before[1:], after[1:]
			}
			for len(before) > 0 && before[len(before)-1] == after[len(after)-1] {
				before, after = before[:len(before)-1], after[:len(after)-1]
			}
			require.LessOrEqual(t, len(before), 1, "%s %v", file, places[i])
			require.LessOrEqual(t, len(after), 2, "%s %v", file, places[i])
		}
	}
}

func everywhere(n *yaml.Node, at []amend.Step) [][]amend.Step {
	var out [][]amend.Step
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i].Value, n.Content[i+1]
		switch value.Kind {
		case yaml.MappingNode:
			next := append(at[:len(at):len(at)], amend.Step{Key: key, Item: amend.Whole})
			out = append(append(out, next), everywhere(value, next)...)
		case yaml.SequenceNode:
			for j, item := range value.Content {
				if item.Kind == yaml.MappingNode {
					next := append(at[:len(at):len(at)], amend.Step{Key: key, Item: j})
					out = append(append(out, next), everywhere(item, next)...)
				}
			}
		}
	}
	return out
}
