package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
)

func solved(t require.TestingT, reference string, elements ...Element) *Solution {
	net, err := NewNetwork(reference, elements...)
	require.NoError(t, err)
	state, err := net.Solve()
	require.NoError(t, err)
	return state
}

func amps(t require.TestingT, s *Solution, element string) float64 {
	b, err := s.Branch(element)
	require.NoError(t, err)
	return b.Amps
}

func volts(t require.TestingT, s *Solution, node string) float64 {
	v, err := s.Voltage(node)
	require.NoError(t, err)
	return v
}

// A cube of twelve 1 ohm resistors: 5/6 ohm across the body, 3/4 across a face, 7/12 along an edge, the classic
// textbook results.
func TestResistorCube(t *testing.T) {
	var edges []Element
	for corner := 0; corner < 8; corner++ {
		for bit := 1; bit < 8; bit <<= 1 {
			if corner&bit == 0 {
				name := fmt.Sprintf("edge %d-%d", corner, corner|bit)
				edges = append(edges, Resistor(name, fmt.Sprint(corner), fmt.Sprint(corner|bit), 1))
			}
		}
	}
	require.Len(t, edges, 12)
	for corner, ohms := range map[string]float64{"7": 5.0 / 6, "3": 3.0 / 4, "1": 7.0 / 12} {
		state := solved(t, "0", append(edges, CurrentSource("test", "0", corner, 1))...)
		assert.InEpsilon(t, ohms, volts(t, state, corner), 1e-12)
	}
}

// A long ladder of 1 ohm series and shunt resistors has the golden ratio for its resistance (textbook).
func TestLadder(t *testing.T) {
	elements := []Element{CurrentSource("test", "0", "n0", 1)}
	for i := 0; i < 40; i++ {
		elements = append(elements, Resistor(fmt.Sprint("series ", i), fmt.Sprint("n", i), fmt.Sprint("n", i+1), 1),
			Resistor(fmt.Sprint("shunt ", i), fmt.Sprint("n", i+1), "0", 1))
	}
	assert.InEpsilon(t, math.Phi, volts(t, solved(t, "0", elements...), "n0"), 1e-12)
}

// A balanced Wheatstone bridge carries nothing across (textbook).
func TestBalancedBridge(t *testing.T) {
	state := solved(t, "0", Battery("battery", "top", "0", 12, 0), Resistor("a", "top", "left", 100), Resistor("b", "left", "0", 200),
		Resistor("c", "top", "right", 1000), Resistor("d", "right", "0", 2000), Resistor("galvanometer", "left", "right", 50))
	assert.InDelta(t, 0, amps(t, state, "galvanometer"), 1e-14)
	assert.InEpsilon(t, 8.0, volts(t, state, "left"), 1e-12)
}

// A constant-power load behind a resistance R from E has V = (E + sqrt(E^2 - 4 R P))/2; the supply gives no more than
// E^2/(4 R) (maximum power theorem).
func TestConstantPower(t *testing.T) {
	const e, r = 12.0, 0.5 // at most 72 W
	at := func(watts float64) *Solution {
		return solved(t, "0", Battery("battery", "plus", "0", e, 0), Resistor("feed", "plus", "load", r), ConstantPowerLoad("computer", "load", "0", watts, 5))
	}
	for _, watts := range []float64{0, 1, 20, 60, 69, 69.9} {
		state := at(watts)
		assert.InEpsilon(t, (e+math.Sqrt(e*e-4*r*watts))/2, volts(t, state, "load"), 1e-9, "%g W", watts)
		assert.Empty(t, state.Starved)
	}
	// More than the supply can give: the load falls below its knee, where it is the resistance 25 V2/100 W.
	state := at(100)
	assert.Equal(t, []string{"computer"}, state.Starved)
	assert.InEpsilon(t, e*0.25/(0.25+r), volts(t, state, "load"), 1e-9)
}

