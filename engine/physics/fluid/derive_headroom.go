package fluid

// NeededRise returns the pressure rise, Pa, a pump must make to hold the
// regulator's setting at the throttle body while it gives just the demand:
//
//	return, in tank: regulator's hold with no spill + feed (return) + suction losses at the demand
//	dead head:       setting + reference + feed and suction losses at the demand
//
// The pump of s is not read. Domain as Solve. Source: balance of pressures along
// the fuel path.
func (s System) NeededRise() (float64, error) {
	if err := s.Regulator.check(); err != nil {
		return 0, err
	}
	p, err := s.lines()
	if err != nil {
		return 0, err
	}
	return p.NeededRise()
}

// NeededRise is that of the system.
func (s *Prepared) NeededRise() (float64, error) {
	b, err := s.at(s.Demand, s.Demand)
	if err != nil || s.Layout != DeadHead {
		return b.rise, err
	}
	return s.Regulator.Setting + s.Regulator.Reference + b.suction.total + b.feed.total, nil
}

// HighestPressure returns the highest pressure rise among the points of the
// curve, Pa, at which the pump still gives a flow in m3/s: PressureAt, or the
// last point where the flow there is larger. Error: *domain.RangeError when the
// pump gives that flow nowhere on its curve.
func (c Curve) HighestPressure(flow float64) (float64, error) {
	least, _ := c.FlowRange()
	if flow <= least {
		_, high := c.PressureRange()
		return high, nil
	}
	return c.PressureAt(flow)
}
