package derive

import (
	"fmt"
	"math"
	"slices"

	"plumbline/engine/physics/circuit"
	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
	"plumbline/engine/physics/root"
	"plumbline/schema"
)

// fuelSupply is the working point of the fuel path and its pump's circuit,
// solved together: voltage sets the pump's speed and so its flow, flow and
// pressure set its current, current sets the voltage.
type fuelSupply struct {
	system  *fluid.Prepared // with the pump's curve at the voltage found
	state   fluid.State
	voltage float64
	current float64
	printed float64 // V, at which the pump's curve was printed
	series  float64 // ohm, of a resistor before the pump that slows it
	pumps   pumpCircuits
	powers  map[int]*circuit.Solution // of the islands the pumps belong to
	failure error
}

const (
	supplySteps     = 60
	supplyTolerance = 1e-11 // V
)

// fuelSupplyAt solves the fuel supply at a point. A failure is kept, not raised,
// as a pump may be known to starve though its pressure is not.
func fuelSupplyAt(c *Calc, p Point) *fuelSupply {
	return Memo(c, "fuel supply", 0, c.Design(), p, func(c *Calc) *fuelSupply { return supplyOf(c, p, 0, fuelSystem) })
}

// supplyInTurn solves it in one turn: with a standby pump, which in a vehicle with a pump in each tank is the second tank's.
func supplyInTurn(c *Calc, p Point, t turn) *fuelSupply {
	if t == 0 {
		return fuelSupplyAt(c, p)
	}
	return Memo(c, "fuel supply", int(t), c.Design(), p, func(c *Calc) *fuelSupply {
		path := fuelSystem
		if Fitted(c, &c.Design().SecondFeed) {
			path = secondPath
		}
		return supplyOf(c, p, t, path)
	})
}

// supplyOf solves the fuel supply with the fuel path that path reads.
func supplyOf(c *Calc, p Point, t turn, path func(c *Calc, p Point) fluid.System) *fuelSupply {
	w := wiringIn(c, p, t)
	base := pumpCurve(c)
	s := newSupply(base)
	system := path(c, p)
	// Read on after something is missing, so that all questions come at once.
	s.pumps = pumpsAt(c, p, t)
	var parts []*networkParts
	switch first := s.pumps.first; {
	case first < 0 || !w.complete:
	case !w.runs[first]:
		c.notThere(w.circuits[first].Load.RunsAt.Path())
	default:
		parts = s.pumps.islands(c, p, w, t)
	}
	if c.Lacks() {
		return s
	}
	if s.system, s.failure = fluid.Prepare(system); s.failure == nil {
		if s.failure = s.solve(base, parts); s.failure == nil {
			c.outside(s.system.Pump, s.printed, s.state.PumpRise, true, true)
		}
	}
	return s
}

// solve seeks the voltage at which what the network leaves the pump is what the
// pump was given. Repeating fuel path and network shrinks the error by wire
// resistance times the slope of current on voltage, a few hundredths a step;
// the secant through the last two steps does so faster where it is near that.
func (s *fuelSupply) solve(base fluid.Curve, islands []*networkParts) error {
	parts := islands[0]
	if len(s.pumps.beside) > 0 && parts.supply > 0 {
		return s.sideBySide(base, islands)
	}
	network, err := parts.withPump()
	if err != nil {
		return err
	}
	if parts.supply <= 0 {
		err = s.unpowered(base)
	} else if first := s.running(base, parts, network); first != nil {
		if s.between(base, network, parts.supply) != nil {
			return first
		}
	}
	if err != nil {
		return err
	}
	s.powers[parts.island], err = network.Solve(s.current)
	return err
}

func newSupply(base fluid.Curve) *fuelSupply {
	return &fuelSupply{printed: base.Voltage(), powers: map[int]*circuit.Solution{}}
}

// islands are the parts of the islands that hold the pumps, that of the first pump first.
func (s pumpCircuits) islands(c *Calc, p Point, w *wiring, t turn) []*networkParts {
	var out []*networkParts
	for _, i := range s.all() {
		if !slices.ContainsFunc(out, func(n *networkParts) bool { return n.island == w.island[i] }) {
			out = append(out, islandParts(c, p, w.island[i], t))
		}
	}
	return out
}

// deadVolts stand for no voltage at all: no motor turns at them.
const deadVolts = 1e-6

// unpowered is the fuel path of a pump that gets nothing, as behind a converter
// that has switched itself off.
func (s *fuelSupply) unpowered(base fluid.Curve) error {
	err := s.pumpAt(base, deadVolts)
	s.voltage, s.current = 0, 0
	return err
}

