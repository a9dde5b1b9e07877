package fluid

import (
	"fmt"

	"plumbline/engine/physics/domain"
)

// Layout is where the regulator sits.
type Layout string

// The layouts of a fuel supply.
const (
	// ReturnStyle: the regulator is at the throttle body and spills into a
	// return line; the feed line carries the whole pump flow.
	ReturnStyle Layout = "return"
	// InTank: the regulator is at the pump and spills into the tank; the feed
	// line carries what the engine takes.
	InTank Layout = "in_tank"
	// DeadHead: a reducing regulator before the throttle body, no return; the
	// pump gives only what the engine takes, or its relief valve opens.
	DeadHead Layout = "dead_head"
)

// System is a fuel supply at one operating point. Suction runs from the tank to
// the pump, Feed from the pump to the throttle body (or the reducing
// regulator), Return from the regulator to the tank; their Rise counts heights.
// All pressures are gauge, above the tank's vapour space.
type System struct {
	Layout    Layout
	Pump      Curve // at the voltage of the operating point
	Suction   []Element
	Feed      []Element
	Return    []Element // ReturnStyle only
	Regulator Regulator
	Liquid    Liquid
	Demand    float64 // m3/s, what the engine takes
	// Relief is the pressure rise at which the pump's relief valve opens, Pa, 0
	// if none is stated. DeadHead uses it; in the other layouts compare it with
	// State.PumpRise.
	Relief float64
}

// State is a System at rest in its balance.
type State struct {
	ThrottleBodyPressure float64 // Pa gauge
	PumpOutletPressure   float64 // Pa gauge
	PumpRise             float64 // Pa, outlet less inlet
	PumpFlow             float64 // m3/s
	EngineFlow           float64 // m3/s, less than the demand only if even an open end starves
	ReturnFlow           float64 // m3/s, by the line, the regulator in the tank or the relief valve
	ReturnBackPressure   float64 // Pa gauge, behind the regulator
	SuctionLoss          float64 // Pa, friction only
	FeedLoss             float64 // Pa, friction only
	// Starved: the pump cannot hold the setting at the demand.
	Starved bool
	// Controlled: the regulator sets the pressure, neither starved nor wide open.
	Controlled bool
	// ReliefOpen: the pump's relief valve carries flow.
	ReliefOpen bool
}

// check checks everything but the pump and the lines.
func (s *System) check() error {
	switch s.Layout {
	case ReturnStyle, InTank, DeadHead:
	default:
		return &domain.UnknownName{Table: "the list of layouts", Name: string(s.Layout),
			Known: []string{string(ReturnStyle), string(InTank), string(DeadHead)}}
	}
	if s.Layout != ReturnStyle && len(s.Return) > 0 {
		return fmt.Errorf("fuel supply: layout %s has no return line: leave it out, or use layout %s", s.Layout, ReturnStyle)
	}
	return domain.First(
		s.Regulator.check(),
		s.Liquid.check(),
		domain.CheckNotNegative("engine demand", s.Demand, "m3/s"),
		domain.CheckNotNegative("relief pressure", s.Relief, "Pa"),
	)
}

// Prepared is a System with its lines worked out, to be solved with the pump at
// one voltage after another. Make it with Prepare. It is not safe for concurrent
// use.
type Prepared struct {
	System
	suction, feed, back path
}

// Prepare checks a system and works out its lines; its Pump is not read.
func Prepare(s System) (*Prepared, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	return s.lines()
}

// lines works out the lines of a system.
func (s *System) lines() (*Prepared, error) {
	p := &Prepared{System: *s}
	var err error
	if p.suction, err = newPath("suction line", s.Suction, s.Liquid); err != nil {
		return nil, err
	}
	if p.feed, err = newPath("feed line", s.Feed, s.Liquid); err != nil {
		return nil, err
	}
	if p.back, err = newPath("return line", s.Return, s.Liquid); err != nil {
		return nil, err
	}
	return p, nil
}

// balance is everything that follows from a pump flow.
type balance struct {
	throttleBody, outlet, rise float64
	suction, feed              drop
	backPressure               float64
	controlled                 bool
}

// at computes the balance with the pump giving flow, of which demand goes to
// the engine and the rest back.
func (s *Prepared) at(flow, demand float64) (balance, error) {
	var b balance
	var err error
	if b.suction, err = s.suction.at(flow); err != nil {
		return b, err
	}
	carried := flow
	if s.Layout != ReturnStyle {
		carried = demand
	}
	if b.feed, err = s.feed.at(carried); err != nil {
		return b, err
	}
	spill := max(flow-demand, 0)
	back, err := s.back.at(spill)
	if err != nil {
		return b, err
	}
	if err = domain.CheckFinite("regulator outlet pressure", back.total, "Pa"); err != nil {
		return b, err
	}
	b.backPressure = back.total
	held, controlled, err := s.Regulator.hold(back.total, spill, s.Liquid.Density)
	if err != nil {
		return b, err
	}
	b.controlled = controlled
	if s.Layout == ReturnStyle {
		b.throttleBody, b.outlet = held, held+b.feed.total
	} else {
		b.throttleBody, b.outlet = held-b.feed.total, held
	}
	b.rise = b.outlet + b.suction.total
	return b, nil
}

// state fills a State from a balance at a pump rise and flow.
func (s *Prepared) state(b balance, rise, flow, demand float64) State {
	return State{
		ThrottleBodyPressure: b.throttleBody,
		PumpOutletPressure:   b.outlet,
		PumpRise:             rise,
		PumpFlow:             flow,
		EngineFlow:           demand,
		ReturnFlow:           max(flow-demand, 0),
		ReturnBackPressure:   b.backPressure,
		SuctionLoss:          b.suction.friction,
		FeedLoss:             b.feed.friction,
		Controlled:           b.controlled,
	}
}
