package derive

import (
	"reflect"

	"plumbline/schema"
)

// View is a list that no design states as such: parts of a design gathered from
// several lists, so that one rule can judge them all. The parts keep their own
// paths. Rules read it as design.<name>.
type View struct {
	// Name is the last part of the view's path, snake_case.
	Name string
	// Meaning is one line.
	Meaning string
	// Item is the schema type of its parts.
	Item reflect.Type
	// From are the parts of the design its items stand in.
	From []string
	// Gather lists what the view shows of a design.
	Gather func(d *schema.Design) []Shown
	// Spare is the path of a part of the view that most vehicles do without. While nobody said whether it is
	// there, a rule that judges each part of the view leaves it out; a rule about that part asks for it.
	Spare string
}

// Shown is one item of a view: a pointer to a part, or the path of a list of
// which the design does not state all, whose other parts are not known yet.
type Shown struct {
	Part    any
	Missing string
}

// Path is the view's name as rules write it.
func (v *View) Path() string { return "design." + v.Name }

// Views lists the views there are.
func Views() []View {
	const second = "design.second_tank"
	lines := []string{"design.suction", "design.feed", "design.return_line", "design.second_suction", "design.second_feed", "design.second_return"}
	return []View{
		{Name: "fuel_lines", From: lines, Item: reflect.TypeFor[schema.Run](), Gather: func(d *schema.Design) []Shown { return runsOf(d, "") }, Spare: second,
			Meaning: "every piece of suction, feed and return line, those of a second tank too; run.line tells which line it is part of"},
		{Name: "suction_runs", From: []string{"design.suction", "design.second_suction"}, Item: reflect.TypeFor[schema.Run](), Gather: func(d *schema.Design) []Shown { return runsOf(d, suctionLine) }, Spare: second,
			Meaning: "every piece of the suction, that of a second tank too"},
		{Name: "feed_runs", From: []string{"design.feed", "design.second_feed"}, Item: reflect.TypeFor[schema.Run](), Gather: func(d *schema.Design) []Shown { return runsOf(d, feedLine) }, Spare: second,
			Meaning: "every piece of the feed, that of a second tank's pump too"},
		{Name: "return_runs", From: []string{"design.return_line", "design.second_return"}, Item: reflect.TypeFor[schema.Run](), Gather: func(d *schema.Design) []Shown { return runsOf(d, returnLine) }, Spare: second,
			Meaning: "every piece of the return, that of a second tank too"},
		{Name: "line_joints", From: lines, Item: reflect.TypeFor[schema.LineEnd](), Gather: lineJoints, Spare: second,
			Meaning: "every joint of suction, feed and return line, those of a second tank too, each by the inlet of the piece behind it, the last of a line by the outlet of its last piece"},
		{Name: "tanks", From: []string{"design.tank", "design.second_tank"}, Item: reflect.TypeFor[schema.Tank](), Gather: tanks, Spare: "design.second_tank",
			Meaning: "the fuel tank and, where there are two, the second; tank.called tells which"},
		{Name: "tank_selectors", From: []string{"design.tank_selector"}, Item: reflect.TypeFor[schema.TankSelector](), Gather: tankSelectors, Spare: "design.tank_selector",
			Meaning: "the valve that chooses between two tanks, where there is one"},
	}
}

// ViewAt returns the view a path names, or nil.
func ViewAt(path string) *View {
	for _, v := range Views() {
		if v.Path() == path {
			return &v
		}
	}
	return nil
}

// tanks gathers the fuel tanks.
func tanks(d *schema.Design) []Shown {
	return append([]Shown{{Part: &d.Tank}}, shown(&d.SecondTank)...)
}

func tankSelectors(d *schema.Design) []Shown { return shown(&d.TankSelector) }

// shown is a part that may be absent, as a view shows it.
func shown[T any](m *schema.Maybe[T]) []Shown {
	switch m.Presence() {
	case schema.Present:
		return []Shown{{Part: &m.Part}}
	case schema.NotStated:
		return []Shown{{Missing: m.Path()}}
	}
	return nil
}

// fuelLine is one of the fuel paths of a design.
type fuelLine struct {
	name string
	line *schema.Line
	// maybe is set for lines a vehicle may do without.
	maybe *schema.Maybe[schema.Line]
	// second is set for those of a second tank.
	second bool
}

// The names of the fuel paths, in the order the fuel meets them.
const (
	suctionLine = "suction"
	feedLine    = "feed"
	returnLine  = "return"
)

func linesOf(d *schema.Design) []fuelLine {
	return []fuelLine{
		{suctionLine, &d.Suction.Part, &d.Suction, false},
		{feedLine, &d.Feed, nil, false},
		{returnLine, &d.ReturnLine.Part, &d.ReturnLine, false},
		{suctionLine, &d.SecondSuction.Part, &d.SecondSuction, true},
		{feedLine, &d.SecondFeed.Part, &d.SecondFeed, true},
		{returnLine, &d.SecondReturn.Part, &d.SecondReturn, true},
	}
}

// absent says that the design has no such line.
func (l fuelLine) absent() bool { return l.maybe != nil && l.maybe.Presence() == schema.Absent }

// ofSecond shows what a view has of a second tank's line before its pieces: nothing where there is no second tank, and the
// tank itself while nobody said whether there is one. The pieces follow when known is true.
func (l fuelLine) ofSecond(d *schema.Design) (shown []Shown, known bool) {
	switch {
	case !l.second:
		return nil, true
	case d.SecondTank.Presence() == schema.NotStated:
		return []Shown{{Missing: d.SecondTank.Path()}}, false
	case d.SecondTank.Presence() == schema.Absent:
		return nil, false
	case l.maybe.Presence() == schema.NotStated:
		return []Shown{{Missing: l.maybe.Path()}}, false
	}
	return nil, true
}

// runsOf gathers the runs of the lines of a name, or of all; a line the design says is not there has none.
func runsOf(d *schema.Design, name string) []Shown {
	var out []Shown
	for _, l := range linesOf(d) {
		shown, known := l.ofSecond(d)
		switch runs := &l.line.Runs; {
		case name != "" && name != l.name:
		case !known:
			out = append(out, shown...)
		case l.absent():
		default:
			for i := range runs.Items {
				out = append(out, Shown{Part: &runs.Items[i]})
			}
			if !runs.Known() {
				out = append(out, Shown{Missing: runs.Path()})
			}
		}
	}
	return out
}

// lineOf finds the line a run is part of; nil for a run of no line.
func lineOf(d *schema.Design, r *schema.Run) *fuelLine {
	for _, l := range linesOf(d) {
		if holds(l.line.Runs.Items, r) {
			return &l
		}
	}
	return nil
}
