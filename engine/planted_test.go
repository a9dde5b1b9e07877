package engine_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/planted"
)

// Each mistake of designs/planted.txt is found by the one rule it is planted for, and by no other beside its companions. Here
// some of them; TestLibraryFigures plants them all.
func TestPlantedMistakes(t *testing.T) {
	t.Parallel()
	list, err := os.ReadFile(filepath.Join(designsFolder, "planted.txt"))
	require.NoError(t, err)
	mistakes, err := planted.Read(string(list))
	require.NoError(t, err)
	require.Greater(t, len(mistakes), 200)
	field := planted.New(library(t), os.DirFS(designsFolder))
	for _, m := range every(mistakes, 50) {
		t.Run(m.Name, func(t *testing.T) {
			got, err := field.Plant(m)
			require.NoError(t, err)
			assert.True(t, got.Found, "%s is expected; there are %v", m.Finds, got.Fresh)
			assert.Empty(t, got.Strays, m.Change)
		})
	}
}

// Each change of designs/within.txt ends within 10 % of a limit on its good side, and no rule complains.
func TestChangesWithinTheirLimits(t *testing.T) {
	t.Parallel()
	list, err := os.ReadFile(filepath.Join(designsFolder, "within.txt"))
	require.NoError(t, err)
	changes, err := planted.ReadWithin(string(list))
	require.NoError(t, err)
	require.Greater(t, len(changes), 50)
	field := planted.New(library(t), os.DirFS(designsFolder))
	for _, m := range every(changes, 8) {
		t.Run(m.Name, func(t *testing.T) {
			got, err := field.Within(m)
			require.NoError(t, err)
			assert.True(t, got.Found, "%s is expected with a number near its limit", m.Finds)
			assert.Empty(t, got.Fresh, m.Change)
		})
	}
}

// every gives one in so many of a list, the first included.
func every[T any](list []T, so int) (out []T) {
	for i := 0; i < len(list); i += so {
		out = append(out, list[i])
	}
	return out
}
