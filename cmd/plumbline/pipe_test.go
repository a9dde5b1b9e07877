package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/schema"
)

// jsonLine is a design of this project as one line of JSON.
func jsonLine(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	whole, err := schema.Whole(name, data, os.ReadFile)
	require.NoError(t, err)
	var value any
	var root yaml.Node
	require.NoError(t, yaml.Unmarshal(whole, &root))
	value = plainValue(root.Content[0])
	line, err := json.Marshal(value)
	require.NoError(t, err)
	return line
}

// plainValue keeps what a person wrote: a day stays a text.
func plainValue(n *yaml.Node) any {
	switch {
	case n.Kind == yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i < len(n.Content); i += 2 {
			m[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return m
	case n.Kind == yaml.SequenceNode:
		list := []any{}
		for _, item := range n.Content {
			list = append(list, plainValue(item))
		}
		return list
	case n.Tag == "!!bool":
		return n.Value == "true"
	case n.Tag == "!!int" || n.Tag == "!!float":
		return json.Number(n.Value)
	}
	return n.Value
}

var pipe = regexp.MustCompile("(?s)<!-- pipe -->\n```sh\n(.*?)```")

// The pipe that README shows judges each design once, in order, as one process does; the lines follow their schema.
func TestReadmePipeWorks(t *testing.T) {
	for _, tool := range []string{"sh", "split", "xargs", "cat"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is not here")
		}
	}
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	m := pipe.FindSubmatch(readme)
	require.NotNil(t, m)
	var fleet bytes.Buffer
	var want []string
	for i := range 10 {
		name := []string{"../../designs/demo/four-faulty.yaml", "../../designs/demo/six-return.yaml", "../../designs/demo/counter-half-known.yaml"}[i%3]
		line := jsonLine(t, name)
		if i == 7 {
			line = []byte(`{"plumbline":1,"stage":"never"}`)
		}
		fleet.Write(append(line, '\n'))
		want = append(want, name)
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "fleet.jsonl"), fleet.Bytes(), 0o644))
	out, err := exec.Command("go", "build", "-o", filepath.Join(dir, "plumbline"), ".").CombinedOutput()
	require.NoError(t, err, "%s", out)
	run := func(script string) {
		cmd := exec.Command("sh", "-c", script)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), "PATH="+dir+string(os.PathListSeparator)+os.Getenv("PATH"))
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s", out)
	}
	run(string(m[1]))
	run("plumbline check --format lines fleet.jsonl >whole.jsonl; test $? = 2")

	compiler := jsonschema.NewCompiler()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.LineSchema()))
	require.NoError(t, err)
	require.NoError(t, compiler.AddResource("line.json", doc))
	compiled := compiler.MustCompile("line.json")
	read := func(name string) []string {
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
		require.Len(t, lines, len(want))
		for i, line := range lines {
			value, err := jsonschema.UnmarshalJSON(strings.NewReader(line))
			require.NoError(t, err)
			require.NoError(t, compiled.Validate(value), line)
			assert.Equal(t, i == 7, value.(map[string]any)["problems"] != nil, "line %d", i)
			// Only the name differs: the pieces count their own lines.
			_, lines[i], _ = strings.Cut(line, ",")
		}
		return lines
	}
	parts, whole := read("findings.jsonl"), read("whole.jsonl")
	for i := range parts {
		if i != 7 {
			assert.Equal(t, whole[i], parts[i])
		}
	}
}
