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
// Gross mistakes are easily found: at least a third are numbers near their limit, a tenth are made in another system of
// the vehicle than the one whose rule must find it, and every system has some.
func TestPlantedMistakes(t *testing.T) {
	t.Parallel()
	list, err := os.ReadFile(filepath.Join(designsFolder, "planted.txt"))
	require.NoError(t, err)
	mistakes, err := planted.Read(string(list))
	require.NoError(t, err)
	require.Greater(t, len(mistakes), 200)
	field := planted.New(library(t), os.DirFS(designsFolder))
	var tally planted.Tally
	for _, m := range proofs.Sample(mistakes, 50) {
		t.Run(m.Name, func(t *testing.T) {
			got, err := field.Plant(m)
			require.NoError(t, err)
			assert.True(t, got.Found, "%s is expected; there are %v", m.Finds, got.Fresh)
			assert.Empty(t, got.Strays, m.Change)
			tally.Add(got)
		})
	}
	if !proofs.Whole() {
		return
	}
	assert.GreaterOrEqual(t, tally.Near*3, tally.Found, "near their limit: %d of %d", tally.Near, tally.Found)
	assert.GreaterOrEqual(t, tally.Across*10, tally.Found, "across two systems: %d of %d", tally.Across, tally.Found)
	for _, s := range planted.Systems() {
		assert.GreaterOrEqual(t, tally.Systems[s.Name], 10, s.Name)
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
	for _, m := range proofs.Sample(changes, 8) {
		t.Run(m.Name, func(t *testing.T) {
			got, err := field.Within(m)
			require.NoError(t, err)
			assert.True(t, got.Found, "%s is expected with a number near its limit", m.Finds)
			assert.Empty(t, got.Fresh, m.Change)
		})
	}
}
