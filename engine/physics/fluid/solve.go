package fluid

import (
	"errors"
	"fmt"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/root"
)

// pressureTolerance is the accuracy of the solved pump rise, Pa.
const pressureTolerance = 1e-6

// Solve finds the working point of a fuel supply: the pump rise at which the
// pump curve gives the flow that the lines, the regulator and the engine take
// at that rise. The rise they ask for never falls with flow and the curve's flow
// never rises with pressure, so there is one such point.
//
// Where the pump cannot hold the setting at the demand, Starved is true and the
// pressures are those at which the pump just gives the demand; if it cannot do
// that even into an open end, the throttle-body pressure is zero and EngineFlow
// falls short of the demand.
//
// Errors: *domain.RangeError if the working point lies outside the points of
// the pump curve. Starved in the returned State is then still right if true:
// the pump is known to starve, its pressure is not.
func Solve(s System) (State, error) {
	if err := checkPump(s.Pump); err != nil {
		return State{}, err
	}
	p, err := Prepare(s)
	if err != nil {
		return State{}, err
	}
	return p.Solve(s.Pump)
}

func checkPump(pump Curve) error {
	if len(pump.points) == 0 {
		return errors.New("fuel supply: no pump curve: make one with NewCurve")
	}
	return nil
}

// Solve is the function Solve for the system with this pump, which becomes its
// Pump.
func (s *Prepared) Solve(pump Curve) (State, error) {
	if err := checkPump(pump); err != nil {
		return State{}, err
	}
	s.Pump = pump
	if pump.stopped {
		// Nothing flows and no pressure stands.
		return State{Starved: true}, nil
	}
	if s.Layout == DeadHead {
		return s.solveDeadHead()
	}
	return s.solveBypass()
}

// solveBypass balances the layouts in which the regulator spills.
func (s *Prepared) solveBypass() (State, error) {
	low, high := s.Pump.PressureRange()
	leastFlow, mostFlow := s.Pump.FlowRange()
	closed, err := s.at(s.Demand, s.Demand)
	if err != nil {
		return State{}, err
	}
	if mostFlow < s.Demand {
		if closed.rise < low {
			return State{}, outsideCurve(closed.rise, low, high)
		}
		return s.starved()
	}

	// The search runs over the pressures at which the pump gives the demand.
	top := high
	if leastFlow < s.Demand || (leastFlow == 0 && s.Demand == 0) {
		if top, err = s.Pump.PressureAt(s.Demand); err != nil {
			return State{}, err
		}
		if closed.rise > top {
			return s.starved()
		}
	}
	surplus := func(rise float64) (float64, error) {
		flow, err := s.Pump.Flow(rise)
		if err != nil {
			return 0, err
		}
		b, err := s.at(max(flow, s.Demand), s.Demand)
		return b.rise - rise, err
	}
	if low, top, err = s.Pump.narrowed(low, top, surplus); err != nil {
		return State{}, err
	}
	atLow, err := surplus(low)
	if err != nil {
		return State{}, err
	}
	if atLow < 0 {
		return State{}, outsideCurve(low+atLow, low, high)
	}
	atTop, err := surplus(top)
	if err != nil {
		return State{}, err
	}
	if atTop > 0 {
		return State{}, outsideCurve(high+atTop, low, high)
	}
	rise := top
	if atTop < 0 {
		if rise, err = root.Between(surplus, low, atLow, top, atTop, pressureTolerance); err != nil {
			return State{}, fmt.Errorf("fuel supply balance: %w", err)
		}
	}
	flow, err := s.Pump.Flow(rise)
	if err != nil {
		return State{}, err
	}
	flow = max(flow, s.Demand)
	b, err := s.at(flow, s.Demand)
	if err != nil {
		return State{}, err
	}
	if b.throttleBody < 0 {
		return s.shortFed(b, rise, flow, false, b.outlet)
	}
	return s.state(b, rise, flow, s.Demand), nil
}

// shortFed is the state where a pressure held at the pump, Pa, drives less than
// the demand through the feed, and the suction line too where it says so, into
// an open end; the rest of the flow is spilled.
func (s *Prepared) shortFed(b balance, rise, flow float64, suction bool, held float64) (State, error) {
	excess := func(q float64) (float64, error) {
		loss, err := s.feed.at(q)
		if err != nil || !suction {
			return loss.total - held, err
		}
		before, err := s.suction.at(q)
		return before.total + loss.total - held, err
	}
	engine := 0.0
	still, err := excess(0)
	if err != nil {
		return State{Starved: true}, err
	}
	if still < 0 {
		if engine, err = root.Brent(excess, 0, s.Demand, s.Demand*1e-12); err != nil {
			return State{Starved: true}, fmt.Errorf("fuel supply balance: %w", err)
		}
	}
	feed, err := s.feed.at(engine)
	if err != nil {
		return State{Starved: true}, err
	}
	state := s.state(b, rise, flow, engine)
	state.ThrottleBodyPressure, state.FeedLoss = 0, feed.friction
	state.Starved, state.Controlled = true, false
	return state, nil
}

