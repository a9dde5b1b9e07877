package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

// What a house is used to settles no danger of fire: the fact has to be stated.
func TestALocalAssumptionSettlesNoDangerOfFire(t *testing.T) {
	lib, err := withLocal(t,
		"assumptions:",
		"  - {fact: design.climate.hot_fuel, is: 40 degC, because: [{practice: it is cool here}]}",
		"  - {fact: design.regulator.setting, is: 300 kPa, because: [{practice: our usual one}]}")
	require.NoError(t, err)
	got := outcomes(t, lib, "")
	assert.Equal(t, engine.Open, got["base.hot"], "fire")
	assert.Equal(t, engine.Pass, got["base.most"], "engine")
	assert.Equal(t, engine.Pass, outcomes(t, lib, "climate: {hot_fuel: 40 degC}\n")["base.hot"], "stated")

	bad, err := withLocal(t, "assumptions:", "  - {fact: design.climate.hot_fuel, is: 70 degC, because: [{practice: it is hot here}]}")
	require.NoError(t, err)
	assert.Equal(t, engine.Fail, outcomes(t, bad, "")["base.hot"], "the worst stands")
}

func TestAFactIsAssumedOnce(t *testing.T) {
	_, err := withLocal(t,
		"assumptions:",
		"  - {fact: design.regulator.setting, is: 300 kPa, because: [{practice: a}]}",
		"  - {fact: design.regulator.setting, is: 310 kPa, because: [{practice: b}]}")
	require.ErrorContains(t, err, "is already assumed in shop/house; a fact is assumed once")
}