// Between E^2/(4 R) and the knee there may be no state at all: the error names the load and carries the state.
func TestNoStateIsReported(t *testing.T) {
	net, err := NewNetwork("0", CurrentSource("source", "0", "load", 1),
		Motor("motor", "load", "0", func(v float64) float64 { return 2 + 0.1*math.Abs(v-10) }, 0, 20))
	require.NoError(t, err)
	_, err = net.Solve()
	var stuck *domain.NotConverged
	require.ErrorAs(t, err, &stuck)
	assert.ErrorContains(t, err, `motor "motor"`)
	assert.False(t, math.IsNaN(stuck.Last) || math.IsNaN(stuck.Residual))
	assert.Contains(t, err.Error(), "supply may be too weak")
}

func TestMotorAndRange(t *testing.T) {
	// 8 A at 12 V and 0.2 A/V behind 0.1 ohm from 12.6 V: V = 12.6 - 0.1 (8 + 0.2 (V - 12)) gives V = 12.04/1.02.
	state := solved(t, "0", Battery("battery", "plus", "0", 12.6, 0.1), AffineMotor("pump", "plus", "0", 12, 8, 0.2, 8, 16))
	assert.InEpsilon(t, 12.04/1.02, volts(t, state, "plus"), 1e-12)
	net, err := NewNetwork("0", Battery("battery", "plus", "0", 6.6, 0.1), AffineMotor("pump", "plus", "0", 12, 8, 0.2, 8, 16))
	require.NoError(t, err)
	_, err = net.Solve()
	refused(t, err)
	assert.ErrorContains(t, err, `voltage of motor "pump"`)
	// A curve from points, convex and concave by turns.
	curve := func(v float64) float64 { return 5 + 0.3*(v-10) + 0.5*math.Sin(3*v) }
	state = solved(t, "0", Battery("battery", "plus", "0", 13.8, 0.02), Resistor("feed", "plus", "pump", 0.05), Motor("pump", "pump", "0", curve, 6, 16))
	assert.InEpsilon(t, curve(volts(t, state, "pump")), amps(t, state, "pump"), 1e-10)
	net, err = NewNetwork("0", Battery("battery", "plus", "0", 12, 0.1), Motor("pump", "plus", "0", func(float64) float64 { return math.NaN() }, 0, 20))
	require.NoError(t, err)
	_, err = net.Solve()
	refused(t, err)
}

func TestConstantCurrentKnee(t *testing.T) {
	load := ConstantCurrentLoad("lamp", "plus", "0", 10, 6)
	assert.InEpsilon(t, 11.0, volts(t, solved(t, "0", Battery("b", "plus", "0", 12, 0.1), load), "plus"), 1e-12)
	weak := solved(t, "0", Battery("b", "plus", "0", 12, 1), load)
	assert.InEpsilon(t, 12*0.6/1.6, volts(t, weak, "plus"), 1e-12, "below the knee it is 0.6 ohm")
	assert.Equal(t, []string{"lamp"}, weak.Starved)
	assert.InEpsilon(t, 2.0, volts(t, solved(t, "0", Battery("b", "plus", "0", 12, 1), ConstantCurrentLoad("lamp", "plus", "0", 10, 0)), "plus"), 1e-12)
}

