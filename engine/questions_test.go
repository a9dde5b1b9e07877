package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// Counted by hand. Each of the four keys of the order decides one pair: grave danger, then how many rules wait, then how
// many of them wait for nothing else, then the danger, then the path.
func TestQuestionsInTheOrderOfTheirUse(t *testing.T) {
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\n"))
	require.NoError(t, err)
	open := func(rule string, danger Danger, missing ...string) Finding {
		return Finding{Rule: rule, Outcome: Open, Danger: danger, Missing: missing}
	}
	const (
		fire, many        = "design.tank.material", "design.pump.kind"
		alone, together   = "design.regulator.style", "design.engine.power"
		burn, last, other = "design.pump.rated_flow", "design.pump.rated_pressure", "design.engine.cylinders"
	)
	got := questions(d, []Finding{
		open("a.1", Fire, fire),
		open("b.1", NoDanger, many), open("b.2", NoDanger, many), open("b.3", NoDanger, many),
		open("b.3", NoDanger, many),                                                   // on another subject: still one rule
		open("c.1", NoDanger, together, other), open("c.2", NoDanger, together, last), // two rules, none alone
		open("d.1", NoDanger, alone), open("d.2", NoDanger, alone, other), // two rules, one alone
		open("e.1", Burn, burn, last), open("e.2", NoDanger, burn, other),
		{Rule: "f.1", Outcome: Fail, Danger: Fire, Missing: []string{"design.fuel.ethanol"}},
	})
	var order []string
	for _, q := range got {
		order = append(order, q.Path)
	}
	// other waits in c.1, d.2, e.2 (three rules, none alone), many in three and four times alone; last in c.2 and e.1, burn at stake.
	assert.Equal(t, []string{fire, many, other, alone, burn, last, together}, order)
	assert.Equal(t, []string{"b.1", "b.2", "b.3"}, got[1].Rules)
	for i, want := range []int{1, 4, 0, 1, 0, 0, 0} {
		assert.Equal(t, want, got[i].Alone, got[i].Path)
	}
	assert.Equal(t, Burn, got[4].Danger, "the worst of those it keeps open")
}
