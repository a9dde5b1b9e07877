package engine_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/planted"
	"plumbline/testdata/proofs"
)

// Each mistake of designs/planted.txt is found by the one rule it is planted for, and by no other beside its companions.
func TestPlantedMistakes(t *testing.T) {
	t.Parallel()
	list, err := os.ReadFile(filepath.Join(designsFolder, "planted.txt"))
	require.NoError(t, err)
	mistakes, err := planted.Read(string(list))
	require.NoError(t, err)
	require.Greater(t, len(mistakes), 200)
	field := planted.New(library(t), os.DirFS(designsFolder))
	for _, m := range proofs.Sample(mistakes, 50) {
		t.Run(m.Name, func(t *testing.T) {
			got, err := field.Plant(m)
			require.NoError(t, err)
			assert.True(t, got.Found, "%s is expected; there are %v", m.Finds, got.Fresh)
			assert.Empty(t, got.Strays, m.Change)
		})
	}
}