// starved finds the state of a pump that cannot hold the setting: the regulator
// is shut and all flow goes to the engine.
func (s *Prepared) starved() (State, error) {
	low, high := s.Pump.PressureRange()
	lost := func(flow float64) (suction, feed drop, err error) {
		if suction, err = s.suction.at(flow); err != nil {
			return suction, feed, err
		}
		feed, err = s.feed.at(flow)
		return suction, feed, err
	}
	fill := func(rise, flow float64) (State, error) {
		suction, feed, err := lost(flow)
		if err != nil {
			return State{Starved: true}, err
		}
		outlet := rise - suction.total
		return State{
			ThrottleBodyPressure: outlet - feed.total, PumpOutletPressure: outlet, PumpRise: rise,
			PumpFlow: flow, EngineFlow: flow, SuctionLoss: suction.friction, FeedLoss: feed.friction, Starved: true,
		}, nil
	}
	if _, mostFlow := s.Pump.FlowRange(); mostFlow >= s.Demand {
		rise, err := s.Pump.PressureAt(s.Demand)
		if err != nil {
			return State{Starved: true}, err
		}
		state, err := fill(rise, s.Demand)
		if err != nil || state.ThrottleBodyPressure >= 0 {
			return state, err
		}
	}

	// Not even an open end passes the demand: balance the lines alone.
	surplus := func(rise float64) (float64, error) {
		flow, err := s.Pump.Flow(rise)
		if err != nil {
			return 0, err
		}
		suction, feed, err := lost(flow)
		return suction.total + feed.total - rise, err
	}
	atLow, err := surplus(low)
	if err != nil {
		return State{Starved: true}, err
	}
	if atLow < 0 {
		return State{Starved: true}, outsideCurve(low+atLow, low, high)
	}
	atHigh, err := surplus(high)
	if err != nil {
		return State{Starved: true}, err
	}
	if atHigh > 0 {
		if leastFlow, _ := s.Pump.FlowRange(); leastFlow == 0 {
			return s.outlifted(high)
		}
		return State{Starved: true}, outsideCurve(high+atHigh, low, high)
	}
	rise, err := root.Between(surplus, low, atLow, high, atHigh, pressureTolerance)
	if err != nil {
		return State{Starved: true}, fmt.Errorf("fuel supply balance: %w", err)
	}
	flow, err := s.Pump.Flow(rise)
	if err != nil {
		return State{Starved: true}, err
	}
	state, err := fill(rise, flow)
	state.ThrottleBodyPressure = 0
	return state, err
}

// outlifted is the state of a pump whose highest pressure, Pa, does not lift the
// fuel to the throttle body: it turns and nothing moves.
func (s *Prepared) outlifted(highest float64) (State, error) {
	suction, err := s.suction.at(0)
	return State{PumpRise: highest, PumpOutletPressure: highest - suction.total, Starved: true}, err
}

// solveDeadHead gives the pump exactly the demand, unless its relief valve
// opens first, and lets the reducing regulator cut what arrives to its setting.
func (s *Prepared) solveDeadHead() (State, error) {
	low, high := s.Pump.PressureRange()
	leastFlow, mostFlow := s.Pump.FlowRange()
	b, err := s.at(s.Demand, s.Demand)
	if err != nil {
		return State{}, err
	}
	setting := s.Regulator.Setting + s.Regulator.Reference
	if mostFlow < s.Demand {
		needed := setting + b.suction.total + b.feed.total
		if needed < low {
			return State{}, outsideCurve(needed, low, high)
		}
		return s.starved()
	}
	rise, flow, relief := 0.0, s.Demand, false
	if s.Relief > 0 && s.Relief <= high {
		if err := domain.Check("relief pressure", s.Relief, low, high, "Pa"); err != nil {
			return State{}, err
		}
		atRelief, err := s.Pump.Flow(s.Relief)
		if err != nil {
			return State{}, err
		}
		if atRelief > s.Demand {
			rise, flow, relief = s.Relief, atRelief, true
		}
	}
	if !relief {
		if s.Demand < leastFlow {
			return State{}, fmt.Errorf("dead-headed pump: give curve points down to the demand, or the pressure of its relief valve: %w",
				&domain.RangeError{Quantity: "pump flow", Value: s.Demand, Low: leastFlow, High: mostFlow, Unit: "m3/s"})
		}
		if rise, err = s.Pump.PressureAt(s.Demand); err != nil {
			return State{}, err
		}
	}

	// The relief valve spills at the pump, so only the demand passes the lines.
	arrives := rise - b.suction.total - b.feed.total
	if arrives < 0 && relief {
		state, err := s.shortFed(b, rise, flow, true, rise)
		if err != nil {
			return state, err
		}
		suction, err := s.suction.at(state.EngineFlow)
		state.PumpOutletPressure, state.SuctionLoss = rise-suction.total, suction.friction
		state.ReliefOpen = true
		return state, err
	}
	if arrives < 0 {
		return s.starved()
	}
	state := s.state(b, rise, flow, s.Demand)
	state.ThrottleBodyPressure = min(arrives, setting)
	state.PumpOutletPressure = rise - b.suction.total
	state.ReliefOpen = relief
	state.Controlled = arrives >= setting
	state.Starved = !state.Controlled
	return state, nil
}

func outsideCurve(rise, low, high float64) error {
	return fmt.Errorf("working point outside the pump curve: give more curve points: %w",
		&domain.RangeError{Quantity: "pump pressure", Value: rise, Low: low, High: high, Unit: "Pa"})
}
