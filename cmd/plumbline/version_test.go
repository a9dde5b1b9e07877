package main

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
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

// With an image of other packs the program says so, and judges by the packs.
func TestAnImageThatDoesNotBelongIsNotUsed(t *testing.T) {
	c, out, errs := command("plumbline: 1\n")
	c.Image = rules.Image() // that of the built-in library, not of the scripts' own
	assert.Equal(t, exit.Clear, c.Run([]string{"check", "-"}), errs.String())
	assert.Contains(t, errs.String(), "go generate")
	assert.Contains(t, errs.String(), "the packs are compiled instead")

	plain, want, _ := command("plumbline: 1\n")
	assert.Equal(t, exit.Clear, plain.Run([]string{"check", "-"}))
	assert.Equal(t, want.String(), out.String())
}