// lowestShare is the share of the supply from which between seeks.
const lowestShare = 1e-3

// between seeks the pump's voltage between nothing and the supply, where the
// steps of running find none: with a large resistance in the circuit the pump
// may stand still, and its winding then takes what the network gives.
func (s *fuelSupply) between(base fluid.Curve, network *circuit.Varied, supply float64) error {
	excess := func(volts float64) (float64, error) {
		if err := s.pumpAt(base, volts); err != nil {
			return 0, err
		}
		left, err := s.left(network)
		return left - volts, err
	}
	volts, err := root.Brent(excess, lowestShare*supply, supply, supplyTolerance)
	if err != nil {
		return err
	}
	rest, err := excess(volts)
	if err != nil {
		return err
	}
	if math.Abs(rest) > 1e-6 {
		return fmt.Errorf("the fuel pump starts and stops at %.4g V", volts)
	}
	return nil
}

// left is what the network and a resistor before the pump leave it (V).
func (s *fuelSupply) left(network *circuit.Varied) (float64, error) {
	volts, err := network.Voltage(s.current)
	return volts - s.series*s.current, err
}

// running is the working point of a pump that turns.
func (s *fuelSupply) running(base fluid.Curve, parts *networkParts, network *circuit.Varied) error {
	if err := s.pumpAt(base, parts.supply); err != nil {
		return err
	}
	var voltageBefore, excessBefore, excess float64
	var outside error // what a step too far ran into
	for step := range supplySteps {
		volts, err := s.left(network)
		if err != nil {
			return err
		}
		if volts <= 0 {
			return fmt.Errorf("nothing is left of %.4g V at the fuel pump at %.4g A: its circuit has too much resistance", parts.supply, s.current)
		}
		excess = volts - s.voltage
		if step > 0 && math.Abs(excess) <= supplyTolerance {
			return nil
		}
		move := excess
		if step > 0 {
			if slope := (excess - excessBefore) / (s.voltage - voltageBefore); slope > -2 && slope < -0.5 {
				move = -excess / slope
			}
		}
		voltageBefore, excessBefore = s.voltage, excess
		if err := s.approach(base, move); err != nil {
			outside = err
			if s.voltage == voltageBefore {
				return err
			}
		}
	}
	if outside != nil {
		return outside
	}
	return &domain.NotConverged{Method: "fuel pump and its circuit", Iterations: supplySteps, Low: 0, High: parts.supply,
		Last: s.voltage, Residual: math.Abs(excess), Reason: fmt.Sprintf("the voltage still moves at %.4g A", s.current)}
}

// pumpAt works out the fuel path and the pump's current at a voltage, that of any pump beside it too.
func (s *fuelSupply) pumpAt(base fluid.Curve, volts float64) error {
	s.voltage = volts
	pump, err := base.AtVoltage(volts)
	if err != nil {
		return err
	}
	together := slices.Repeat([]fluid.Curve{pump}, 1+len(s.pumps.beside))
	if s.state, err = s.system.Solve(fluid.Beside(together...)); err != nil {
		return err
	}
	if pump.Stopped() {
		s.current = pump.StandingCurrent()
		return nil
	}
	s.current, err = pump.Current(s.state.PumpRise)
	return err
}

// withPump prepares the island for the current of its pump.
func (n *networkParts) withPump() (*circuit.Varied, error) {
	net, err := circuit.NewNetwork(batteryNegative, n.elements...)
	if err != nil {
		return nil, err
	}
	return net.Vary(n.pumps[0].labels.load)
}

// supplyHalvings is how often a step is halved that leaves the pump's curve.
const supplyHalvings = 12

// approach moves the pump's voltage, by less where the whole move would leave
// its curve: the first step from the full supply goes too far when a thin wire
// lets the voltage drop. The error is what the whole move ran into, also when a
// part of it succeeded; the voltage then stands at that part.
func (s *fuelSupply) approach(base fluid.Curve, move float64) error {
	from := *s
	var first error
	for range supplyHalvings {
		err := s.pumpAt(base, from.voltage+move)
		if err == nil {
			return first
		}
		if first == nil {
			first = err
		}
		*s = from
		move /= 2
	}
	return first
}

// solve solves an island without the pump.
func (n *networkParts) solve() (*circuit.Solution, error) {
	net, err := circuit.NewNetwork(batteryNegative, n.elements...)
	if err != nil {
		return nil, err
	}
	return net.Solve()
}

// curvePoints reads the points of the pump's printed curve.
func curvePoints(c *Calc) []fluid.CurvePoint {
	var out []fluid.CurvePoint
	points := Items(c, &c.Design().Pump.Curve)
	for i := range points {
		out = append(out, fluid.CurvePoint{
			Pressure: SI(c, &points[i].Pressure), Flow: SI(c, &points[i].Flow), Current: SI(c, &points[i].Current)})
	}
	return out
}

