package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
)

func TestLibraryCases(t *testing.T) {
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	for _, r := range lib.CheckCases() {
		assert.Empty(t, r.Problem, "%s %s (%s)", r.Rule, r.Case, r.Place)
	}
}
