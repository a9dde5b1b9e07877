package sheet

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/words"
)

// ownParts are the parts within others that are bought by themselves.
var ownParts = []string{"design.throttle_body.injectors", "design.intake.adapter", "design.tank.strainer", "design.vehicle.brake_booster", "design.pump.inertia_switch",
	"design.pump.speed_control", "design.alternator.charge_cable", "design.battery.converter"}

// headlines are the rules that a part is bought for: where one of them speaks, the line of a part that is right gives its number.
var headlines = []string{"fuel/delivery.flow-at-full-load", "fuel/delivery.printed-flow", "fuel/injectors.duty-at-full-load", "fuel/hose.rating-covers-setting", "fuel/pressure.setting-suits-body",
	"fuel/pressure.idle-pressure", "fuel/return.keeps-control", "electrical/wires.pump-drop", "electrical/wires.allowed-drop", "electrical/charging.balance-at-idle", "throttle/body.throttle-drop", "fuel/surge-tank.lift-keeps-it-full"}

// ownerOf is the part a path belongs to.
func ownerOf(path string) string {
	for _, own := range ownParts {
		if path == own || strings.HasPrefix(path, own+".") {
			return own
		}
	}
	if at := strings.IndexByte(path, ']'); at >= 0 && (strings.Contains(path[:at], ".runs[") || strings.Count(path[:at], ".") == 1) {
		return path[:at+1]
	}
	keys := strings.Split(path, ".")
	if len(keys) > 2 && keys[1] == "sensors" {
		return strings.Join(keys[:3], ".")
	}
	return strings.Join(keys[:min(2, len(keys))], ".")
}

// owner is the part in hand a finding is about.
func (b *builder) owner(f *engine.Finding) string {
	owner := ownerOf(f.Subject)
	if strings.HasPrefix(f.Rule, "fuel/return.") {
		owner = "design.return_line"
	}
	return b.line(owner, f)
}

// line gives what is said of a whole line to the piece it is about: a filter whose facts were read, or of the pieces named the
// narrowest.
func (b *builder) line(owner string, f *engine.Finding) string {
	best, least := owner, 0.0
	runs := runsOf(b.design.At(owner))
	for i := range runs {
		run := &runs[i]
		if !run.Stated() {
			continue
		}
		if run.Filter.Mesh.Known() && slices.ContainsFunc(f.Facts, func(r engine.FactRead) bool { return r.Path == run.Filter.Mesh.Path() }) {
			return run.Path()
		}
		bore, known := run.Bore.Get()
		if known && !missing(f) && (best == owner || bore.SI() < least) {
			best, least = run.Path(), bore.SI()
		}
	}
	return best
}

func runsOf(line any) []schema.Run {
	switch line := line.(type) {
	case *schema.Line:
		return line.Runs.Items
	case *schema.Maybe[schema.Line]:
		return line.Part.Runs.Items
	}
	return nil
}

// inHand are the parts of which anything is stated, in the order of a design.
func inHand(d *schema.Design) []string {
	var out []string
	schema.Walk(d, func(v schema.Visit) {
		if !v.Reading.Known() && !v.Reading.Ranged() {
			return
		}
		owner := ownerOf(v.Path)
		if schema.TypeAt(owner) == "" || slices.Contains(papers, owner) {
			return
		}
		if !slices.Contains(out, owner) {
			out = append(out, owner)
		}
	})
	return out
}

// papers are the sections that are no parts of the vehicle.
var papers = []string{"design.registration", "design.papers", "design.climate", "design.condition", "design.procedure", "design.setup", "design.measured", "design.vehicle", "design.own"}

// NameOf is what the part is called that a path leads to or into: its own name, or its label; of a part within it both.
func NameOf(d *schema.Design, path string) string {
	owner := ownerOf(path)
	text := (&builder{design: d}).name(owner)
	if path != owner {
		text += ", " + label(path)
	}
	return text
}

// name is what a part is called: its own name, or its label.
func (b *builder) name(owner string) string {
	fact := b.design.FactAt(owner + ".name")
	switch {
	case fact == nil || !fact.Known():
		if run, ok := b.design.At(owner).(*schema.Run); ok {
			return piece(owner, run)
		}
		return label(owner)
	case schema.TypeAt(owner) == "Circuit" && !strings.HasSuffix(fact.Text(), "circuit"):
		return fact.Text() + " circuit"
	}
	return fact.Text()
}

// piece is what a piece of a line is called that has no name: feed hose.
func piece(owner string, run *schema.Run) string {
	text := "pipe"
	if kind, known := run.Kind.Get(); known {
		text = string(kind)
	}
	line := schema.Path(owner).Section()
	return strings.TrimSuffix(strings.ReplaceAll(line, "_", " "), " line") + " " + text
}

// row is what the table of words says of what stands at a path; nil for nothing.
func row(path string) *words.Row {
	return schema.Said(path)
}

// Label is what people call what stands at a path, whatever part it is of.
func Label(path string) string { return label(path) }

// label is what people call what stands at a path.
func label(path string) string {
	if r := row(path); r != nil && r.Label != "" {
		return r.Label
	}
	return strings.ReplaceAll(schema.Path(path).Key(), "_", " ")
}

// mostStated are how many of a part's facts are shown.
const mostStated = 3

// stated are the facts of a part as they were written, words as people say them; of all parts they are found in one walk.
func (b *builder) stated(owner string) []string {
	if b.facts == nil {
		b.facts = statedBy(b.design)
	}
	return b.facts[owner]
}

