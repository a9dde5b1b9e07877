package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A pump on a feed it shares with other loads, returning to a body strap.
func sharedFeed(amps float64, others ...Element) (*Network, error) {
	return NewNetwork("0", append([]Element{
		Battery("battery", "plus", "0", 12.6, 0.01), Resistor("feed", "plus", "relay", 0.03), Resistor("pump feed", "relay", "pump", 0.05),
		Resistor("return", "cold", "body", 0), Resistor("strap", "body", "0", 0.004),
		ConstantCurrentLoad("pump", "pump", "cold", amps, 0)}, others...)...)
}

// By hand: 12.6 V less 5 A through 10 + 30 + 50 + 4 mohm.
func TestVariedLoadByHand(t *testing.T) {
	net, err := sharedFeed(1)
	require.NoError(t, err)
	v, err := net.Vary("pump")
	require.NoError(t, err)
	volts, err := v.Voltage(5)
	require.NoError(t, err)
	assert.InDelta(t, 12.6-5*0.094, volts, 1e-12)
	_, err = v.Voltage(-1)
	assert.ErrorContains(t, err, `current of constant-current load "pump" is -1 A`)
	_, err = v.Solve(2e5)
	assert.ErrorContains(t, err, `current of constant-current load "pump"`)
}

// Whatever else the feed carries, a varied network is the one made anew.
func TestVariedLoadEqualsANewNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var others []Element
		if watts := rapid.Float64Range(0, 60).Draw(t, "electronics"); watts > 1 {
			others = append(others, ConstantPowerLoad("electronics", "relay", "body", watts, 6))
		}
		if amps := rapid.Float64Range(0, 20).Draw(t, "fan"); amps > 1 {
			others = append(others, ConstantCurrentLoad("fan", "relay", "0", amps, 6))
		}
		if amps := rapid.Float64Range(0, 10).Draw(t, "lamp"); amps > 1 {
			others = append(others, ResistiveLoad("lamp", "plus", "body", 12, amps))
		}
		net, err := sharedFeed(rapid.Float64Range(0, 10).Draw(t, "first current"), others...)
		require.NoError(t, err)
		v, err := net.Vary("pump")
		require.NoError(t, err)
		for range 3 {
			amps := rapid.Float64Range(0, 20).Draw(t, "current")
			anew, err := sharedFeed(amps, others...)
			require.NoError(t, err)
			want, err := anew.Solve()
			require.NoError(t, err)
			have, err := v.Solve(amps)
			require.NoError(t, err)
			for i, b := range want.Branches() {
				assert.InDelta(t, b.Volts, have.Branches()[i].Volts, 1e-10, b.Element.Name)
				assert.InDelta(t, b.Amps, have.Branches()[i].Amps, 1e-9, b.Element.Name)
				assert.Equal(t, b.Element.Amps, have.Branches()[i].Element.Amps)
			}
			pump, err := want.Branch("pump")
			require.NoError(t, err)
			volts, err := v.Voltage(amps)
			require.NoError(t, err)
			assert.InDelta(t, pump.Volts, volts, 1e-10)
		}
	})
}

func TestWhatCannotBeVaried(t *testing.T) {
	net, err := sharedFeed(1, ConstantCurrentLoad("fan", "relay", "0", 10, 6))
	require.NoError(t, err)
	_, err = net.Vary("fan")
	assert.ErrorContains(t, err, `constant-current load "fan" cannot be varied`)
	_, err = net.Vary("horn")
	assert.ErrorContains(t, err, `no element "horn"`)
	floating, err := NewNetwork("0", Battery("battery", "plus", "0", 12, 0), ConstantCurrentLoad("pump", "a", "b", 1, 0))
	require.NoError(t, err)
	_, err = floating.Vary("pump")
	assert.ErrorContains(t, err, "floating")
}
