//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/rules"
)

// ended runs the command in the working directory and fails when it does not end.
func ended(t *testing.T, args ...string) (code int, out, errs string) {
	t.Helper()
	return endedBy(t, &Command{Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns()}}, args...)
}

// endedBy does so with a library of one's own.
func endedBy(t *testing.T, c *Command, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr, c.Series, c.Now, c.Getenv = strings.NewReader(""), &o, &e, designs.Series(), today, func(string) string { return "" }
	done := make(chan int, 1)
	go func() { done <- c.Run(args) }()
	select {
	case code = <-done:
	case <-time.After(time.Minute):
		require.Fail(t, "it hangs", "%v", args)
	}
	return code, o.String(), e.String()
}

// inFolder makes a folder with a design and goes there.
func inFolder(t *testing.T) {
	t.Helper()
	design, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("d.yaml", design, 0o600))
}

// What is no plain file is no design, pack, settings, list or stored report: told in one sentence, and nothing hangs.
func TestOnlyFilesAreRead(t *testing.T) {
	inFolder(t)
	for _, name := range []string{"p.yaml", "p.jsonl", "p.txt", "p.json"} {
		require.NoError(t, syscall.Mkfifo(name, 0o600))
	}
	for _, dir := range []string{"pipes", "devices", "folder"} {
		require.NoError(t, os.Mkdir(dir, 0o700))
	}
	require.NoError(t, syscall.Mkfifo("pipes/x.yaml", 0o600))
	require.NoError(t, os.Symlink("/dev/zero", "devices/x.yaml"))
	require.NoError(t, os.WriteFile("based.yaml", []byte("plumbline: 1\nbased_on: p.yaml\n"), 0o600))
	require.NoError(t, os.WriteFile("endless.yaml", []byte("plumbline: 1\nbased_on: /dev/zero\n"), 0o600))
	for _, args := range []string{
		"check p.yaml", "check p.jsonl", "check /dev/zero", "check based.yaml", "check endless.yaml", "check --format json p.yaml",
		"explain 1 p.yaml", "size p.yaml", "compare --regions gb,de p.yaml", "compare --regions gb,de /dev/zero",
		"new p.yaml", "new --lines p.txt n.yaml", "new --lines /dev/zero n.yaml", "new --lines folder n.yaml", "new --from p.yaml n.yaml",
		"check --since p.json d.yaml", "check --since /dev/zero d.yaml", "check --since folder d.yaml",
		"check --rules pipes d.yaml", "check --rules devices d.yaml", "check --patterns pipes d.yaml", "pack check pipes", "pack list --rules devices",
	} {
		code, out, errs := ended(t, strings.Fields(args)...)
		assert.Equal(t, exit.Input, code, args)
		assert.Regexp(t, `it is a (pipe|device|folder), and only files are read`, out+errs, args)
		assert.LessOrEqual(t, strings.Count(errs, "\n"), 3, "%s: %s", args, errs)
	}
	require.NoError(t, syscall.Mkfifo(shop.SettingsName, 0o600))
	code, _, errs := ended(t, "check", "d.yaml")
	assert.Equal(t, exit.Clear, code, errs)
}

// A shop's settings name a new file or an earlier report, in the open: whoever may change them overwrites nothing else.
func TestSettingsWriteOverNothing(t *testing.T) {
	inFolder(t)
	for _, dir := range []string{".git/hooks", "reports", "folder.txt"} {
		require.NoError(t, os.MkdirAll(dir, 0o700))
	}
	require.NoError(t, os.Symlink(".git", "open"))
	theirs := map[string]string{".git/hooks/pre-commit": "#!/bin/sh\n", ".git/notes.txt": "kept\n", "script.sh": "#!/bin/sh\n", "notes.txt": "kept\n", "other.json": "{}\n", "design.json": `{"plumbline": 1}`}
	for name, text := range theirs {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	require.NoError(t, os.Symlink("notes.txt", "link.txt"))
	require.NoError(t, syscall.Mkfifo("pipe.txt", 0o600))
	with := func(output, format string) (int, string) {
		require.NoError(t, os.WriteFile(shop.SettingsName, fmt.Appendf(nil, "shop: 1\noutput: %s\nformat: %s\n", output, format), 0o600))
		code, _, errs := ended(t, "check", "d.yaml")
		return code, errs
	}
	for _, output := range []string{".git/hooks/pre-commit", ".git/new.txt", ".new.txt", "reports/.new.txt", "open/new.txt", "open/hooks/pre-commit", "script.sh", "new.sh", "new", "notes.txt", "other.json", "design.json", "link.txt", "pipe.txt", "folder.txt", "d.yaml", shop.SettingsName} {
		code, errs := with(output, "text")
		assert.Equal(t, exit.Input, code, output)
		assert.Regexp(t, `output takes a file for the report|is no report of this program|leads into a hidden folder|would be written over`, errs, output)
	}
	for name, text := range theirs {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, text, string(data), name)
	}
	// Each format over each, and a report in a folder of its own.
	formats := []string{"text", "sheet", "markdown", "json", "sarif", "lines"}
	for _, output := range []string{"report.txt", "reports/report.md"} {
		for i, format := range append(formats, formats...) {
			code, errs := with(output, format)
			assert.Equal(t, exit.Clear, code, "%s after %s: %s", format, formats[max(i-1, 0)%len(formats)], errs)
		}
	}
	left, err := filepath.Glob(".*-*")
	require.NoError(t, err)
	assert.Empty(t, left, "nothing stays beside a report")
}
