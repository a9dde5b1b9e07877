package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/schema/document"
)

var update = flag.Bool("update", false, "rewrite the expected output in the scripts")

const scripts = "../../testdata/script"

// today is the day of the scripts' clock.
func today() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) }

// TestMain lets scripts run the command: with the library of the scripts, so
// that they judge the command and not the rules.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"plumbline": func() {
			c := &Command{
				Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
				Now: today, Getenv: os.Getenv, Built: shop.Built{Rules: os.DirFS(os.Getenv("LIBRARY")), Series: designs.Series(), Numbers: designs.Numbers()},
			}
			os.Exit(c.Run(os.Args[1:]))
		},
	})
}

func TestScripts(t *testing.T) {
	library, err := filepath.Abs(filepath.Join(scripts, "library"))
	require.NoError(t, err)
	ci, err := filepath.Abs(ciFolder)
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                 scripts,
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("LIBRARY", library)
			e.Setenv("COLUMNS", "100")
			e.Setenv("CI_FOLDER", ci)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits":  exits,
			"action": action,
			"hook":   hook,
			"large":  large,
			"fill":   fill,
		},
	})
}

// exits runs the command and compares its exit code: exits CODE ARGS...
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: exits CODE ARGS...")
	}
	runs(ts, args[0], "plumbline", args[1:]...)
}

// runs runs a program and compares its exit code.
func runs(ts *testscript.TestScript, code, program string, args ...string) {
	want, err := strconv.Atoi(code)
	ts.Check(err)
	err = ts.Exec(program, args...)
	got := 0
	if err != nil {
		var n int
		if _, scan := fmt.Sscanf(err.Error(), "exit status %d", &n); scan != nil {
			ts.Fatalf("%v", err)
		}
		got = n
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// large makes a sparse file: large FILE BYTES.
func large(ts *testscript.TestScript, _ bool, args []string) {
	size, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("plumbline: 1\n"), 0o644))
	ts.Check(os.Truncate(ts.MkAbs(args[0]), size))
}

// fill makes a hostile file: fill FILE KIND.
func fill(ts *testscript.TestScript, _ bool, args []string) {
	var text []byte
	switch args[1] {
	case "deep":
		text = append([]byte("plumbline: 1\ntitle: "), bytes.Repeat([]byte("["), 100_000)...)
	case "aliases":
		text = []byte("a: &a [x, x, x, x, x, x, x, x, x]\n")
		for c := 'b'; c <= 'i'; c++ {
			text = fmt.Appendf(text, "%c: &%c [*%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c]\n", c, c, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1)
		}
	case "not-utf8":
		text = []byte("plumbline: 1\ntitle: \xff\xfe\n")
	case "nul":
		text = []byte("plumbline: 1\ntitle: a\x00b\n")
	case "escape":
		text = []byte("plumbline: 1\ntitle: \"\\e[2J\\e]0;gone\\a\"\npump: {stop_control: ignition_key_only}\n")
	case "too-long":
		text = append([]byte("plumbline: 1\nnotes: "), bytes.Repeat([]byte("x"), document.MaxBytes)...)
	case "commas":
		text = append([]byte("plumbline: 1\nnotes: ["), bytes.Repeat([]byte(","), document.MaxBytes-100)...)
	default:
		ts.Fatalf("no kind %s", args[1])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), text, 0o644))
}
