package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema/document"

	"plumbline/cmd/plumbline/internal/shop"
)

// command is the program with the library of the scripts and captured output.
func command(stdin string) (c *Command, out, errs *bytes.Buffer) {
	out, errs = &bytes.Buffer{}, &bytes.Buffer{}
	return &Command{
		Stdin: strings.NewReader(stdin), Stdout: out, Stderr: errs, Now: today,
		Getenv: func(string) string { return "" }, Built: shop.Built{Rules: os.DirFS(filepath.Join(scripts, "library"))},
	}, out, errs
}

func TestACrashIsExitThree(t *testing.T) {
	c, out, errs := command("")
	c.Rules = nil
	assert.Equal(t, exit.Failed, c.Run([]string{"pack", "list"}))
	assert.Empty(t, out.String())
	assert.Contains(t, errs.String(), "the program failed")
	assert.NotContains(t, errs.String(), "goroutine")
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestAReportThatCannotBeWrittenIsExitThree(t *testing.T) {
	for _, args := range [][]string{{"check", "-"}, {"check", "--format", "json", "-"}, {"explain", "test/fuel"}, {"schema", "report"}} {
		c, _, errs := command("plumbline: 1\n")
		c.Stdout = brokenWriter{}
		assert.Equal(t, exit.Failed, c.Run(args), args)
		assert.Contains(t, errs.String(), "no space left on device")
	}
}

// Many designs judged at once give the same bytes as judged one at a time.
func TestOrderIsStable(t *testing.T) {
	dir := t.TempDir()
	for i := range 40 {
		text := "plumbline: 1\nstage: ordered\n"
		if i%3 == 0 {
			text += "pump: {stop_control: ignition_key_only}\n"
		}
		if i%7 == 0 {
			text += "pump: 3\n"
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, "d"+strings.Repeat("x", i)+".yaml"), []byte(text), 0o644))
	}
	run := func(workers int) (string, string) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(workers))
		c, out, errs := command("")
		assert.Equal(t, exit.Input, c.Run([]string{"check", "--format", "json", dir}))
		return out.String(), errs.String()
	}
	out, errs := run(1)
	for range 3 {
		again, errsAgain := run(8)
		assert.Equal(t, out, again)
		assert.Equal(t, errs, errsAgain)
	}
}

func TestMarkedLine(t *testing.T) {
	long := strings.Repeat("a", 200) + " place: in_tnk " + strings.Repeat("b", 200)
	for name, c := range map[string]struct {
		line, text string
		column     int
		want       string
	}{
		"the text":         {"  place: in_tnk # why", "in_tnk", 10, "place: >>in_tnk<< # why"},
		"quoted":           {`  place: "in tnk"`, "in tnk", 10, `place: >>"in<< tnk"`},
		"a word":           {"must: design.pump.stp", "", 18, "must: design.pump>>.stp<<"},
		"beyond the end":   {"a: b", "c", 99, "a: b>><<"},
		"a long line":      {long, "in_tnk", 209, strings.Repeat("a", 22) + " place: >>in_tnk<< " + strings.Repeat("b", 53)},
		"windows line end": {"a: bc\r", "bc", 4, "a: >>bc<<"},
	} {
		p := document.Problem{Place: document.Place{File: "f", Line: 1, Column: c.column}, Text: c.text}
		assert.Equal(t, c.want, markedLine(c.line, p), name)
	}
}
