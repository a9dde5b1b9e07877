package derive

import (
	"slices"
	"strings"

	"plumbline/schema"
)

// A Joint is where two neighbours of a fuel path meet: two pieces, or a piece
// and the port the path begins or ends at. It is known by the end it is named
// after: the inlet of the piece behind it, or at the end of a path the outlet
// of the last piece.
type Joint struct {
	// Line is the fuel path: suction, feed or return.
	Line string
	// Before and After are its two halves in the direction of flow.
	Before, After Half
}

// Half is one side of a joint. End is nil where the design does not tell yet
// which port the path begins or ends at.
type Half struct {
	End *schema.LineEnd
	// Run is the piece the end belongs to; nil for a port.
	Run *schema.Run
	// Called names the piece or port for people.
	Called string
}

// Called names the joint for people: "tank hose to pressure filter".
func (j *Joint) Called() string { return j.Before.Called + " to " + j.After.Called }

// Joints lists the joints of a design's fuel paths in the order of flow.
func (s *Session) Joints() []*Joint {
	var out []*Joint
	c := s.begin(nil, s.design, NoPoint)
	for _, x := range lineJoints(s.design) {
		if end, ok := x.Part.(*schema.LineEnd); ok {
			out = append(out, jointAt(c, end))
		}
	}
	s.end(c, &Result{})
	return out
}

// JointAt is the joint an end is half of; nil for an end of no fuel path.
func (s *Session) JointAt(end *schema.LineEnd) *Joint {
	c := s.begin(nil, s.design, NoPoint)
	defer s.end(c, &Result{})
	return jointAt(c, end)
}

// lineJoints gathers the ends that joints are named after. Where a line ends is
// only known of one of which every piece is named.
func lineJoints(d *schema.Design) []Shown {
	var out []Shown
	for _, l := range linesOf(d) {
		runs := &l.line.Runs
		shown, known := l.ofSecond(d)
		switch {
		case !known:
			out = append(out, shown...)
		case l.absent():
		default:
			for i := range runs.Items {
				out = append(out, Shown{Part: &runs.Items[i].Inlet})
			}
			if n := len(runs.Items); !runs.Known() {
				out = append(out, Shown{Missing: runs.Path()})
			} else if n > 0 {
				out = append(out, Shown{Part: &runs.Items[n-1].Outlet})
			}
		}
	}
	return out
}

// jointAt finds the joint an end is half of; what decides which port a path
// begins or ends at is read through c. It is nil where c lacks that, and for an
// end of no fuel path.
func jointAt(c *Calc, end *schema.LineEnd) *Joint {
	for _, l := range linesOf(c.Design()) {
		runs := l.line.Runs.Items
		for i := range runs {
			switch end {
			case &runs[i].Inlet:
				return l.joint(c, i)
			case &runs[i].Outlet:
				return l.joint(c, i+1)
			}
		}
	}
	for _, l := range linesOf(c.Design()) {
		first, last := l.ports(c.Design())
		begins := slices.Contains(first, end)
		if !begins && !slices.Contains(last, end) {
			continue
		}
		runs := &l.line.Runs
		switch {
		case l.absent():
			c.notThere(l.maybe.Path())
			return nil
		case !runs.Known() && !runs.Open():
			c.Miss(runs.Path())
			return nil
		}
		if j := l.joint(c, 0); begins && len(runs.Items) > 0 && j.Before.End == end {
			return j
		}
		if j := l.joint(c, len(runs.Items)); !begins && len(runs.Items) > 0 && j.After.End == end {
			return j
		}
	}
	return nil
}

// joint is the joint before the piece of that number, or behind the last piece.
// Between two pieces of a line of which more may be there nobody knows it.
func (l fuelLine) joint(c *Calc, at int) *Joint {
	runs := Items(c, &l.line.Runs)
	j := &Joint{Line: l.name}
	if at == 0 {
		j.Before = l.firstPort(c)
	} else {
		j.Before = Half{&runs[at-1].Outlet, &runs[at-1], called(&runs[at-1])}
	}
	if at == len(runs) {
		j.After = l.lastPort(c)
	} else {
		j.After = Half{&runs[at].Inlet, &runs[at], called(&runs[at])}
	}
	return j
}

