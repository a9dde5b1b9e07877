package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// outcome is what the tests made of a mutant.
type outcome int

const (
	survived outcome = iota
	noticed
	timedOut // noticed too: a loop without end
	notBuilt
)

// also says which tests of other packages belong to a package's own: a value
// that rules read is proved by the demo designs and the planted mistakes too,
// and the working of a value where it is told.
var also = map[string][]testRun{
	"engine/derive": {
		{folder: "engine/explain", pattern: "Working"},
		{folder: "engine", pattern: "^(TestCleanDesigns|TestFaultyDesign|TestCounterDesign|TestPlantedMistakes)$"},
	},
}

// testRun is one call of go test.
type testRun struct {
	folder  string
	pattern string // of -run; empty for all
}

// bench runs tests with a file exchanged.
type bench struct {
	root    string // absolute
	scratch string
	timeout time.Duration
	bare    bool // without the tests of other packages
}

// runs are the calls that judge a package.
func (b *bench) runs(folder string) []testRun {
	own := []testRun{{folder: folder}}
	if b.bare {
		return own
	}
	return append(own, also[folder]...)
}

// clean runs the tests of a package as it stands: they must pass, in half the
// time that a mutant gets, or a slow machine would count as a noticed mistake.
func (b *bench) clean(folder string) error {
	for _, r := range b.runs(folder) {
		start := time.Now()
		text, err := b.test(r, "")
		if err != nil {
			return fmt.Errorf("the tests of %s fail without any change:\n%s", r.folder, text)
		}
		if took := time.Since(start); took > b.timeout/2 && !bytes.Contains(text, []byte("(cached)")) {
			fmt.Fprintf(os.Stderr, "the tests of %s take %.0f s here with their build: raise -timeout if mutants time out\n", r.folder, took.Seconds())
		}
	}
	return nil
}

// try runs the tests on a mutant.
func (b *bench) try(m mutant) (outcome, error) {
	original := filepath.Join(b.root, filepath.FromSlash(m.File))
	source, err := os.ReadFile(original)
	if err != nil {
		return 0, err
	}
	changed, overlay := filepath.Join(b.scratch, "changed.go"), filepath.Join(b.scratch, "overlay.json")
	if err := os.WriteFile(changed, m.apply(source), 0o600); err != nil {
		return 0, err
	}
	data, err := json.Marshal(map[string]map[string]string{"Replace": {original: changed}})
	if err != nil {
		return 0, err
	}
	if err := os.WriteFile(overlay, data, 0o600); err != nil {
		return 0, err
	}
	for _, r := range b.runs(m.Package) {
		text, err := b.test(r, overlay)
		switch {
		case err == nil:
			continue
		case bytes.Contains(text, []byte("[build failed]")), bytes.Contains(text, []byte("[setup failed]")):
			return notBuilt, nil
		case bytes.Contains(text, []byte("panic: test timed out")):
			return timedOut, nil
		case !bytes.Contains(text, []byte("FAIL")):
			return 0, fmt.Errorf("go test did not run: %s", text)
		}
		return noticed, nil
	}
	return survived, nil
}

// test calls go test; its error is that of the call.
func (b *bench) test(r testRun, overlay string) ([]byte, error) {
	args := []string{"test", "-failfast", "-vet=off", "-timeout", b.timeout.String()}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	if r.pattern != "" {
		args = append(args, "-run", r.pattern)
	}
	args = append(args, "./"+r.folder)
	if b.usesRapid(r.folder) {
		args = append(args, "-rapid.nofailfile") // else a noticed mutant leaves a file in the tree
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = b.root
	return cmd.CombinedOutput()
}

// usesRapid tells whether the tests of a folder know the flags of rapid.
func (b *bench) usesRapid(folder string) bool {
	names, _ := filepath.Glob(filepath.Join(b.root, folder, "*_test.go"))
	for _, name := range names {
		if data, err := os.ReadFile(name); err == nil && strings.Contains(string(data), `"pgregory.net/rapid"`) {
			return true
		}
	}
	return false
}
