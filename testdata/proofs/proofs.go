// Package proofs tells tests whether to run whole. The long proofs (every fact moved, the law over thousands of designs,
// every planted mistake) are for the guard, which sets PLUMBLINE_PROOFS=all; anybody else gets a sample of them, so that
// go test ./... stays quick. One proof is a sample in the guard too: of all changes of all facts in all good builds,
// TestNoFactBlindsTheLibrary tries one in 300.
package proofs

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"testing"
)

// Whole says whether the long proofs are asked for.
func Whole() bool { return os.Getenv("PLUMBLINE_PROOFS") == "all" }

// Sample gives all of a list when the long proofs are asked for, else one in every so many, the first of them included.
func Sample[T any](list []T, every int) []T {
	if Whole() {
		return list
	}
	var out []T
	for i := 0; i < len(list); i += every {
		out = append(out, list[i])
	}
	return out
}

// Fewer makes the rapid checks of one test so many times fewer unless the long proofs are asked for. The number is the
// process's, so a test that asks for it must not run in parallel.
func Fewer(t testing.TB, times int) {
	t.Helper()
	checks := flag.Lookup("rapid.checks")
	if Whole() || checks == nil {
		return
	}
	before := checks.Value.String()
	n, err := strconv.Atoi(before)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = checks.Value.Set(before) })
	if err := checks.Value.Set(strconv.Itoa(max(1, n/times))); err != nil {
		t.Fatal(err)
	}
}

// Program finds a program that nobody here made and that a proof needs, or skips the test and says where it comes from.
func Program(t testing.TB, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Lacking(t, name, "it is not installed ("+from+")")
	}
	return path
}

// Ran notes that a proof ran against something nobody here made; the guard lists these at its end.
func Ran(t testing.TB, against string) { note(t, "ran", against, "") }

// Lacking notes that a proof could not run, and skips the test.
func Lacking(t testing.TB, against, why string) {
	t.Helper()
	note(t, "skipped", against, ": "+why)
	t.Skip(against + ": " + why)
}

// note appends a line to the guard's list.
func note(t testing.TB, what, against, why string) {
	name := os.Getenv("PLUMBLINE_PROOFS_LOG")
	if name == "" {
		return
	}
	list, err := os.OpenFile(name, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	defer list.Close()
	if _, err := fmt.Fprintf(list, "%-8s %-24s %s%s\n", what, against, t.Name(), why); err != nil {
		t.Fatal(err)
	}
}

// Only skips a test that cannot be sampled unless the long proofs are asked for.
func Only(t testing.TB) {
	t.Helper()
	if !Whole() {
		t.Skip("a long proof; set PLUMBLINE_PROOFS=all to run it")
	}
	note(t, "ran", "long proof", "")
}

// Alone skips a test of speed unless nothing else is tested beside it: `.ci/run ratios`.
func Alone(t testing.TB) {
	t.Helper()
	if os.Getenv("PLUMBLINE_PROOFS") != "alone" {
		t.Skip("compares speeds; .ci/run ratios runs it by itself")
	}
	note(t, "ran", "ratios of speed", "")
}
