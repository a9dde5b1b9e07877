// Package builds reads designs for tests, with what they take from others written out.
package builds

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// Text is the whole text of a design.
func Text(t testing.TB, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	text, err = schema.Whole(path, text, os.ReadFile)
	require.NoError(t, err)
	return text
}

// Design is the whole design.
func Design(t testing.TB, path string) *schema.Design {
	t.Helper()
	d, err := schema.Load(path, Text(t, path))
	require.NoError(t, err)
	return d
}
