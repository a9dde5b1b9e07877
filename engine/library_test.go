package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/proof"
)

func TestLibraryCases(t *testing.T) {
	t.Parallel()
	lib := library(t)
	for _, r := range proof.Cases(lib) {
		assert.Empty(t, r.Problem, "%s %s (%s)", r.Rule, r.Case, r.Place)
	}
}
