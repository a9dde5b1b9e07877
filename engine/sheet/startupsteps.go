package sheet

import (
	"math"
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// dry is everything before the starter turns.
func (s *startUp) dry() {
	d, start := s.Design, "start/measured."
	s.gate("Gate A: no spark", "Ignition unplugged, extinguisher at hand, exhaust led outside, nobody under the vehicle")
	s.look("Open the throttle at the pedal to the stop and let go, from every opening, with each return spring alone too", "it sticks once", "Find what holds it: cable, linkage, cover, a spring that sets over centre.")
	rest := noBand()
	rest.fineLow, rest.stopLow, rest.by = s.scaled(12.4), s.scaled(12.0), []string{"practice: a charged battery at rest"}
	s.against("Battery at rest, nothing on", "", quantity.DimVoltage, rest, &d.Battery.RestVoltage, "Charge it and measure again after an hour.")
	prime := "Key on, engine still: the pump runs and stops by itself"
	if t := s.factText(&d.Pump.PrimeTime); t != "" {
		prime += " after " + t
	}
	s.look(prime, "it runs on; anything drips or smells", "Key off. Find what feeds the pump relay with the engine still.")
	s.measure(s.gauge()+" with the pump running, engine still", s.Session.At(derive.Idle, "throttle_body_pressure"), s.limits(start+"idle-pressure").around, &d.Measured.PrimePressure, s.mend(start+"idle-pressure"))
	s.look(s.joints(), "any spot on the cloth", "Key off, let the pressure down, make the joint anew. Never tighten under pressure.")
	if d.ThrottleBody.BleedsDown.Text() != "true" {
		loss := s.limits("start/workshop.pressure-holds")
		loss.fineLow, loss.fineHigh = 1-loss.fineHigh, math.NaN()
		hold := noBand()
		if setting, ok := d.Regulator.Setting.Get(); ok {
			hold.fineLow, hold.by = setting.SI()*loss.fineLow, append([]string{d.Regulator.Setting.Path()}, loss.by...)
		}
		s.against("Gauge five minutes after the pump stopped", "", quantity.DimPressure, hold, nil, s.mend("start/workshop.pressure-holds"), &d.Procedure.HeldPressure)
	}
	s.against("Manifold pressure sensor against the barometer, key on", "the same", quantity.DimPressure, s.limits(start+"key-on-pressure"), nil, s.mend(start+"key-on-pressure"), &d.Measured.KeyOnManifoldPressure, &d.Measured.Barometer)
	s.against("Coolant sensor against air sensor, after a night's rest", "the same", quantity.DimTemperatureDifference, s.limits(start+"cold-sensors-agree"), nil, s.mend(start+"cold-sensors-agree"), &d.Measured.ColdCoolantReading, &d.Measured.ColdAirReading)
	s.reading("throttle_control.opening_at_floor", "Engine off, a helper's foot on the floor: throttle opening on the screen", "Adjust cable or rod until the stop is touched.")
	entered := "Enter what the part has, before the first start."
	s.stated("Controller's set-up: displacement as it is entered", &d.Setup.Displacement, &d.Measured.DisplacementShown, entered, "start/setup.displacement-entered")
	s.stated("Controller's set-up: injector flow as it is entered", &d.Setup.InjectorFlow, &d.Measured.InjectorFlowShown, entered, "start/setup.injector-flow-entered")
	if d.Setup.InjectorFlowAt.Text() == "test_pressure" {
		s.stated("Controller's set-up: fuel pressure as it is entered", &d.Setup.FuelPressure, &d.Measured.PressureShown, entered, "start/setup.pressure-entered")
	}
	s.look(s.entries(), "one is otherwise", entered)
	if d.Regulator.Construction.Text() == "diaphragm" {
		s.reading("measured.hose_fuel", "Reference hose off the regulator, a glass under the connection, a minute by the test output", "The diaphragm is torn: renew the regulator, mind the fuel in the intake.")
	}
	s.reading("measured.ethanol_found", "Outdoors, no flame: "+s.note("10 mL", "how much")+" of water shaken with "+s.note("90 mL", "how much")+" of the tank's fuel; the lower layer less 10, over 90", "Enter the blend there is, or fill what was planned.")
	s.sign("Gate A, nothing wet and nothing sticks:")
}

// gauge says where the gauge is screwed in.
func (s *startUp) gauge() string {
	if s.Design.Regulator.GaugePort.Text() == "true" {
		return "Gauge at the throttle body, on the regulator's port for it,"
	}
	return "Gauge on a tee at the throttle body"
}

// entries are what else is entered in the controller, in a line.
func (s *startUp) entries() string {
	d, x := s.Design, &s.Design.Sensors
	text := func(before string, f schema.Reading) string {
		if v := s.factText(f); v != "" {
			return before + " " + v
		}
		return before + " ____"
	}
	list := []string{text("cylinders", &d.Setup.Cylinders), text("ethanol", &d.Setup.Ethanol), text("load by", &d.Setup.LoadSignal), text("speed from", &x.SpeedSignal.Source), text("dead time of the injectors", &d.ThrottleBody.Injectors.DeadTime)}
	o := &orderList{maker: s.maker}
	for _, c := range []struct {
		name  string
		curve string
	}{{"coolant sensor", o.curve(&x.Coolant.Curve)}, {"air sensor", o.curve(&x.IntakeAir.Curve)}} {
		if c.curve == "" {
			c.curve = "____"
		}
		list = append(list, c.name+" "+c.curve)
	}
	return "Controller's set-up, the rest of it: " + strings.Join(list, "; ")
}

// joints names the joints of the fuel paper for the cloth.
func (s *startUp) joints() string {
	_, way := (&maker{Job: s.Job, paper: &Paper{}}).fuelWay()
	n := way.joints
	if n == 0 {
		return "Dry cloth along every joint of the fuel line, prime three times"
	}
	return "Dry cloth along joints J1 to J" + strconv.Itoa(n) + " of the sheet of the fuel, prime three times"
}

// cranking is the starter alone.
func (s *startUp) cranking() {
	d, start := s.Design, "start/measured."
	s.gate("Gate B: starter, no spark", "Injectors unplugged too, gears in neutral, at most fifteen seconds at a time, two minutes of rest between")
	s.measure("Battery posts while cranking", s.Session.At(derive.Cranking, "battery_voltage"), s.limits(start+"cranking-voltage").below, &d.Battery.CrankingVoltage, s.mend(start+"cranking-voltage"))
	s.measure("Controller's own supply while cranking", s.Session.At(derive.Cranking, "controller_voltage"), func(float64) band {
		b := noBand()
		if least, ok := d.Controller.LowestSupply.Get(); ok {
			b.stopLow, b.by = least.SI(), []string{d.Controller.LowestSupply.Path()}
		}
		return b
	}, nil, "Measure along the sheet of the current, circuit of the controller.")
	s.measure("Pump terminals while cranking", s.Session.At(derive.Cranking, "pump_voltage"), s.limits(start+"pump-voltage").below, nil, "Measure along the sheet of the current, circuit of the fuel pump.")
	s.measure("Gauge at the throttle body while cranking", s.Session.At(derive.Cranking, "throttle_body_pressure"), s.limits(start+"idle-pressure").around, nil, s.mend(start+"idle-pressure"))
	s.look("The controller shows a steady cranking speed", "it shows none, or jumps", "Signal wire, its shield, and the kind of signal that was entered.")
	s.sign("Gate B, voltage and pressure hold:")
}

// running is the first start and the warm engine.
func (s *startUp) running() {
	d, start := s.Design, "start/measured."
	s.gate("Gate C: first start, in the shop", "Ignition and injectors connected, a second person at the key")
	s.look("Start it; oil pressure comes; look along every joint again", "no oil pressure within ten seconds; a leak; the throttle does not shut", "Engine off at once.")
	switch d.Ignition.Mode.Text() {
	case "controller_distributor_trigger", "controller_crank_trigger":
		s.against("Timing light against the angle commanded, fixed timing on", "the same", quantity.DimAngle, s.limits(start+"timing-seen"), &d.Measured.TimingError, s.mend(start+"timing-seen"))
	default:
		s.stated("Timing light at warm idle, hose of the advance off and closed", &d.Condition.RanBefore.Part.BaseTiming, &d.Measured.BaseTiming, "Turn the distributor until it is as it came, or as the engine's book has it.")
	}
	s.measure("Warm idle: gauge at the throttle body", s.Session.At(derive.Idle, "throttle_body_pressure"), s.limits(start+"idle-pressure").around, &d.Measured.IdlePressure, s.mend(start+"idle-pressure"))
	if d.Pump.SpeedControl.Presence() != schema.Present {
		s.measure("Pump terminals", s.Session.At(derive.Idle, "pump_voltage"), s.limits(start+"pump-voltage").below, &d.Measured.PumpVoltage, s.mend(start+"pump-voltage"))
		s.measure("Pump current", s.Session.At(derive.Idle, "pump_current"), s.limits(start+"pump-current").around, &d.Measured.PumpCurrent, s.mend(start+"pump-current"))
		along := "Measure along the sheet of the current, circuit of the fuel pump."
		s.reading("measured.pump_plus_drop", "Meter across: battery positive to the pump's plus", along)
		s.reading("measured.pump_fuse_drop", "Meter across the pump's fuse", "Battery off, renew the holder with its wires.")
		s.reading("measured.pump_relay_drop", "Meter across the contact of the pump's relay", "Battery off, renew the relay, and its base if that is brown.")
		s.reading("measured.pump_ground_drop", "Meter across: the pump's minus to battery negative", along)
	}
	ground := s.limits(start + "controller-ground")
	s.measure("Controller ground to battery negative, every load on", s.Session.At(derive.Idle, "controller_ground_offset"), func(float64) band { return ground }, &d.Measured.ControllerGroundDrop, s.mend(start+"controller-ground"))
	charge := s.limits(start + "battery-at-idle")
	s.measure("Battery posts, every load on", s.Session.At(derive.Idle, "battery_voltage"), func(float64) band { return charge.times(s.scaled(1)) }, &d.Measured.IdleBatteryVoltage, s.mend(start+"battery-at-idle"))
	s.reading("measured.unloaded_voltage", "Battery posts at "+s.note("2000 rpm", "how fast")+", battery full, every load off", "Set or renew the voltage regulator; clean its ground and its sense wire.")
	s.reading("measured.warm_coolant_reading", "Coolant on the screen when a thermometer on the housing, cap shut, shows "+s.warm()+", while it warms up", "The sensor's own curve; its plug and pin.")
	s.stated("Vacuum at warm idle", &d.Engine.IdleVacuum, &d.Measured.IdleVacuum, "Look for air that leaks in at throttle body, adapter and hoses.")
	s.stated("Speed at warm idle", &d.Engine.IdleSpeed, &d.Measured.IdleSpeed, "Throttle stop, idle valve, air leaks.")
	s.returned()
	s.against("Fuel correction at idle", "none", quantity.DimShare, s.limits(start+"idle-correction"), &d.Measured.IdleCorrection, s.mend(start+"idle-correction"))
	s.sign("Gate C, warm and tight:")
}

// stated is a step whose expected value the design states; rules judge that statement.
func (s *startUp) stated(do string, expect, got schema.Reading, ifNot string, rules ...string) {
	c := s.fact(expect)
	for _, rule := range rules {
		c.Bad = s.badNumber(s.about(rule, expect.Path()))
	}
	if c.Unknown {
		c.Text += "; write down what it is"
	}
	s.row(ifNot, Cell{Text: do}, c, Cell{}, Cell{}, s.got(got))
	s.takeStated(do, c, expect, got, ifNot)
}

// takeStated keeps a reading that a stated value is expected of.
func (s *startUp) takeStated(do string, expected Cell, expect, got schema.Reading, ifNot string) {
	t := taken{do: do, expected: expected, expect: math.NaN(), band: noBand(), got: got, ifNot: ifNot}
	if v, ok := siOf(expect); ok {
		t.expect = v
	}
	s.take(t)
}

// canTime is how long the return runs into a can.
const canTime = 15

// returned is the return led into a can: on a return-style system the only reading that shows a worn pump.
func (s *startUp) returned() {
	style := s.Design.Regulator.Style.Text()
	if style != "return_style" && style != "in_throttle_body" {
		return
	}
	got := &s.Design.Measured.CanFlow
	flow := s.Session.On(&s.Design.Measured, derive.NoPoint, "expected_can_flow")
	do := "Engine off, pump by its test output: return led into a metal can for " + s.note(strconv.Itoa(canTime)+" s", "how long") + ", outside, no free fall. "
	ifNot := "Voltage at the pump first, then strainer, filter, pump. On this kind of system no pressure reading shows a worn pump; this one does."
	q, ok := flow.Value().(quantity.Value)
	largest := 1e-3
	if ok {
		largest = q.SI() * canTime
	}
	// What is read off the can is a volume, what goes back into the design the flow: the sheet says how one becomes the other.
	can, canOne := quantity.Axis(s.Units == quantity.US, quantity.DimVolume, largest)
	rate, rateOne := quantity.Axis(s.Units == quantity.US, quantity.DimFlow, largest/canTime)
	times := s.note(strconv.FormatFloat(canOne/canTime/rateOne, 'g', 3, 64), "how one becomes the other")
	do += "Read " + can + " off the can; times " + times + " it is the flow in " + rate
	b := noBand()
	cell := s.got(got)
	if !ok {
		if cell.Blank {
			cell.Text = "in " + rate + ":"
		}
		s.row(ifNot, Cell{Text: do}, Cell{Text: unknown, Unknown: true}, Cell{}, Cell{}, cell)
		s.take(taken{do: "Return led into a can", expected: Cell{Text: unknown, Unknown: true}, expect: math.NaN(), dimension: quantity.DimFlow, band: b, got: got, ifNot: ifNot})
		return
	}
	b.fineLow, b.stopLow, b.by = 0.9*q.SI(), 0.8*q.SI(), []string{"practice: nine tenths of it are fine, under eight tenths the pump is worn or starved"}
	expected, fine, stop := s.words(&q, quantity.DimFlow, b)
	s.note(expected, flow.Path)
	if cell = s.gotWithin(got, b); cell.Blank {
		cell.Text = "in " + rate + ":"
	}
	volume := quantity.MustNew(q.SI()*canTime, quantity.DimVolume)
	s.row(ifNot, Cell{Text: do}, Cell{Text: expected + ", in the can " + s.note(volume.Format(s.Units), flow.Path, "x 15 s")}, Cell{Text: fine}, Cell{Text: stop}, cell)
	s.take(taken{"Return led into a can", Cell{Text: expected}, q.SI(), quantity.DimFlow, b, got, ifNot})
}

// road is the first drive.
func (s *startUp) road() {
	d, start := s.Design, "start/measured."
	s.gate("Gate D: road", "Brakes first at walking pace; two people; somebody else reads")
	fall := s.limits(start + "full-load-pressure")
	s.measure("Full load: gauge at the throttle body", s.Session.At(derive.FullLoad, "throttle_body_pressure"), func(value float64) band {
		setting, ok := d.Regulator.Setting.Get()
		if !ok {
			return noBand()
		}
		b := fall.times(setting.SI())
		b.by = append(b.by, d.Regulator.Setting.Path())
		return b
	}, &d.Measured.FullLoadPressure, s.mend(start+"full-load-pressure"))
	if d.Engine.Aspiration.Text() == "natural" {
		s.against("Full load: manifold pressure below the barometer", "", quantity.DimPressure, s.limits(start+"full-load-restriction"), nil, s.mend(start+"full-load-restriction"), &d.Measured.FullLoadManifoldPressure)
	}
	s.against("Fuel correction at cruise", "none", quantity.DimShare, s.limits(start+"cruise-correction"), &d.Measured.CruiseCorrection, s.mend(start+"cruise-correction"))
	s.against("Carbon monoxide in the cabin", "none", quantity.DimShare, s.limits("start/workshop.cabin-carbon-monoxide"), &d.Measured.CabinCarbonMonoxide, s.mend("start/workshop.cabin-carbon-monoxide"))
	s.look("Every joint again, hot; start again after ten and after twenty minutes", "wet, or it starts badly", "Engine off; the joint made anew when cold. Bad hot starting: heat at line and pump.")
	s.sign("Gate D, may be handed over:")
}
