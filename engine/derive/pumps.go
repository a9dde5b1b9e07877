package derive

import (
	"fmt"
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/engine/physics/fluid"
	"plumbline/schema"
)

// A role is what a circuit has to do with the injection pump.
type role int

const (
	otherLoad   role = iota // another load; a lift pump too, which is a motor of its stated current
	firstPump               // it feeds the injection pump
	besidePump              // it feeds a pump of the same kind that runs beside the first
	standbyPump             // it feeds one that runs in the first one's place
)

// roleOf reads what a circuit feeds by its load and what it is for.
func roleOf(c *Calc, ct *schema.Circuit) role {
	if word(c, &ct.Load.Kind) != "fuel_pump" {
		return otherLoad
	}
	switch word(c, &ct.Purpose) {
	case "lift_pump":
		return otherLoad
	case "parallel_pump":
		return besidePump
	case "standby_pump":
		return standbyPump
	}
	return firstPump
}

// A turn says which injection pumps may run: 0 the first with those beside it, n the standby pump of circuit n-1 in their place.
type turn int

func turnOf(circuit int) turn { return turn(circuit + 1) }

// turnStride parts the numbers of what is shared in a session by turn.
const turnStride = 1 << 16

// mayRun reports whether a circuit that is live at the point has its load running in this turn.
func (t turn) mayRun(c *Calc, circuits []schema.Circuit, i int) bool {
	switch roleOf(c, &circuits[i]) {
	case firstPump, besidePump:
		return t == 0
	case standbyPump:
		return t == turnOf(i)
	}
	return true
}

// turns are those a vehicle may run in.
func turns(c *Calc, circuits []schema.Circuit) []turn {
	out := []turn{0}
	for i := range circuits {
		if roleOf(c, &circuits[i]) == standbyPump {
			out = append(out, turnOf(i))
		}
	}
	return out
}

// turnTo is the turn in which a circuit's load runs.
func turnTo(c *Calc, ct *schema.Circuit) turn {
	if roleOf(c, ct) != standbyPump {
		return 0
	}
	return turnOf(indexOf(Items(c, &c.Design().Circuits), ct))
}

// draws reports whether a circuit's load takes current at a point; a standby pump only takes the place of the first.
func draws(c *Calc, ct *schema.Circuit, p Point) bool {
	return runsAt(c, &ct.Load.RunsAt, p) && roleOf(c, ct) != standbyPump
}

// pumpCircuits are the circuits of the injection pumps that run at a point: that of the one whose voltage and current are told,
// and of those beside it. first is -1 where there is none, or more than one.
type pumpCircuits struct {
	first  int
	beside []int
}

func (s pumpCircuits) all() []int { return append([]int{s.first}, s.beside...) }

// pumpsAt finds them. A first pump may be fed by one circuit while cranking and by another later.
func pumpsAt(c *Calc, p Point, t turn) pumpCircuits {
	circuits, out := Items(c, &c.Design().Circuits), pumpCircuits{first: -1}
	if t > 0 {
		out.first = int(t) - 1
		return out
	}
	named := -1
	for i := range circuits {
		r := roleOf(c, &circuits[i])
		if r != firstPump && r != besidePump {
			continue
		}
		runs := runsAt(c, &circuits[i].Load.RunsAt, p)
		switch {
		case r == besidePump:
			if runs {
				out.beside = append(out.beside, i)
			}
		case !runs:
			named = i
		case out.first >= 0:
			// Nobody knows which one is meant, or whether there are two pumps; electrical/power.one-pump-circuit fails.
			c.notThere(circuits[i].Load.RunsAt.Path())
			return pumpCircuits{first: -1}
		default:
			out.first = i
		}
	}
	switch {
	case out.first >= 0 || c.Lacks():
	case named >= 0:
		c.notThere(circuits[named].Load.RunsAt.Path())
	default:
		c.unreachable("no circuit has a load of the kind fuel_pump: describe the fuel pump's circuit")
	}
	return out
}

// pumpCircuit finds the one circuit that feeds the injection pump at a point.
func pumpCircuit(c *Calc, p Point) int { return pumpsAt(c, p, 0).first }

// pumpElement is the load of an injection pump in a network.
type pumpElement struct {
	circuit int
	labels  labels
}

// withCurrents are the elements of an island with its pumps drawing so many amperes.
func (n *networkParts) withCurrents(amps map[int]float64) []circuit.Element {
	out := append(make([]circuit.Element, 0, len(n.elements)), n.elements...)
	for _, p := range n.pumps {
		for i := range out {
			if out[i].Name == p.labels.load {
				out[i].Amps = amps[p.circuit]
			}
		}
	}
	return out
}

// sideBySide seeks the voltages of pumps that run beside each other: each has its own wires, together they feed one line. Fuel
// path and networks in turn shrink the error as in solve.
func (s *fuelSupply) sideBySide(base fluid.Curve, islands []*networkParts) error {
	volts, amps := map[int]float64{}, map[int]float64{}
	for _, n := range islands {
		for _, p := range n.pumps {
			volts[p.circuit] = n.supply
		}
	}
	moved := math.Inf(1)
	for range supplySteps {
		var curves []fluid.Curve
		for _, i := range s.pumps.all() {
			curve, err := base.AtVoltage(max(volts[i], deadVolts))
			if err != nil {
				return err
			}
			curves = append(curves, curve)
		}
		var err error
		if s.state, err = s.system.Solve(fluid.Beside(curves...)); err != nil {
			return err
		}
		for k, i := range s.pumps.all() {
			amps[i] = curves[k].StandingCurrent()
			if !curves[k].Stopped() {
				if amps[i], err = curves[k].Current(s.state.PumpRise); err != nil {
					return err
				}
			}
		}
		s.voltage, s.current = volts[s.pumps.first], amps[s.pumps.first]
		if moved <= supplyTolerance {
			return nil
		}
		if moved, err = s.settle(islands, volts, amps); err != nil {
			return err
		}
	}
	return fmt.Errorf("the voltages of the fuel pumps side by side still move by %.4g V", moved)
}

// settle solves the islands with these currents, moves the voltages there and returns the largest move.
func (s *fuelSupply) settle(islands []*networkParts, volts, amps map[int]float64) (float64, error) {
	moved := 0.0
	for _, n := range islands {
		net, err := circuit.NewNetwork(batteryNegative, n.withCurrents(amps)...)
		if err != nil {
			return 0, err
		}
		solution, err := net.Solve()
		if err != nil {
			return 0, err
		}
		s.powers[n.island] = solution
		for _, p := range n.pumps {
			plus, err := solution.Voltage(p.labels.feedEnd)
			if err != nil {
				return 0, err
			}
			minus, err := solution.Voltage(p.labels.loadEnd)
			if err != nil {
				return 0, err
			}
			left := plus - minus - s.series*amps[p.circuit]
			if left <= 0 {
				return 0, fmt.Errorf("nothing is left of %.4g V at a fuel pump at %.4g A: its circuit has too much resistance", n.supply, amps[p.circuit])
			}
			moved = max(moved, math.Abs(left-volts[p.circuit]))
			volts[p.circuit] = left
		}
	}
	return moved, nil
}
