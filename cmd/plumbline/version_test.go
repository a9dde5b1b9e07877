package main

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
)

// The heads, read as lines, say what the packs say when they are loaded.
func TestVersionSaysWhatThePacksSay(t *testing.T) {
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	packs, edition, err := heads(rules.Files())
	require.NoError(t, err)
	assert.Equal(t, strconv.Itoa(lib.Edition()), edition)
	require.Len(t, packs, len(lib.Packs()))
	for i, p := range lib.Packs() {
		assert.Equal(t, p.Pack+" "+strconv.Itoa(p.Edition), packs[i].name+" "+packs[i].edition)
		assert.Len(t, packs[i].digest, 64)
	}
}
