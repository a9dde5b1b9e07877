package sheet

import (
	"plumbline/schema"
)

// OtherWay is a way of the vehicle along which nothing is read: of air and exhaust, of spark and sensors, of the body.
type OtherWay struct {
	// Name is what it is asked for by, Title its heading.
	Name, Title string
	make        func(m *maker) *Way
}

// OtherWays are those beside the ways of fuel and current, of which there are papers.
func OtherWays() []OtherWay {
	return []OtherWay{{"air", "Air and exhaust", airWay}, {"spark", "Spark and sensors", sparkWay}, {"body", "Body", bodyWay}}
}

// Way makes it of a job.
func (o OtherWay) Way(j *Job) *Way {
	w := o.make(&maker{Job: j, paper: &Paper{}})
	w.Title = o.Title
	return w
}

// thing is a part on such a way with the first of what is known of it; it is unknown while none of that is.
func (m *maker) thing(symbol Symbol, name string, part interface{ Path() string }, facts ...schema.Reading) Stop {
	s := Stop{Symbol: symbol, Name: name, Path: part.Path(), Bad: m.badAt(part.Path()), Unknown: len(facts) > 0}
	for _, f := range facts {
		if schema.IsStated(f) {
			s.Details, s.Unknown = append(s.Details, labelled(f, m.fact(f).Text)), false
		}
	}
	if s.Unknown {
		for _, f := range facts[:min(2, len(facts))] {
			s.Details = append(s.Details, label(f.Path())+" ______")
		}
	}
	return s
}

// labelled is a fact with what it is, where its text does not say that.
func labelled(f schema.Reading, text string) string {
	switch text {
	case "true", "yes":
		return label(f.Path())
	case "false", "no":
		return label(f.Path()) + ": no"
	}
	if schema.Describe(f.Path()).Field.Kind == schema.KindWord {
		return text
	}
	return label(f.Path()) + " " + text
}

// spare is a part that may be absent: there, none, or asked about.
func (m *maker) spare(symbol Symbol, name string, part schema.Optional, facts ...schema.Reading) Stop {
	switch part.Presence() {
	case schema.Absent:
		return Stop{Symbol: symbol, Name: "no " + name, Path: part.Path(), Bad: m.badAt(part.Path())}
	case schema.NotStated:
		return Stop{Symbol: symbol, Name: name + "?", Path: part.Path(), Details: []string{"nobody said whether there is one"}, Unknown: true}
	}
	return m.thing(symbol, name, part, facts...)
}

// gap stands for what a list may hold beside what was named.
func gap(list schema.Listing, none, more string) []Stop {
	switch {
	case list.Known():
		return nil
	case list.Len() == 0:
		return []Stop{{Symbol: SymbolGap, Name: none, Path: list.Path(), Unknown: true}}
	}
	return []Stop{{Symbol: SymbolGap, Name: more, Path: list.Path(), Unknown: true}}
}

// airWay is the way of the air in, and of the gas out.
func airWay(m *maker) *Way {
	d := m.Design
	in := Leg{Name: "Air in", Note: "from the cleaner to the engine", Stops: []Stop{
		m.thing(SymbolFilter, "air cleaner", &d.Intake, &d.Intake.CleanerArea, &d.Intake.CleanerSeat, &d.Intake.BonnetClearance),
		m.thing(SymbolBody, "throttle body", &d.ThrottleBody, &d.ThrottleBody.Bores, &d.ThrottleBody.BoreDiameter, &d.ThrottleBody.AirRating),
		m.spare(SymbolBox, "adapter", &d.Intake.Adapter),
		m.thing(SymbolBox, "engine", &d.Engine, &d.Engine.Displacement, &d.Engine.Power, &d.Engine.Aspiration),
	}}
	out := Leg{Name: "Exhaust out", Note: "from the engine to the open end", Stops: []Stop{
		m.thing(SymbolPipe, "exhaust pipe", &d.Exhaust, &d.Exhaust.PipeBore, &d.Exhaust.Leaks),
	}}
	for i := range d.OxygenSensors.Items {
		x := &d.OxygenSensors.Items[i]
		name := "oxygen sensor"
		if x.Name.Known() {
			name += " " + x.Name.Text()
		}
		out.Stops = append(out.Stops, m.thing(SymbolSensor, name, x, &x.Kind, &x.AngleFromTop, &x.DistanceFromPort))
	}
	out.Stops = append(out.Stops, gap(&d.OxygenSensors, "oxygen sensor: nobody named one", "more oxygen sensors? nobody said that these are all")...)
	out.Stops = append(out.Stops, m.spare(SymbolBox, "catalyst", &d.Exhaust.Catalyst), m.thing(SymbolPipe, "silencer and open end", &d.Exhaust, &d.Exhaust.Silencer, &d.Exhaust.Outlet))
	return &Way{Describes: "From the air cleaner through the throttle body to the engine, and from there to the open end of the exhaust", Legs: []Leg{in, out}}
}

