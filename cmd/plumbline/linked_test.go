package main

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The JSON Schemas are for editors and tests: what compiles and checks by them costs time at every start, and is not
// linked into the program.
func TestNoValidatorIsLinked(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	require.NoError(t, err)
	linked := strings.Fields(string(out))
	require.Contains(t, linked, "plumbline/schema")
	for _, p := range linked {
		assert.NotContains(t, p, "jsonschema")
	}
}
