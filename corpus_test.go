package plumbline_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var fuzzTarget = regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)

// Every fuzz target starts from committed seeds that are named by what they are.
func TestEveryFuzzTargetHasACorpus(t *testing.T) {
	out, err := exec.Command("git", "ls-files", "*_test.go").Output()
	require.NoError(t, err)
	targets := 0
	for file := range strings.FieldsSeq(string(out)) {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range fuzzTarget.FindAllSubmatch(text, -1) {
			targets++
			folder := filepath.Join(filepath.Dir(file), "testdata", "fuzz", string(m[1]))
			seeds, _ := os.ReadDir(folder)
			assert.GreaterOrEqual(t, len(seeds), 4, "%s: put seeds into %s", m[1], folder)
			for _, s := range seeds {
				assert.NotRegexp(t, `^[0-9a-f]{16}$`, s.Name(), "%s: name a seed by what it is", folder)
			}
		}
	}
	assert.GreaterOrEqual(t, targets, 7)
}