// An alternator at its limit leaves the rest of the load to the battery; below it, it holds its voltage and charges.
func TestRegulatedSource(t *testing.T) {
	at := func(load float64) *Solution {
		return solved(t, "0", RegulatedSource("alternator", "plus", "0", 14.2, 0.01, 40), Battery("battery", "plus", "0", 12.6, 0.02),
			ConstantCurrentLoad("loads", "plus", "0", load, 6))
	}
	short := at(50)
	assert.InEpsilon(t, -40.0, amps(t, short, "alternator"), 1e-9)
	assert.InEpsilon(t, -10.0, amps(t, short, "battery"), 1e-9)
	assert.InEpsilon(t, 12.4, volts(t, short, "plus"), 1e-9)
	// Charging: a full battery of 14.1 V takes little, so the regulator holds.
	held := solved(t, "0", RegulatedSource("alternator", "plus", "0", 14.2, 0.01, 40), Battery("battery", "plus", "0", 14.1, 0.02))
	assert.InEpsilon(t, 0.1/0.03, amps(t, held, "battery"), 1e-9)
	stopped := solved(t, "0", RegulatedSource("alternator", "plus", "0", 14.2, 0.01, 0), Battery("battery", "plus", "0", 12.6, 0.02), ConstantCurrentLoad("loads", "plus", "0", 5, 6))
	assert.InEpsilon(t, -5.0, amps(t, stopped, "battery"), 1e-9)
	backwards := solved(t, "0", RegulatedSource("alternator", "plus", "0", 13, 0.01, 40), Battery("battery", "plus", "0", 14, 0.02))
	assert.InDelta(t, 0, amps(t, backwards, "alternator"), 1e-9, "diodes let nothing back")
}

func TestZeroResistance(t *testing.T) {
	// One battery, a closed switch and two parallel zero-ohm straps to ground.
	state := solved(t, "0", Battery("battery", "plus", "0", 12, 0.5), Resistor("switch", "plus", "feed", 0), ResistiveLoad("heater", "feed", "case", 12, 8),
		Resistor("strap 1", "case", "0", 0), Resistor("strap 2", "case", "0", 0), Resistor("dangling", "feed", "spare", 0))
	assert.InEpsilon(t, 6.0, amps(t, state, "switch"), 1e-12)
	assert.InEpsilon(t, 3.0, amps(t, state, "strap 1"), 1e-12)
	assert.InEpsilon(t, 3.0, amps(t, state, "strap 2"), 1e-12)
	assert.InDelta(t, 0, amps(t, state, "dangling"), 1e-12)
	assert.InEpsilon(t, 9.0, volts(t, state, "spare"), 1e-12)
	assert.Equal(t, 0.0, volts(t, state, "case"))
	assert.Less(t, state.CurrentResidual, 1e-9)
	// The limit of small equal resistances is the same.
	near := solved(t, "0", Battery("battery", "plus", "0", 12, 0.5), Resistor("switch", "plus", "feed", 1e-9), ResistiveLoad("heater", "feed", "case", 12, 8),
		Resistor("strap 1", "case", "0", 1e-9), Resistor("strap 2", "case", "0", 1e-9))
	assert.InEpsilon(t, amps(t, state, "strap 1"), amps(t, near, "strap 1"), 1e-6)
}

func TestTopologyErrors(t *testing.T) {
	battery := Battery("battery", "plus", "0", 12, 0.01)
	for _, c := range []struct {
		name     string
		elements []Element
		says     string
	}{
		{"floating nodes by name", []Element{battery, Resistor("lost", "island a", "island b", 1)}, `floating: "island a", "island b" has no connection to "0"`},
		{"node fed by a current source only", []Element{battery, CurrentSource("source", "0", "node", 1)}, `the voltage of "node" is settled by nothing`},
		{"two ideal sources in parallel", []Element{Battery("first", "plus", "0", 12, 0), Battery("second", "plus", "0", 13, 0)}, `voltage source "second" has no internal resistance`},
		{"ideal source shorted", []Element{Battery("first", "plus", "0", 12, 0), Resistor("short", "plus", "0", 0)}, `voltage source "first"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			net, err := NewNetwork("0", c.elements...)
			require.NoError(t, err)
			_, err = net.Solve()
			assert.ErrorContains(t, err, c.says)
		})
	}
}

func TestElementErrors(t *testing.T) {
	for _, c := range []struct {
		name    string
		element Element
		says    string
	}{
		{"negative resistance", Resistor("feed", "a", "0", -1), `resistance of resistor "feed"`},
		{"resistance not a number", Resistor("feed", "a", "0", math.NaN()), `resistance of resistor "feed"`},
		{"no knee", ConstantPowerLoad("computer", "a", "0", 10, 0), `knee voltage of constant-power load "computer"`},
		{"no name", Resistor("", "a", "0", 1), "has no name"},
		{"no node", Resistor("feed", "", "0", 1), "unnamed end"},
		{"no curve", Motor("pump", "a", "0", nil, 8, 16), "has no curve"},
		{"range upside down", AffineMotor("pump", "a", "0", 12, 8, 0, 16, 8), "lower voltage"},
		{"stiff regulator", RegulatedSource("alternator", "a", "0", 14, 0, 50), "resistance of regulated source"},
		{"load without current", ResistiveLoad("lamp", "a", "0", 12, 0), `resistance of resistive load "lamp"`},
		{"made by hand", Element{Name: "x", From: "a", To: "0"}, "unknown kind"},
		{"reference untouched", Resistor("feed", "a", "b", 1), `no element touches the reference node "0"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewNetwork("0", c.element)
			assert.ErrorContains(t, err, c.says)
		})
	}
	_, err := NewNetwork("0", Resistor("a", "x", "0", 1), Resistor("a", "y", "0", 1))
	assert.ErrorContains(t, err, `two elements are named "a"`)
}

