package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"text/template"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
)

// What a pack may take, whatever is in it: processor time, as the machine may be busy, and memory.
const (
	// Two seconds on a quiet machine; five times that, so that only what takes the machine fails here.
	mostTime      = 10 * time.Second
	mostMegabytes = 300
)

// bomb is a pack that tries to take the machine, and what has to be told of it.
type bomb struct{ name, told, pack string }

// bombs reads testdata/bombs.txt.
func bombs(t *testing.T) []bomb {
	t.Helper()
	data, err := os.ReadFile("testdata/bombs.txt")
	require.NoError(t, err)
	var out []bomb
	for _, part := range strings.Split(string(data), "\n== ")[1:] {
		head, body, _ := strings.Cut(part, "\n")
		name, told, ok := strings.Cut(head, ":")
		require.True(t, ok, head)
		var b bytes.Buffer
		tmpl, err := template.New(name).Funcs(template.FuncMap{"rep": rep, "ones": ones, "rules": many}).Parse(body)
		require.NoError(t, err)
		require.NoError(t, tmpl.Execute(&b, nil))
		text := b.String()
		const head2 = "pack: shop/bomb\ntitle: T\nedition: 1\npart: P\n"
		if more, whole := strings.CutPrefix(text, "pack:\n"); whole {
			text = head2 + more
		} else {
			text = head2 + many(1, strings.TrimRight(text, "\n"))
		}
		out = append(out, bomb{name, strings.TrimSpace(told), text})
	}
	return out
}

// rep repeats a text: # becomes the number, @ the one before.
func rep(n, from int, text string) string {
	var b strings.Builder
	for i := from; i < from+n; i++ {
		b.WriteString(strings.NewReplacer("#", fmt.Sprint(i), "@", fmt.Sprint(i-1)).Replace(text))
	}
	return b.String()
}

func ones(n int) string { return "[1" + strings.Repeat(",1", n-1) + "]" }

// many writes so many rules with the given lines; what these do not say is in order.
func many(n int, lines string) string {
	usual := [][2]string{{"title", "t"}, {"danger", "none"}, {"due", "built"}, {"about", "design.pump"}, {"say", "Wrong it is."}, {"met", "Right it is."}, {"mend", "Do it."}, {"because", "[{practice: p}]"}}
	has := func(key string) bool { return strings.Contains("\n"+lines, "\n"+key+":") }
	var b strings.Builder
	for _, x := range usual {
		if !has(x[0]) && !(x[0] == "about" && has("each")) {
			fmt.Fprintf(&b, "    %s: %s\n", x[0], x[1])
		}
	}
	b.WriteString("    " + strings.ReplaceAll(lines, "\n", "\n    ") + "\n")
	var out strings.Builder
	out.WriteString("rules:\n")
	for i := range n {
		fmt.Fprintf(&out, "  - id: r%d\n%s", i, strings.ReplaceAll(b.String(), "NUMBER", fmt.Sprint(i)))
	}
	return out.String()
}

// No pack can take the machine: each ends in time, within memory, and what is wrong is told at its place.
func TestBombs(t *testing.T) {
	binary, design := built(t), fullDesign(t)
	for _, x := range bombs(t) {
		t.Run(x.name, func(t *testing.T) {
			dir := t.TempDir()
			require.NoError(t, os.WriteFile(filepath.Join(dir, "b.yaml"), []byte(x.pack), 0o600))
			var out, errs bytes.Buffer
			cmd := exec.Command(binary, "check", "--rules", dir, design)
			cmd.Stdout, cmd.Stderr = &out, &errs
			forgetPeak()
			killed := time.AfterFunc(60*time.Second, func() { _ = cmd.Process.Kill() })
			err := cmd.Run()
			killed.Stop()
			took := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
			t.Logf("%.2f s, %d MB, exit %d", took.Seconds(), maxResident(cmd.ProcessState)>>20, cmd.ProcessState.ExitCode())
			assert.Less(t, took, mostTime)
			assert.Less(t, maxResident(cmd.ProcessState)>>20, int64(mostMegabytes))
			if x.told == "" {
				assert.LessOrEqual(t, cmd.ProcessState.ExitCode(), exit.Blocked, "%v %s", err, first(errs.String()))
				return
			}
			said := strings.Join(strings.Fields(errs.String()+out.String()), " ")
			assert.Contains(t, said, x.told, first(errs.String()))
			assert.Regexp(t, `b\.yaml:[0-9]+`, said, "with file and line")
		})
	}
}

// first is the beginning of a text.
func first(text string) string { return text[:min(len(text), 600)] }

// fullDesign is a design with as many circuits, runs and connectors as one may have.
func fullDesign(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../../designs/demo/four-faulty.yaml")
	require.NoError(t, err)
	text := string(data)
	at := strings.Index(text, "\ncircuits:\n")
	require.Positive(t, at)
	at += len("\ncircuits:\n")
	text = text[:at] + rep(40, 1, "  - {name: spare #, purpose: other}\n") + text[at:]
	file := filepath.Join(t.TempDir(), "full.yaml")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	return file
}