// pumpCurve reads the pump's printed curve.
func pumpCurve(c *Calc) fluid.Curve {
	p := &c.Design().Pump
	data := fluid.CurveData{Voltage: SI(c, &p.CurveVoltage), Resistance: SI(c, &p.MotorResistance), Kind: fluid.PositiveDisplacement}
	if word(c, &p.Kind) == "turbine" {
		data.Kind = fluid.Turbine
	}
	data.Points = curvePoints(c)
	if c.Lacks() {
		return fluid.Curve{}
	}
	curve, err := fluid.NewCurve(data)
	if err != nil {
		c.Unreachable(err)
		return curve
	}
	// These only narrow the bounds outside the curve.
	deadHead, _ := Try(c, &p.DeadHeadPressure)
	x := fluid.Extension{DeadHead: deadHead.SI(), Ends: fluid.Ends{Flow: c.end(PumpFlow), Current: c.end(PumpCurrent), Speed: c.end(PumpSpeed)}}
	flow, byFlow := Try(c, &p.RatedFlow)
	pressure, byPressure := Try(c, &p.RatedPressure)
	if byFlow && byPressure {
		x.RatedFlow, x.RatedPressure = flow.SI(), pressure.SI()
	}
	extended := curve.Extended(x)
	if _, err := extended.AtVoltage(curve.Voltage()); err != nil {
		c.Unreachable(err)
		c.Miss(p.MotorResistance.Path())
	}
	return extended
}

// layout names where the regulator spills; empty while its style is unknown.
func layout(c *Calc) fluid.Layout {
	switch word(c, &c.Design().Regulator.Style) {
	case "in_tank":
		return fluid.InTank
	case "dead_head":
		return fluid.DeadHead
	case "return_style", "in_throttle_body":
		return fluid.ReturnStyle
	}
	return ""
}

// fuelSystem reads the fuel path without its pump.
func fuelSystem(c *Calc, p Point) fluid.System {
	d := c.Design()
	s := fluid.System{Layout: layout(c), Liquid: liquid(c)}
	s.Suction = suctionElements(c)
	s.Feed = lineElements(c, &d.Feed)
	switch s.Layout {
	case fluid.ReturnStyle:
		if Fitted(c, &d.ReturnLine) {
			s.Return = lineElements(c, &d.ReturnLine.Part)
		} else if d.ReturnLine.Presence() == schema.Absent {
			c.unreachable("the regulator spills to the tank but the design has no return line")
		}
	case fluid.DeadHead:
		s.Relief = SI(c, &d.Pump.DeadHeadPressure)
	}
	s.Regulator = regulator(c)
	if over := c.fault(tankPressure); over != 0 && s.Liquid.Density > 0 {
		s.Suction = append(s.Suction, tankHead(-over, s.Liquid))
		if s.Layout == fluid.ReturnStyle {
			s.Return = append(s.Return, tankHead(over, s.Liquid))
		}
	}
	// Fuel the engine takes while cranking is neglected.
	if p != Cranking {
		s.Demand = c.ValueAt(p, "fuel_demand")
	}
	return s
}

// suctionElements are what the fuel passes before the pump: the strainer of
// the tank it draws from and the suction line of an external pump.
func suctionElements(c *Calc) []fluid.Element {
	d := c.Design()
	var elements []fluid.Element
	if !Fitted(c, &d.SurgeTank) && Fitted(c, &d.Tank.Strainer) {
		if e, ok := filterElement(c, "strainer", &d.Tank.Strainer.Part); ok {
			elements = append(elements, e)
		}
	}
	if Fitted(c, &d.Suction) {
		elements = append(elements, lineElements(c, &d.Suction.Part)...)
	}
	return elements
}

// regulator reads the regulator with the pressure its spring chamber sees.
func regulator(c *Calc) fluid.Regulator {
	r := &c.Design().Regulator
	out := fluid.Regulator{Kind: fluid.Diaphragm, Setting: SI(c, &r.Setting), Reference: airAt(c, referencePlace(c))}
	if word(c, &r.Construction) == "outlet_spring" {
		out.Kind = fluid.OutletSpring
	}
	return out
}

// tankHead is the pressure of the tank's air, Pa over the outside, as a height of fuel that a line climbs.
func tankHead(over float64, fuel fluid.Liquid) fluid.Element {
	return fluid.Element{Name: "tank", Kind: fluid.Pipe, Bore: heightBore, Rise: over / (fuel.Density * fluid.StandardGravity)}
}
