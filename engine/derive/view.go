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

// Shown is one item of a view: a pointer to a part, or the path of a list that
// the design does not state, whose parts are not known yet.
type Shown struct {
	Part    any
	Missing string
}

// Path is the view's name as rules write it.
func (v *View) Path() string { return "design." + v.Name }

// Views lists the views there are.
func Views() []View {
	lines := []string{"design.suction", "design.feed", "design.return_line"}
	return []View{
		{Name: "fuel_lines", From: lines, Item: reflect.TypeFor[schema.Run](), Gather: fuelLines,
			Meaning: "every piece of suction, feed and return line; run.line tells which line it is part of"},
		{Name: "line_joints", From: lines, Item: reflect.TypeFor[schema.LineEnd](), Gather: lineJoints,
			Meaning: "every joint of suction, feed and return line, each by the inlet of the piece behind it, the last of a line by the outlet of its last piece"},
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
}

// The names of the fuel paths, in the order the fuel meets them.
const (
	suctionLine = "suction"
	feedLine    = "feed"
	returnLine  = "return"
)

func linesOf(d *schema.Design) []fuelLine {
	return []fuelLine{
		{suctionLine, &d.Suction.Part, &d.Suction},
		{feedLine, &d.Feed, nil},
		{returnLine, &d.ReturnLine.Part, &d.ReturnLine},
	}
}

// absent says that the design has no such line.
func (l fuelLine) absent() bool { return l.maybe != nil && l.maybe.Presence() == schema.Absent }

// fuelLines gathers the runs of all lines; a line the design says is not there has none.
func fuelLines(d *schema.Design) []Shown {
	var out []Shown
	for _, l := range linesOf(d) {
		switch runs := &l.line.Runs; {
		case l.absent():
		case !runs.Known():
			out = append(out, Shown{Missing: runs.Path()})
		default:
			for i := range runs.Items {
				out = append(out, Shown{Part: &runs.Items[i]})
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
