// Package shipped opens what the program ships with, for tests that judge by it.
package shipped

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/rules"
)

var library = sync.OnceValues(func() (*engine.Library, error) { return engine.OpenImage(rules.Files(), rules.Image()) })

// Library is the built-in library, from its image, opened once: judging changes nothing of it.
func Library(t testing.TB) *engine.Library {
	t.Helper()
	lib, err := library()
	require.NoError(t, err)
	return lib
}

// Patterns are the built-in patterns.
func Patterns(t testing.TB) []*pattern.Pattern {
	t.Helper()
	patterns, err := pattern.Read(designs.Patterns())
	require.NoError(t, err)
	return patterns
}
