package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/pack"
	"plumbline/schema"
)

// Counted by hand. Each key of the order decides one pair: grave danger, then how many rules wait by the effort of
// answering, then the danger, then where the fact is declared.
func TestQuestionsInTheOrderOfTheirUse(t *testing.T) {
	open := func(rule string, danger pack.Danger, missing ...string) Finding {
		return Finding{Rule: rule, Outcome: Open, Danger: danger, Missing: missing}
	}
	const (
		fire, many        = "design.tank.material", "design.pump.kind"
		alone, together   = "design.regulator.style", "design.engine.power"
		burn, last, other = "design.pump.rated_flow", "design.pump.rated_pressure", "design.engine.cylinders"
	)
	got := questions(&schema.Design{}, &Report{Stage: "planned", Findings: []Finding{
		open("a.1", pack.Fire, fire),
		open("b.1", pack.NoDanger, many), open("b.2", pack.NoDanger, many), open("b.3", pack.NoDanger, many),
		open("b.3", pack.NoDanger, many),                                                        // on another subject: still one rule
		open("c.1", pack.NoDanger, together, other), open("c.2", pack.NoDanger, together, last), // two rules, none alone
		open("d.1", pack.NoDanger, alone), open("d.2", pack.NoDanger, alone, other), // two rules, one alone
		open("e.1", pack.Burn, burn, last), open("e.2", pack.NoDanger, burn, other),
		{Rule: "f.1", Outcome: Fail, Danger: pack.Fire, Missing: []string{"design.fuel.ethanol"}},
	}})
	var order []string
	for _, q := range got {
		order = append(order, q.Path)
	}
	// many, a word: three rules; alone, a word: two; other, a figure, twice the effort: three by two; the rest figures with two
	// rules each, burn at stake in e.1.
	assert.Equal(t, []string{fire, many, alone, other, burn, last, together}, order)
	assert.Equal(t, []string{"b.1", "b.2", "b.3"}, got[1].Rules)
	for i, want := range []int{1, 4, 1, 0, 0, 0, 0} {
		assert.Equal(t, want, got[i].Alone, got[i].Path)
	}
	assert.Equal(t, pack.Burn, got[4].Danger, "the worst of those it keeps open")
}
