package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawOhms spreads over the decades from 10 microohm to 100 kohm, with 0 now and then.
func drawOhms(t *rapid.T, name string) float64 {
	if rapid.IntRange(0, 9).Draw(t, name+" zero") == 0 {
		return 0
	}
	return math.Pow(10, rapid.Float64Range(-5, 5).Draw(t, name))
}

// drawMesh returns resistors that reach every node n1..nk from 0, with some more across.
func drawMesh(t *rapid.T) (nodes int, mesh []Element) {
	nodes = rapid.IntRange(1, 8).Draw(t, "nodes")
	for i := 1; i <= nodes; i++ {
		back := rapid.IntRange(0, i-1).Draw(t, "back")
		mesh = append(mesh, Resistor(fmt.Sprint("tree ", i), fmt.Sprint("n", back), fmt.Sprint("n", i), drawOhms(t, "ohms")))
	}
	for k := rapid.IntRange(0, 6).Draw(t, "extra"); k > 0; k-- {
		a, b := rapid.IntRange(0, nodes).Draw(t, "a"), rapid.IntRange(0, nodes).Draw(t, "b")
		mesh = append(mesh, Resistor(fmt.Sprint("extra ", k), fmt.Sprint("n", a), fmt.Sprint("n", b), drawOhms(t, "ohms")))
	}
	return nodes, mesh
}

func node(t *rapid.T, nodes int) string {
	return fmt.Sprint("n", rapid.IntRange(0, nodes).Draw(t, "node"))
}

// assertBalanced checks Kirchhoff's current law and the balance of power (Tellegen's theorem) to 1e-9.
func assertBalanced(t require.TestingT, s *Solution) {
	current, power := 0.0, 0.0
	for _, b := range s.Branches() {
		current, power = math.Max(current, math.Abs(b.Amps)), power+math.Abs(b.Watts)
	}
	assert.LessOrEqual(t, s.CurrentResidual, 1e-9*math.Max(current, 1e-12))
	assert.LessOrEqual(t, math.Abs(s.PowerResidual), 1e-9*math.Max(power, 1e-12))
}

func TestKirchhoffHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nodes, elements := drawMesh(t)
		elements = append(elements, Battery("battery", node(t, nodes), "n0", rapid.Float64Range(9, 16).Draw(t, "volts"), rapid.Float64Range(1e-3, 0.1).Draw(t, "internal")))
		for k := rapid.IntRange(0, 4).Draw(t, "loads"); k > 0; k-- {
			name, from, to := fmt.Sprint("load ", k), node(t, nodes), node(t, nodes)
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0:
				elements = append(elements, ConstantCurrentLoad(name, from, to, rapid.Float64Range(0.1, 10).Draw(t, "amps"), 6))
			case 1:
				elements = append(elements, ResistiveLoad(name, from, to, 12, rapid.Float64Range(0.1, 10).Draw(t, "amps")))
			case 2:
				elements = append(elements, AffineMotor(name, from, to, 0, 0, rapid.Float64Range(0.01, 1).Draw(t, "slope"), -1000, 1000))
			case 4:
				elements = append(elements, ConstantPowerLoad(name, from, to, rapid.Float64Range(0.1, 100).Draw(t, "watts"), 6))
			case 3:
				elements = append(elements, RegulatedSource(name, from, to, 14, 0.01, rapid.Float64Range(0, 50).Draw(t, "limit")))
			}
		}
		state := solved(t, "n0", elements...)
		assertBalanced(t, state)
		again := solved(t, "n0", elements...)
		assert.Equal(t, state.volts, again.volts, "the same network gives the same bits")
	})
}

