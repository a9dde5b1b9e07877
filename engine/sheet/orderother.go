package sheet

import (
	"slices"

	"plumbline/schema"
)

// otherParts are what else is fitted: at the intake, the throttle, the tank, and what the controller reads by.
func (o *orderList) otherParts() {
	d := o.Design
	o.begin("Intake, throttle, tank", "What goes with throttle body and tank")
	gaskets := 1
	if d.Intake.Adapter.Presence() == schema.Present {
		a := &d.Intake.Adapter.Part
		o.buy(a.Path(), "adapter", o.listed(o.with("", &a.Material, ""), o.with("height ", &a.Height, ""), o.with("bore ", &a.Bore, "")), "throttle body on the old manifold", o.many(1, "adapters"))
		gaskets = 2
	}
	o.buy("", "gasket", o.listed("stands fuel", o.with("at least ", &d.Intake.GasketLand, " wide beside every hole")), "below the throttle body, and below its adapter", o.many(gaskets, "gaskets"))
	if d.ThrottleControl.ReturnSprings.Known() {
		o.buy("", "return spring", "closes the throttle by itself", "one may break", o.with("", &d.ThrottleControl.ReturnSprings, ""))
	}
	o.buy("design.throttle_control", "throttle linkage", o.listed(o.with("", &d.ThrottleControl.Linkage, ""), o.with("slack ", &d.ThrottleControl.CableSlack, "")), "from the pedal to the lever", o.many(1, "linkages"))
	if d.Engine.OldMechanicalPump.Text() == "removed_and_blanked" {
		o.buy("", "cover and gasket", "for the place of the old pump", "oil comes out there", o.many(1, "covers"))
	}
	if d.Tank.Strainer.Presence() == schema.Present {
		o.buy(d.Tank.Strainer.Path(), "strainer", o.with("", &d.Tank.Strainer.Part.Mesh, ", at the pump's inlet"), "", o.many(1, "strainers"))
	}
	if d.Pump.Place.Text() == "in_tank" || d.Tank.PlateSeal.Known() {
		o.buy("design.tank", "seal of the tank's plate", o.with("", &d.Tank.PlateSeal, ""), "it was opened", o.many(1, "seals"))
	}
	o.sensorParts()
}

// sensorParts are the controller, what it reads by, and what covers its wires.
func (o *orderList) sensorParts() {
	d := o.Design
	o.begin("Controller and sensors", "What the controller is, and what it reads by")
	o.buy("design.controller", "controller", o.listed(o.with("", &d.Controller.Place, ""), o.with("at that place ", &d.Controller.PlaceTemperature, ""), o.with("works down to ", &d.Controller.LowestSupply, ""), o.with("drives ", &d.Controller.InjectorOutputs, " injector outputs")), "", o.many(1, "controllers"))
	x := &d.Sensors
	o.buy(x.Coolant.Path(), "coolant sensor with its plug", o.listed(o.with("", &x.Coolant.Place, ""), o.with("", &x.Coolant.Wires, " wires"), o.curve(&x.Coolant.Curve)), "the controller is set to its curve", o.many(1, "sensors"))
	o.buy(x.IntakeAir.Path(), "air sensor with its plug", o.listed(o.with("", &x.IntakeAir.Place, ""), o.curve(&x.IntakeAir.Curve)), "the controller is set to its curve", o.many(1, "sensors"))
	if d.Setup.LoadSignal.Text() != "throttle_position" {
		o.buy(x.ManifoldPressure.Path(), "manifold pressure sensor and hose", o.listed(o.with("hose bore ", &x.ManifoldPressure.HoseBore, ""), o.with("hose length ", &x.ManifoldPressure.HoseLength, ""), o.with("taken from: ", &x.ManifoldPressure.Port, "")), "", o.many(1, "sensors"))
	}
	for i := range d.OxygenSensors.Items {
		s := &d.OxygenSensors.Items[i]
		o.buy(s.Path(), "exhaust sensor with its plug", o.listed(o.with("", &s.Name, ""), o.with("", &s.Kind, "")), "", o.many(1, "sensors"))
		if s.Fixing.Text() == "welded_bush" {
			o.buy("", "bush for the exhaust sensor", "to be welded, with a plug for it", o.with("", &s.Name, ""), o.many(1, "bushes"))
		}
	}
	o.buy(x.SpeedSignal.Path(), "signal wire for the speed", o.listed(o.with("taken from: ", &x.SpeedSignal.Source, ""), o.with("", &x.SpeedSignal.Cable, "")), "", "length ______")
	if d.Pump.InertiaSwitch.Presence() == schema.Present {
		s := &d.Pump.InertiaSwitch.Part
		o.buy(s.Path(), "switch that cuts the pump in a crash", o.listed(o.with("good for ", &s.Rating, ""), o.with("opens the ", &s.Opens, "")), "", o.many(1, "switches"))
	}
	o.buy("design.harness", "covering of the harness", o.listed(o.with("", &d.Harness.Covering, ""), o.with("for a bundle of ", &d.Harness.BundleDiameter, "")), "", "length ______")
	if names := o.shielded(); len(names) > 0 {
		o.buy("", "heat shield", "metal, air on both sides", listOf(names, 6), o.many(len(names), "shields"))
	}
}

// curve prints the points of a thermistor.
func (o *orderList) curve(points *schema.List[schema.ThermistorPoint]) string {
	var out []string
	for i := range points.Items {
		p := &points.Items[i]
		out = append(out, o.with("", &p.Resistance, "")+o.with(" at ", &p.Temperature, ""))
	}
	return listOf(out, 4)
}

// shielded is what stands behind a shield.
func (o *orderList) shielded() []string {
	d := o.Design
	var out []string
	add := func(name string, f *schema.Fact[bool]) {
		if yes, ok := f.Get(); ok && yes && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	for _, l := range o.lines() {
		for i := range l.Runs.Items {
			add(NameOf(d, l.Runs.Items[i].Path()), &l.Runs.Items[i].HeatShield)
		}
	}
	add("tank", &d.Tank.HeatShield)
	add("harness", &d.Harness.HeatShield)
	return out
}
