package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawVehicle is the supply of a vehicle: battery and alternator, one to three
// wires from the posts, each feeding loads of every kind that branch from its
// end, returns to the battery by wire or to ground points, and grounds that share
// paths: in a row, parallel, or both.
func drawVehicle(t *rapid.T) []Element {
	ohms := func(name string) float64 { return math.Pow(10, rapid.Float64Range(-4, -1).Draw(t, name)) }
	all := []Element{Battery("battery", "plus", "minus", rapid.Float64Range(11, 13).Draw(t, "rest"), ohms("internal"))}
	if rapid.Bool().Draw(t, "alternator") {
		all = append(all, RegulatedSource("alternator", "plus", "block", rapid.Float64Range(13, 14.8).Draw(t, "set"), 0.01, rapid.Float64Range(0, 90).Draw(t, "limit")))
	}
	points := []string{"block", "chassis", "body"}
	for i, p := range points {
		all = append(all, Resistor("ground "+p, p, append([]string{"minus"}, points[:i]...)[rapid.IntRange(0, i).Draw(t, "leads to")], ohms("ground")))
	}
	for k := rapid.IntRange(0, 2).Draw(t, "straps"); k > 0; k-- {
		all = append(all, Resistor(fmt.Sprint("strap ", k), points[k], "minus", ohms("strap")))
	}
	for f := rapid.IntRange(1, 3).Draw(t, "feeds"); f > 0; f-- {
		feed := fmt.Sprint("feed ", f)
		all = append(all, Resistor(feed, "plus", feed, ohms(feed)))
		for k := rapid.IntRange(1, 4).Draw(t, "branches"); k > 0; k-- {
			name := fmt.Sprint("load ", f, ".", k)
			amps := rapid.Float64Range(0.1, 8).Draw(t, "amps")
			back := rapid.SampledFrom(append([]string{"minus"}, points...)).Draw(t, "returns to")
			all = append(all, Resistor(name+" wire", feed, name+"+", ohms("wire")), Resistor(name+" return", name+"-", back, ohms("return")),
				[]Element{
					ConstantCurrentLoad(name, name+"+", name+"-", amps, 6),
					ResistiveLoad(name, name+"+", name+"-", 12, amps),
					ConstantPowerLoad(name, name+"+", name+"-", 12*amps, 6),
					AffineMotor(name, name+"+", name+"-", 12, amps, 0.3, -20, 20),
				}[rapid.IntRange(0, 3).Draw(t, "kind")])
		}
	}
	return all
}

// asLaw is the current an element must have at its voltage, by the law of its
// kind alone; not ok where the voltage does not tell it.
func asLaw(e Element, volts float64) (amps float64, ok bool) {
	switch e.Kind {
	case KindResistor, KindResistive:
		return volts / e.Ohms, true
	case KindConstantCurrent:
		return e.Amps * math.Max(-1, math.Min(1, volts/e.Knee)), true
	case KindConstantPower:
		if math.Abs(volts) < e.Knee {
			return volts * e.Watts / (e.Knee * e.Knee), true
		}
		return e.Watts / volts, true
	case KindMotor:
		return e.Curve(volts), true
	case KindVoltageSource:
		return (volts - e.Volts) / e.Ohms, true
	case KindRegulatedSource:
		return -math.Max(0, math.Min(e.Amps, (e.Volts-volts)/e.Ohms)), true
	}
	return 0, false
}

// The state of a vehicle's supply checked from outside, from the elements, their
// voltages and currents alone: each element obeys its own law, the currents at
// every node add up to nothing (Kirchhoff), and what the sources make, with what
// is lost inside them, is what resistances and loads take (Tellegen).
func TestVehicleSupplyBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		state := solved(t, "minus", drawVehicle(t)...)
		sums, largest := map[string]float64{}, 0.0
		made, inside, wires, loads := 0.0, 0.0, 0.0, 0.0
		for _, b := range state.Branches() {
			e := b.Element
			from, err := state.Voltage(e.From)
			require.NoError(t, err)
			to, err := state.Voltage(e.To)
			require.NoError(t, err)
			assert.InDelta(t, from-to, b.Volts, 1e-12)
			sums[e.From] += b.Amps
			sums[e.To] -= b.Amps
			largest = math.Max(largest, math.Abs(b.Amps))
			switch {
			case e.Kind == KindVoltageSource:
				made -= e.Volts * b.Amps
				inside += e.Ohms * b.Amps * b.Amps
			case e.Kind == KindRegulatedSource:
				made -= b.Volts * b.Amps
			case e.Kind == KindResistor:
				wires += e.Ohms * b.Amps * b.Amps
			default:
				loads += b.Volts * b.Amps
			}
			// A current follows from a voltage no more exactly than the voltage is known.
			amps, ok := asLaw(e, b.Volts)
			require.True(t, ok, "%s", e.Kind)
			slack := 0.0
			if e.Ohms > 0 {
				slack = 1e-12 * math.Max(math.Abs(from), math.Abs(to)) / e.Ohms
			}
			assert.InDelta(t, amps, b.Amps, 1e-8*math.Max(1, math.Abs(amps))+slack, "%s %s", e.Kind, e.Name)
		}
		for node, sum := range sums {
			assert.LessOrEqual(t, math.Abs(sum), 1e-9*largest, "currents at %s", node)
		}
		assert.InDelta(t, made, inside+wires+loads, 1e-9*(math.Abs(made)+inside+wires+math.Abs(loads)))
	})
}