// ports lists the ports a path may begin and end at.
func (l fuelLine) ports(d *schema.Design) (first, last []*schema.LineEnd) {
	if l.second {
		begin, end := l.secondPorts(d)
		return []*schema.LineEnd{begin.End}, []*schema.LineEnd{end.End}
	}
	switch l.name {
	case suctionLine:
		return []*schema.LineEnd{&d.Tank.Outlet, &d.SurgeTank.Part.Outlet}, []*schema.LineEnd{&d.Pump.Inlet}
	case feedLine:
		return []*schema.LineEnd{&d.Pump.Outlet}, []*schema.LineEnd{&d.ThrottleBody.FuelInlet}
	}
	return []*schema.LineEnd{&d.Regulator.Outlet, &d.ThrottleBody.FuelOutlet}, []*schema.LineEnd{&d.Tank.ReturnPort, &d.SurgeTank.Part.ReturnPort}
}

// called names a piece for people: by its name, or what it is.
func called(r *schema.Run) string {
	if name, ok := r.Name.Get(); ok {
		return name
	}
	if kind, ok := r.Kind.Get(); ok {
		return strings.ReplaceAll(string(kind), "_", " ")
	}
	return "piece"
}

// secondPorts are the ports a second tank's own piece begins and ends at.
func (l fuelLine) secondPorts(d *schema.Design) (first, last Half) {
	tank, selector := &d.SecondTank.Part, &d.TankSelector.Part
	switch l.name {
	case suctionLine:
		return Half{&tank.Outlet, nil, "second tank"}, Half{&selector.SecondInlet, nil, "tank selector"}
	case feedLine: // from a pump like the first tank's
		return Half{&d.Pump.Outlet, nil, "pump of the second tank"}, Half{&selector.SecondInlet, nil, "tank selector"}
	}
	return Half{&selector.SecondOutlet, nil, "tank selector"}, Half{&tank.ReturnPort, nil, "second tank"}
}

// firstPort is the port a path begins at.
func (l fuelLine) firstPort(c *Calc) Half {
	d := c.Design()
	if l.second {
		first, _ := l.secondPorts(d)
		return first
	}
	switch l.name {
	case suctionLine:
		if Fitted(c, &d.SurgeTank) {
			return Half{&d.SurgeTank.Part.Outlet, nil, "surge tank"}
		} else if d.SurgeTank.Presence() == schema.Absent {
			return Half{&d.Tank.Outlet, nil, "tank"}
		}
		return Half{Called: "tank"}
	case feedLine:
		return Half{&d.Pump.Outlet, nil, "pump"}
	}
	switch word(c, &d.Regulator.Style) {
	case "":
		return Half{Called: "regulator"}
	case "in_throttle_body":
		return Half{&d.ThrottleBody.FuelOutlet, nil, "throttle body"}
	}
	return Half{&d.Regulator.Outlet, nil, "regulator"}
}

// lastPort is the port a path ends at.
func (l fuelLine) lastPort(c *Calc) Half {
	d := c.Design()
	if l.second {
		_, last := l.secondPorts(d)
		return last
	}
	switch l.name {
	case suctionLine:
		return Half{&d.Pump.Inlet, nil, "pump"}
	case feedLine:
		return Half{&d.ThrottleBody.FuelInlet, nil, "throttle body"}
	}
	if Fitted(c, &d.SurgeTank) {
		switch word(c, &d.SurgeTank.Part.ReturnTo) {
		case "surge_tank":
			return Half{&d.SurgeTank.Part.ReturnPort, nil, "surge tank"}
		case "main_tank":
			return Half{&d.Tank.ReturnPort, nil, "tank"}
		}
	} else if d.SurgeTank.Presence() == schema.Absent {
		return Half{&d.Tank.ReturnPort, nil, "tank"}
	}
	return Half{Called: "tank"}
}