// Ground path of 10 mohm at 12 A: 0.12 V by Ohm's law, over the 60 mV of a 5 mohm path (FAA-H-8083).
func TestGroundPath(t *testing.T) {
	state := solved(t, "battery negative", Battery("battery", "plus", "battery negative", 12.6, 0), ConstantCurrentLoad("pump", "plus", "body", 12, 6),
		Resistor("ground path", "body", "battery negative", 0.010))
	assert.InEpsilon(t, 0.12, volts(t, state, "body"), 1e-3)
	assert.InEpsilon(t, 12.6*12, state.Delivered, 1e-9)
}

func TestFaultCurrent(t *testing.T) {
	net, err := NewNetwork("0", Battery("battery", "plus", "0", 12.6, 0.009), Resistor("feed", "plus", "pump", 0.041),
		AffineMotor("pump", "pump", "return", 12, 8, 0.2, 8, 16), Resistor("return", "return", "0", 0.02))
	require.NoError(t, err)
	short, state, err := net.FaultCurrent("pump", "0", 0)
	require.NoError(t, err)
	assert.InEpsilon(t, 12.6/0.05, short, 1e-12)
	assert.InEpsilon(t, 12.6-252*0.009, volts(t, state, "plus"), 1e-12)
	arc, _, err := net.FaultCurrent("pump", "0", 0.05)
	require.NoError(t, err)
	assert.InEpsilon(t, 12.6/0.1, arc, 1e-12)
	across, _, err := net.FaultCurrent("pump", "return", 0)
	require.NoError(t, err)
	assert.InEpsilon(t, 12.6/0.07, across, 1e-12)
	_, _, err = net.FaultCurrent("nowhere", "0", 0)
	assert.ErrorContains(t, err, `"nowhere"`)
	taken, err := net.With(Resistor(FaultElement, "pump", "0", 1))
	require.NoError(t, err)
	_, _, err = taken.FaultCurrent("pump", "0", 0)
	assert.ErrorContains(t, err, "two elements are named")
}

// A walk over the exported elements is enough to write the network down for another program.
func TestElementsCanBeWalked(t *testing.T) {
	net, err := NewNetwork("0", Battery("battery", "plus", "0", 12.6, 0.01), Resistor("feed", "plus", "0", 2))
	require.NoError(t, err)
	walked := net.Elements()
	walked[0].Volts = 99
	assert.Equal(t, 12.6, net.Elements()[0].Volts, "a copy")
	assert.Equal(t, []string{"0", "plus"}, net.Nodes())
	assert.Equal(t, "0", net.Reference())
	state, err := net.Solve()
	require.NoError(t, err)
	_, err = state.Voltage("moon")
	assert.ErrorContains(t, err, `no node "moon"`)
	_, err = state.Branch("moon")
	assert.ErrorContains(t, err, `no element "moon"`)
}
