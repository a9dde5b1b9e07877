package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// A rule about the items of a list that nobody stated is ruled out by what does not depend on them: the
// maintenance inspection of buses asks nothing of a passenger car whose lines are not known. While the class is
// not known, it asks for each line's list and the class.
func TestAnUnknownListAsksNothingOfAnotherVehicle(t *testing.T) {
	lib := library(t)
	find := func(text string) map[engine.Outcome]int {
		d, err := schema.Load("a.yaml", []byte("plumbline: 1\nregions: [us-md]\n"+text))
		require.NoError(t, err)
		out := map[engine.Outcome]int{}
		for _, f := range lib.Judge(d, engine.Options{}).Findings {
			if f.Rule == "regions/us-md.lines-off-exhaust" {
				out[f.Outcome]++
			}
		}
		return out
	}
	assert.Equal(t, map[engine.Outcome]int{engine.NotApplicable: 3}, find("vehicle: {class: passenger_car, use: road}\n"))
	assert.Equal(t, map[engine.Outcome]int{engine.Open: 3}, find("vehicle: {use: road}\n"))
	assert.Equal(t, map[engine.Outcome]int{engine.Open: 3}, find("vehicle: {class: bus, use: road}\n"))
}
