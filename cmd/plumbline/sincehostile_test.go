package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
)

// A stored report may come from anyone: however large and odd it is, comparing with it stays within memory.
func TestStoredReportsStayWithinMemory(t *testing.T) {
	binary, dir := built(t), t.TempDir()
	const design = "../../designs/demo/six-return.yaml"
	text := outputAt(t, "check", "--format", "json", design)
	var doc map[string]any
	require.NoError(t, json.Unmarshal(text, &doc))
	one := doc["reports"].([]any)[0].(map[string]any)
	const large = 60 << 20
	// with puts a text of repeated pieces in the place of a key's value, of the document or its report.
	type attack struct {
		in                     map[string]any
		key, open, piece, shut string
		told                   string
	}
	write := func(t *testing.T, file string, x attack) {
		kept := x.in[x.key]
		x.in[x.key] = "@@"
		data, err := json.Marshal(doc)
		x.in[x.key] = kept
		require.NoError(t, err)
		before, after, _ := strings.Cut(string(data), `"@@"`)
		f, err := os.Create(file)
		require.NoError(t, err)
		w := bufio.NewWriter(f)
		_, _ = w.WriteString(before + x.open)
		for range large / len(x.piece) {
			_, _ = w.WriteString(x.piece)
		}
		_, _ = w.WriteString(x.shut + after)
		require.NoError(t, w.Flush())
		require.NoError(t, f.Close())
	}
	numbered := func(n int, prefix string) string {
		return `"` + strings.TrimSuffix(rep(n, 0, prefix+`#","`), `,"`)
	}
	const finding = `{"rule":"a.b","outcome":"fail","blocks":false,"subject":"x","place":{"line":1,"column":1}}`
	const tooLarge = "takes more memory than a comparison is given"
	for name, x := range map[string]attack{
		"many findings":        {one, "findings", "[", finding + ",", finding + "]", tooLarge},
		"many empty texts":     {one, "unread", "[", `"",`, `""]`, tooLarge},
		"many names":           {one, "names", "{", `"design.circuits[0].feed_wires[0]":"x",`, `"x":"x"}`, tooLarge},
		"rules times parts":    {one, "rest", `[{"rules":[` + numbered(20_000, "r") + `],"met":[`, strings.Repeat(" ", 1000), numbered(20_000, "p") + `]}]`, tooLarge},
		"one long text":        {one, "unread", `["`, "xxxxxxxxxx", `"]`, "cannot be read as JSON"},
		"one long number":      {doc, "format", "1", "1111111111", "", "cannot be read as JSON"},
		"nested without end":   {doc, "reports", "", "[[[[[[[[[[", "", "cannot be read as JSON"},
		"an unknown key":       {doc, "problems", `[], "zorp": [`, "{},", "{}]", `a report has no key "zorp" here`},
		"reports that are not": {doc, "reports", "[", "{},", "{}]", "at /reports/0/: missing"},
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(dir, "stored.json")
			write(t, file, x)
			var errs bytes.Buffer
			cmd := exec.Command(binary, "check", "--since", file, design)
			cmd.Stderr = &errs
			forgetPeak()
			_ = cmd.Run()
			t.Logf("%v, %d MB", cmd.ProcessState.UserTime(), maxResident(cmd.ProcessState)>>20)
			assert.Equal(t, exit.Input, cmd.ProcessState.ExitCode())
			assert.Contains(t, errs.String(), x.told)
			assert.Equal(t, 1, strings.Count(errs.String(), "\n"), "one sentence")
			assert.Less(t, maxResident(cmd.ProcessState)>>20, int64(mostMegabytes))
		})
	}
}
