package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/proof"
	"plumbline/testdata/proofs"
)

// The cases of the rules give what they must; of a part of the rules, unless the long proofs are asked for, since plumbline
// pack check runs them all.
func TestLibraryCases(t *testing.T) {
	t.Parallel()
	lib := library(t)
	var names []string
	for _, p := range lib.Packs() {
		for i := range p.Rules {
			names = append(names, p.Pack+"."+p.Rules[i].ID)
		}
	}
	for _, r := range proof.Cases(lib.Only(proofs.Sample(names, 4)...)) {
		assert.Empty(t, r.Problem, "%s %s (%s)", r.Rule, r.Case, r.Place)
	}
}