// In a linear network the state with all sources is the sum of the states with one source each.
func TestSuperposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nodes, mesh := drawMesh(t)
		var sources []Element
		for k := rapid.IntRange(1, 4).Draw(t, "sources"); k > 0; k-- {
			sources = append(sources, CurrentSource(fmt.Sprint("source ", k), node(t, nodes), node(t, nodes), rapid.Float64Range(-20, 20).Draw(t, "amps")))
		}
		sources = append(sources, Battery("battery", node(t, nodes), "n0", rapid.Float64Range(-16, 16).Draw(t, "volts"), 0.01))
		all := solved(t, "n0", append(append([]Element(nil), mesh...), sources...)...)
		sum, scale := make([]float64, len(all.volts)), 1.0
		for keep := range sources {
			alone := append([]Element(nil), mesh...)
			for i, s := range sources {
				if i != keep {
					s.Amps, s.Volts = 0, 0
				}
				alone = append(alone, s)
			}
			for i, v := range solved(t, "n0", alone...).volts {
				sum[i] += v
				scale = math.Max(scale, math.Abs(v))
			}
		}
		assert.InDeltaSlice(t, all.volts, sum, 1e-8*scale)
	})
}

// More wire never raises the voltage at the load, whatever the load.
func TestMoreLengthNeverRaisesTheLoadVoltage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.IntRange(0, 3).Draw(t, "kind")
		load := []Element{
			ConstantCurrentLoad("load", "load", "0", rapid.Float64Range(0.1, 20).Draw(t, "amps"), 6),
			ConstantPowerLoad("load", "load", "0", rapid.Float64Range(1, 100).Draw(t, "watts"), 6),
			ResistiveLoad("load", "load", "0", 12, rapid.Float64Range(0.1, 20).Draw(t, "rated amps")),
			AffineMotor("load", "load", "0", 12, 8, rapid.Float64Range(0, 0.6).Draw(t, "slope"), 0, 20),
		}[kind]
		wire, err := AWGConductor(rapid.IntRange(8, 18).Draw(t, "gauge"))
		require.NoError(t, err)
		at := func(length float64) float64 {
			ohms, err := wire.Resistance(length, celsius(40))
			require.NoError(t, err)
			state := solved(t, "0", Battery("battery", "plus", "0", 12.6, 0.01), Resistor("feed", "plus", "load", ohms), load)
			assertBalanced(t, state)
			return volts(t, state, "load")
		}
		short := rapid.Float64Range(0, 10).Draw(t, "length")
		long := rapid.Float64Range(short, 12).Draw(t, "longer")
		assert.LessOrEqual(t, at(long), at(short)+1e-9)
	})
}

// A constant-power load takes its power whenever it is not starved.
func TestConstantPowerIsConstant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		watts, ohms := rapid.Float64Range(0.1, 300).Draw(t, "watts"), rapid.Float64Range(0.01, 2).Draw(t, "ohms")
		state := solved(t, "0", Battery("battery", "plus", "0", 13.8, ohms), ConstantPowerLoad("computer", "plus", "0", watts, 6))
		b, err := state.Branch("computer")
		require.NoError(t, err)
		if len(state.Starved) == 0 {
			assert.InEpsilon(t, watts, b.Watts, 1e-9)
		} else {
			assert.Less(t, b.Watts, watts)
		}
		reachable := 13.8*13.8/(4*ohms) > watts && (13.8+math.Sqrt(13.8*13.8-4*ohms*watts))/2 > 6
		assert.Equal(t, reachable, len(state.Starved) == 0, "the state of higher voltage is found where there is one")
	})
}

// A rising fault resistance never raises the fault current.
func TestFaultCurrentFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nodes, mesh := drawMesh(t)
		net, err := NewNetwork("n0", append(mesh, Battery("battery", fmt.Sprint("n", nodes), "n0", 12.6, 0.01))...)
		require.NoError(t, err)
		low := rapid.Float64Range(1e-4, 1).Draw(t, "fault ohms")
		at := node(t, nodes)
		firm, _, err := net.FaultCurrent(at, "n0", low)
		require.NoError(t, err)
		soft, _, err := net.FaultCurrent(at, "n0", low+rapid.Float64Range(0, 1).Draw(t, "more"))
		require.NoError(t, err)
		assert.LessOrEqual(t, soft, firm+1e-9*math.Max(1, firm))
		assert.GreaterOrEqual(t, soft, -1e-9)
	})
}
