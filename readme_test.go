package plumbline_test

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var updateTable = flag.Bool("update-table", false, "write the table of deviations into README.md anew")

var deviationBlock = regexp.MustCompile(`(?s)(<!-- deviations -->\n).*?(<!-- end of deviations -->)`)

// README's table of error bars is the one the comparison with outside programs
// wrote (engine/physics/proof, which checks it against those programs).
func TestReadmeShowsTheDeviations(t *testing.T) {
	written, err := os.ReadFile("engine/physics/proof/DEVIATIONS.md")
	require.NoError(t, err)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	var rows []string
	for line := range strings.Lines(string(written)) {
		if strings.HasPrefix(line, "|") {
			rows = append(rows, line)
		}
	}
	require.Greater(t, len(rows), 10)
	want := deviationBlock.ReplaceAllString(string(readme), "${1}"+strings.Join(rows, "")+"${2}")
	if *updateTable {
		require.NoError(t, os.WriteFile("README.md", []byte(want), 0o644))
		return
	}
	assert.Equal(t, want, string(readme), "run go test . -run Deviations -update-table")
	assert.Regexp(t, deviationBlock, string(readme))
}