func statedBy(d *schema.Design) map[string][]string {
	all := map[string][]string{}
	schema.Walk(d, func(v schema.Visit) {
		if !schema.IsStated(v.Reading) {
			return
		}
		owner := ownerOf(v.Path)
		if len(all[owner]) == mostStated || strings.HasSuffix(v.Path, ".name") || v.Kind == schema.KindText || deep(v.Path[len(owner):]) {
			return
		}
		text := v.Reading.Text()
		switch r := row(v.Path); {
		case v.Kind == schema.KindBool && r != nil:
			if text != "true" {
				return
			}
			text = r.Label
		case r != nil && r.Value(text) != nil:
			text = r.Value(text).Label
		case v.Kind == schema.KindInt && r != nil && !strings.HasPrefix(r.Label, "how many"):
			text += " " + r.Label
		}
		all[owner] = append(all[owner], strings.ReplaceAll(text, "_", " "))
	})
	return all
}

// deep reports whether a fact within a part is one of the parts it is made of; what a filter is, is told with the piece.
func deep(within string) bool {
	return strings.Count(within, ".") > 1 && !strings.HasPrefix(within, ".filter.")
}

// vehicle says what the conversion is for: displacement, layout, power, fuel.
func vehicle(d *schema.Design) string {
	var out []string
	add := func(before string, fact schema.Reading, after string) {
		if fact.Known() || fact.Ranged() {
			out = append(out, before+fact.Text()+after)
		}
	}
	add("", d.Vehicle.ModelYear, "")
	add("", d.Engine.Displacement, "")
	add("", d.Engine.Cylinders, " cylinders")
	add("", d.Engine.Power, "")
	if strings.HasPrefix(d.Fuel.Ethanol.Text(), "E") {
		add("", d.Fuel.Ethanol, "") // E10 says it
	} else {
		add("ethanol ", d.Fuel.Ethanol, "")
	}
	return strings.Join(out, ", ")
}

// ways are the parts of the vehicle somebody has to look at, with the sections of a design that belong to them.
var ways = []struct {
	name     string
	sections []string
}{
	{"tank", []string{"tank"}},
	{"fuel lines", []string{"suction", "feed", "return_line"}},
	{"pump", []string{"pump"}},
	{"regulator", []string{"regulator"}},
	{"throttle body", []string{"throttle_body"}},
	{"throttle linkage", []string{"throttle_control"}},
	{"air side", []string{"intake"}},
	{"wiring", []string{"circuits", "grounds", "harness", "connectors"}},
	{"battery and charging", []string{"battery", "alternator"}},
	{"ignition", []string{"ignition"}},
	{"sensors", []string{"sensors", "oxygen_sensors"}},
	{"controller", []string{"controller"}},
	{"exhaust", []string{"exhaust"}},
	{"holes in sheet metal", []string{"passages"}},
	{"papers of the place", []string{"regions", "registration", "papers"}},
}

// fuelWay are the sections that make one way: who names one of them has begun it.
var fuelWay = []string{"tank", "suction", "feed", "return_line", "pump", "regulator", "throttle_body"}

// begun reports whether anything was said about the way a path belongs to.
func (b *builder) begun(path string) bool {
	section := schema.Path(path).Section()
	if b.seen == nil {
		b.seen = said(b.design)
	}
	seen := b.seen
	if slices.Contains(fuelWay, section) {
		return slices.ContainsFunc(fuelWay, func(s string) bool { return seen[s] })
	}
	for _, w := range ways {
		if slices.Contains(w.sections, section) {
			return slices.ContainsFunc(w.sections, func(s string) bool { return seen[s] })
		}
	}
	return seen[section]
}

// said are the sections of which anything is stated.
func said(d *schema.Design) map[string]bool {
	seen := map[string]bool{}
	schema.WalkAll(d, func(v schema.Visit) {
		switch {
		case v.Reading != nil && (v.Reading.Known() || v.Reading.Ranged()),
			v.Optional != nil && v.Optional.Presence() != schema.NotStated,
			v.Listing != nil && v.Listing.Known():
			seen[schema.Path(v.Path).Section()] = true
		}
	})
	return seen
}

// notLooked are the ways of which nothing is stated.
func notLooked(d *schema.Design) []string {
	seen := said(d)
	var out []string
	for _, w := range ways {
		if !slices.ContainsFunc(w.sections, func(s string) bool { return seen[s] }) {
			out = append(out, w.name)
		}
	}
	return out
}

// keys are the figures such a part is bought by, of which one must be known before anything can be said for it; none where
// one is, or where it is a piece of line other than hose.
func (b *builder) keys(owner string) []string {
	if run, ok := b.design.At(owner).(*schema.Run); ok && !run.Kind.Known() {
		return nil // it may be no hose
	}
	var missing []string
	for _, figure := range engine.FiguresOf(b.design, owner) {
		switch at := b.design.At(owner + "." + figure.Key).(type) {
		case schema.Reading:
			if at.Ranged() || at.Known() && at.Text() != "unmarked" {
				return nil
			}
		case schema.Listing:
			if at.Known() && at.Len() > 0 {
				return nil
			}
		}
		missing = append(missing, figure.Label)
	}
	return missing
}

// unmarked reports whether a part is a hose that says nothing of what it stands.
func (b *builder) unmarked(owner string) bool {
	return isWord(b.design, owner+".kind", "hose") && isWord(b.design, owner+".mark", "unmarked") && isWord(b.design, owner+".material", "rubber") && !schema.IsStated(b.design.FactAt(owner+".pressure_rating"))
}

func isWord(d *schema.Design, path, word string) bool {
	fact := d.FactAt(path)
	return fact != nil && fact.Known() && fact.Text() == word
}
