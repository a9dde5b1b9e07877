package fluid

import (
	"fmt"

	"plumbline/engine/physics/root"
)

// FlowAtSetting returns the most the engine could take, m3/s, while the regulator
// still holds its setting: the flow at which the pump's surplus is gone. Compare
// it with the demand; State.PumpFlow of a starved supply equals the demand and
// says nothing about the shortfall. The Demand of the system is not read. In the
// in-tank layout the setting is held at the pump, and the feed line then costs
// pressure, not flow. It is zero where the pump cannot reach the setting at all.
//
// Errors: *domain.RangeError if the answer lies outside the points of the curve.
func FlowAtSetting(s System) (float64, error) {
	s.Demand = 0
	if err := checkPump(s.Pump); err != nil {
		return 0, err
	}
	p, err := Prepare(s)
	if err != nil {
		return 0, err
	}
	return p.flowAtSetting()
}

func (s *Prepared) flowAtSetting() (float64, error) {
	low, high := s.Pump.PressureRange()
	leastFlow, _ := s.Pump.FlowRange()
	needed := func(flow float64) (float64, error) {
		b, err := s.at(flow, flow)
		if err != nil || s.Layout != DeadHead {
			return b.rise, err
		}
		return s.Regulator.Setting + s.Regulator.Reference + b.suction.total + b.feed.total, nil
	}
	surplus := func(rise float64) (float64, error) {
		flow, err := s.Pump.Flow(rise)
		if err != nil {
			return 0, err
		}
		need, err := needed(flow)
		return need - rise, err
	}

	atHigh, err := surplus(high)
	if err != nil {
		return 0, err
	}
	rise := high
	switch {
	case atHigh > 0 && leastFlow == 0:
		return 0, nil
	case atHigh > 0:
		return 0, outsideCurve(high+atHigh, low, high)
	case atHigh < 0:
		atLow, err := surplus(low)
		if err != nil {
			return 0, err
		}
		if atLow < 0 {
			return 0, outsideCurve(low+atLow, low, high)
		}
		if rise, err = root.Between(surplus, low, atLow, high, atHigh, pressureTolerance); err != nil {
			return 0, fmt.Errorf("fuel supply balance: %w", err)
		}
	}
	if s.Layout == DeadHead && s.Relief > 0 && s.Relief < rise {
		return s.flowAtRelief(needed)
	}
	return s.Pump.Flow(rise)
}

// flowAtRelief is the flow that the relief pressure drives through the lines at
// the setting.
func (s *Prepared) flowAtRelief(needed func(flow float64) (float64, error)) (float64, error) {
	low, _ := s.Pump.PressureRange()
	excess := func(flow float64) (float64, error) {
		need, err := needed(flow)
		return need - s.Relief, err
	}
	still, err := excess(0)
	if err != nil || still >= 0 {
		return 0, err
	}
	most, err := s.Pump.Flow(max(s.Relief, low))
	if err != nil {
		return 0, err
	}
	flow, err := root.Brent(excess, 0, most, most*1e-12)
	if err != nil {
		return 0, fmt.Errorf("fuel supply balance: %w", err)
	}
	return flow, nil
}
