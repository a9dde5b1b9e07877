package proof

import (
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the generated inputs and DEVIATIONS.md anew")

// assertFiles compares the files of a folder of one extension with those
// generated, both ways, or writes them with -update.
func assertFiles(t *testing.T, folder, extension string, want map[string]string) {
	t.Helper()
	present, err := filepath.Glob(filepath.Join(folder, "*"+extension))
	require.NoError(t, err)
	for _, path := range present {
		if _, known := want[filepath.Base(path)]; known {
			continue
		}
		if *update {
			require.NoError(t, os.Remove(path))
			continue
		}
		assert.Fail(t, "file of no case", "%s: remove it, or run with -update", path)
	}
	for name, text := range want {
		path := filepath.Join(folder, name)
		if *update {
			require.NoError(t, os.MkdirAll(folder, 0o755))
			require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
			continue
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err, "run with -update")
		assert.Equal(t, text, string(got), "%s is not current: run with -update", path)
	}
}

// figures rounds to a number of significant figures, so that a value reads the
// same in a file as in memory.
func figures(x float64, n int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', n-1, 64), 64)
	if err != nil {
		panic(err)
	}
	return y
}

// number writes a value with all the figures it has.
func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
