package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/rules"
	"plumbline/testdata/proofs"
)

// fleet writes so many designs, one a line: three of this project in turn.
func fleet(t testing.TB, dir string, n int) string {
	t.Helper()
	var kinds [][]byte
	for _, name := range []string{"four-faulty", "six-return", "counter-half-known"} {
		kinds = append(kinds, append(jsonLine(t, "../../designs/demo/"+name+".yaml"), '\n'))
	}
	file := filepath.Join(dir, fmt.Sprintf("fleet-%d.jsonl", n))
	f, err := os.Create(file)
	require.NoError(t, err)
	for i := range n {
		_, err := f.Write(kinds[i%len(kinds)])
		require.NoError(t, err)
	}
	require.NoError(t, f.Close())
	return file
}

func built(t testing.TB) string {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "plumbline")
	out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput()
	require.NoError(t, err, "%s", out)
	return binary
}

// Ten times the designs need no more memory: at most a fifth more, and less than 100 MB, whatever the format.
func TestMemoryDoesNotGrowWithDesigns(t *testing.T) {
	proofs.Only(t)
	binary, dir := built(t), t.TempDir()
	most := func(format string, n int) float64 {
		cmd := exec.Command(binary, "check", "--format", format, fleet(t, dir, n))
		cmd.Stdout = io.Discard
		forgetPeak()
		err := cmd.Run()
		require.Equal(t, exit.Blocked, cmd.ProcessState.ExitCode(), "%v", err)
		if maxResident(cmd.ProcessState) == 0 {
			t.Skip("memory is not measured here")
		}
		return float64(maxResident(cmd.ProcessState)) / (1 << 20)
	}
	for format, n := range map[string]int{"lines": 400, "json": 24, "sarif": 60, "text": 24, "markdown": 60} {
		few, many := most(format, n), most(format, 10*n)
		t.Logf("%s: %.0f MB for %d designs, %.0f MB for %d", format, few, n, many, 10*n)
		assert.Less(t, many, few*1.2, format)
		assert.Less(t, many, 100.0, format)
	}
}

// No format is over 150 kB for a design, however it stands: complete, half known or full of faults.
func TestNoReportIsLong(t *testing.T) {
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	require.Greater(t, len(files), 50)
	step := 16
	if proofs.Whole() {
		step = 3
	}
	demo, err := filepath.Glob("../../designs/demo/*.yaml")
	require.NoError(t, err)
	list := demo
	for i := 0; i < len(files); i += step {
		list = append(list, files[i])
	}
	for _, format := range []string{"text", "json", "sarif", "markdown", "lines"} {
		longest, which := 0, ""
		for _, file := range list {
			if n := len(outputAt(t, "check", "--format", format, file)); n > longest {
				longest, which = n, file
			}
		}
		t.Logf("%s: at most %d bytes (%s)", format, longest, which)
		assert.Less(t, longest, 150_000, "%s of %s", format, which)
	}
}

func outputAt(t testing.TB, args ...string) []byte {
	var out, errs bytes.Buffer
	c := &Command{Stdin: bytes.NewReader(nil), Stdout: &out, Stderr: &errs, Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns()}, Now: today, Getenv: func(string) string { return "" }}
	require.Less(t, c.Run(args), exit.Input, "%s", errs.String())
	return out.Bytes()
}

// BenchmarkManyDesigns judges 60 designs with one worker and with two; cores says how much faster two are, where two are free.
func BenchmarkManyDesigns(b *testing.B) {
	binary, file := built(b), fleet(b, b.TempDir(), 60)
	run := func(cores string) time.Duration {
		cmd := exec.Command(binary, "check", "--format", "lines", file)
		cmd.Env = append(os.Environ(), "GOMAXPROCS="+cores)
		begun := time.Now()
		_ = cmd.Run()
		if cmd.ProcessState.ExitCode() != exit.Blocked {
			b.Fatal(cmd.ProcessState)
		}
		return time.Since(begun)
	}
	var one, two time.Duration
	for b.Loop() {
		one, two = one+run("1"), two+run("2")
	}
	b.ReportMetric(float64(one)/float64(two), "cores")
	b.ReportMetric(float64(one.Milliseconds())/float64(b.N)/60, "ms/design")
}
