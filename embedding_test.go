package plumbline_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/testdata/proofs"
)

var embedding = regexp.MustCompile("(?s)## In a program of another module\n.*?```text\n(.*?)```.*?```go\n(.*?)```.*?```text\n(.*?)```")

// The program that README shows in a module of its own builds beside this one, and prints what README says.
func TestEmbeddingFromAnotherModule(t *testing.T) {
	proofs.Only(t)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	m := embedding.FindSubmatch(readme)
	require.NotNil(t, m, "README shows no program of another module")
	root, err := os.Getwd()
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.Symlink(root, filepath.Join(dir, "plumbline")))
	shop := filepath.Join(dir, "shop")
	sums, err := os.ReadFile("go.sum")
	require.NoError(t, err)
	require.NoError(t, os.Mkdir(shop, 0o755))
	for name, text := range map[string][]byte{"go.mod": m[1], "main.go": m[2], "go.sum": sums} {
		require.NoError(t, os.WriteFile(filepath.Join(shop, name), text, 0o644))
	}
	run := exec.Command("go", "run", "-mod=mod", ".")
	run.Dir = shop
	run.Stderr = os.Stderr
	out, err := run.Output()
	require.NoError(t, err)
	assert.Equal(t, string(m[3]), string(out))
}