// sparkWay is the way of the spark, and what the controller hears by.
func sparkWay(m *maker) *Way {
	d := m.Design
	spark := Leg{Name: "Spark", Note: "from the battery to the plugs", Stops: []Stop{
		m.thing(SymbolBattery, "battery", &d.Battery, &d.Battery.SystemVoltage, &d.Battery.GroundedPole),
		m.spare(SymbolBox, "ballast", &d.Ignition.Ballast),
		m.thing(SymbolLoad, "coil", &d.Ignition.Coil, &d.Ignition.Coil.Resistance),
		m.thing(SymbolBox, "ignition", &d.Ignition, &d.Ignition.Kind, &d.Ignition.Mode, &d.Ignition.PlugWires),
	}}
	s := &d.Sensors
	hears := Leg{Name: "Sensors", Note: "what the controller hears by", Stops: []Stop{
		m.thing(SymbolSensor, "speed signal", &s.SpeedSignal, &s.SpeedSignal.Source, &s.SpeedSignal.InputRating),
		m.thing(SymbolSensor, "coolant sensor", &s.Coolant, &s.Coolant.Place),
		m.thing(SymbolSensor, "intake air sensor", &s.IntakeAir, &s.IntakeAir.Place),
		m.thing(SymbolSensor, "manifold pressure sensor", &s.ManifoldPressure, &s.ManifoldPressure.Port),
		m.thing(SymbolSensor, "throttle position sensor", &s.ThrottlePosition, &s.ThrottlePosition.ClosedVoltage, &s.ThrottlePosition.OpenVoltage),
		m.thing(SymbolBox, "controller", &d.Controller, &d.Controller.Place),
	}}
	return &Way{Describes: "From the battery through the coil to the plugs, and the sensors of the controller", Legs: []Leg{spark, hears}}
}

// bodyWay is what is fixed to the body, drilled into it and moved through it.
func bodyWay(m *maker) *Way {
	d := m.Design
	fixed := Leg{Name: "Tank, throttle and harness", Note: "what hangs on the body", Stops: []Stop{
		m.thing(SymbolTank, "tank", &d.Tank, &d.Tank.Capacity, &d.Tank.Vent, &d.Tank.Material),
		m.thing(SymbolBox, "throttle linkage", &d.ThrottleControl, &d.ThrottleControl.Linkage, &d.ThrottleControl.ReturnSprings),
		m.thing(SymbolWire, "harness", &d.Harness, &d.Harness.Covering, &d.Harness.SupportSpacing, &d.Harness.ExhaustClearance),
	}}
	holes := Leg{Name: "Holes and grounds", Note: "what is drilled and bolted"}
	for i := range d.Passages.Items {
		x := &d.Passages.Items[i]
		name := "hole"
		if x.Name.Known() {
			name = x.Name.Text()
		}
		holes.Stops = append(holes.Stops, m.thing(SymbolFitting, name, x, &x.Carries, &x.Hole, &x.Lining))
	}
	holes.Stops = append(holes.Stops, gap(&d.Passages, "holes in sheet metal: nobody named one", "more holes? nobody said that these are all")...)
	for i := range d.Grounds.Items {
		x := &d.Grounds.Items[i]
		name := "ground"
		if x.Name.Known() {
			name = x.Name.Text()
		}
		holes.Stops = append(holes.Stops, m.thing(SymbolGround, name, x))
	}
	holes.Stops = append(holes.Stops, gap(&d.Grounds, "grounds: nobody named one", "more grounds? nobody said that these are all")...)
	return &Way{Describes: "What hangs on the body, and the holes and grounds in it", Legs: []Leg{fixed, holes}}
}
