package derive

import (
	"fmt"
	"math"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/fluid"
	"plumbline/engine/physics/fuel"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func workCrankPower(w *Work) {
	e := Part[schema.Engine](w.Calc)
	power := w.put(quantity.DimPower, SI(w.Calc, &e.Power))
	as := word(w.Calc, &e.PowerAs)
	if as == "net" {
		w.comes(w.value(), "%s net, as stated", power)
		return
	}
	said := map[string]string{"gross": "gross", "at_wheels": "at the driven wheels"}
	w.comes(w.value(), "%s %s x %s", power, said[as], w.put(quantity.DimShare, SI(w.Calc, &e.NetShare)))
}

func workFuelMassDemand(w *Work) {
	d, c := w.Design(), w.Calc
	e := &d.Engine
	switch w.point {
	case FullLoad:
		power, consumption := c.ValueOn(e, NoPoint, "crank_power"), SI(c, &e.SpecificConsumption)
		given, filled := heatingValue(c, SI(c, &e.ConsumptionEthanol)), heatingValue(c, SI(c, &d.Fuel.Ethanol))
		text := w.put(quantity.DimPower, power) + " at the crank x " + w.put(quantity.DimSpecificConsumption, consumption)
		if ratio := given / filled; math.Abs(ratio-1) > 1e-9 {
			text += fmt.Sprintf(" x %s for the energy in the fuel (%s ethanol, the consumption holds for %s)", w.number(ratio),
				w.put(quantity.DimShare, SI(c, &d.Fuel.Ethanol)), w.put(quantity.DimShare, SI(c, &e.ConsumptionEthanol)))
		}
		w.comes(c.result(air.FuelFlow(power, consumption))*given/filled, "%s", text)
	case Cruise:
		power, displacement, n := SI(c, &e.CruisePower), SI(c, &e.Displacement), revolutions(c)
		lost := air.WillansLost * displacement * n / 2
		w.line("lost in the engine", quantity.DimPower, lost, "%s x %s x %s / 2", w.put(quantity.DimPressure, air.WillansLost),
			w.put(quantity.DimVolume, displacement), w.put(quantity.DimRotationalSpeed, n*2*math.Pi))
		share := fuel.GasolineHeatingValue / heatingValue(c, SI(c, &d.Fuel.Ethanol)) / burntShare(word(c, &e.Cycle))
		w.comes(air.WillansSlope*(power+lost)*share, "(%s at cruise + %s) x %s x %s for the fuel and the kind of engine", w.put(quantity.DimPower, power),
			w.put(quantity.DimPower, lost), w.put(quantity.DimSpecificConsumption, air.WillansSlope), w.number(share))
	case Idle:
		volume, density := SI(c, &e.IdleFuel), c.ValueOn(&d.Fuel, NoPoint, "hot_density")
		w.comes(volume*density, "%s at idle x %s", w.put(quantity.DimFlow, volume), w.put(quantity.DimDensity, density))
	}
}

func workFuelDemand(w *Work) {
	c := w.Calc
	if w.point == Idle {
		w.comes(w.value(), "as stated for idle")
		return
	}
	mass, density := c.Value("fuel_mass_demand"), c.ValueOn(&w.Design().Fuel, NoPoint, "hot_density")
	w.comes(mass/density, "%s / %s of hot fuel", w.put(quantity.DimMassFlow, mass), w.put(quantity.DimDensity, density))
}

func workHotDensity(w *Work) {
	cold, hot := SI(w.Calc, &Part[schema.Fuel](w.Calc).Density), w.value()
	w.comes(hot, "%s at %s x %s at %s", w.put(quantity.DimDensity, cold), w.celsius(15), w.number(hot/cold),
		w.put(quantity.DimTemperature, SI(w.Calc, &w.Design().Climate.HotFuel)))
}

func workPumpVoltage(w *Work) {
	supply, at := w.Value("supply_voltage"), w.value()
	w.together = []string{"pump_current"}
	if i := pumpCircuit(w.Calc, w.point); i >= 0 {
		w.ValueOn(&w.Design().Circuits.Items[i], w.point, "voltage_drop")
	}
	w.comes(at, "%s supply - %s lost on the way at %s", w.put(quantity.DimVoltage, supply), w.put(quantity.DimVoltage, supply-at),
		w.put(quantity.DimCurrent, w.Value("pump_current")))
}

// workPumpPressure adds up what the pump works against.
func workPumpPressure(w *Work) {
	s := fuelSupplyAt(w.Calc, w.point)
	if w.Lacks() {
		return
	}
	st := &s.state
	terms := []term{{"suction loss", st.SuctionLoss}}
	if s.system.Layout == fluid.InTank {
		terms = append([]term{{"behind the pump", st.PumpOutletPressure}}, terms...)
	} else {
		terms = append([]term{{"at the throttle body", st.ThrottleBodyPressure}, {"feed loss", st.FeedLoss}}, terms...)
	}
	w.remainder(&terms, "by the rise of the line", st.PumpRise)
	w.comes(st.PumpRise, "%s", w.sum(quantity.DimPressure, terms, 5))
}

// remainder adds what a sum still lacks to a value, when there is any.
func (w *Work) remainder(terms *[]term, name string, value float64) {
	sum, size := 0.0, 0.0
	for _, t := range *terms {
		sum += t.si
		size = math.Max(size, math.Abs(t.si))
	}
	if rest := value - sum; math.Abs(rest) > 1e-6*math.Max(size, math.Abs(value)) {
		*terms = append(*terms, term{name, rest})
	}
}

// workPumpFlow reads the flow off the curve.
func workPumpFlow(w *Work) {
	s := fuelSupplyAt(w.Calc, w.point)
	if !w.Lacks() {
		w.onCurve(s, s.state.PumpRise, s.state.PumpFlow)
	}
}

func workPumpCapacity(w *Work) {
	s, flow := fuelSupplyAt(w.Calc, w.point), w.value()
	if w.Lacks() {
		return
	}
	rise := s.state.PumpRise
	if s.system.Layout == fluid.DeadHead || s.state.Starved {
		rise = w.result(s.system.NeededRise())
		w.line("pressure that holds the setting", quantity.DimPressure, rise, "setting, losses and rise of the line at %s",
			w.put(quantity.DimFlow, s.system.Demand))
	}
	w.onCurve(s, rise, flow)
}

// onCurve tells between which printed points a flow lies, and at what voltage.
func (w *Work) onCurve(s *fuelSupply, rise, flow float64) {
	base := pumpCurve(w.Calc)
	if w.Value("pump_voltage"); rise == s.state.PumpRise {
		w.Value("pump_pressure")
	}
	var below, above *fluid.CurvePoint
	points := curvePoints(w.Calc)
	for i := range points {
		p := &points[i]
		if p.Pressure <= rise && (below == nil || p.Pressure > below.Pressure) {
			below = p
		}
		if p.Pressure > rise && (above == nil || p.Pressure < above.Pressure) {
			above = p
		}
	}
	text := ""
	for _, p := range []*fluid.CurvePoint{below, above} {
		if p == nil {
			continue
		}
		if text != "" {
			text += " and "
		}
		text += w.put(quantity.DimFlow, p.Flow) + " at " + w.put(quantity.DimPressure, p.Pressure)
	}
	w.note("pump's curve", "printed for %s: %s", w.put(quantity.DimVoltage, base.Voltage()), text)
	if n := len(s.pumps.beside); n > 0 {
		w.comes(flow, "the curve moved to %s for the first of %d pumps side by side and to the voltage of each other one, at %s", w.put(quantity.DimVoltage, s.voltage), 1+n, w.put(quantity.DimPressure, rise))
		return
	}
	w.comes(flow, "the curve moved to %s, at %s", w.put(quantity.DimVoltage, s.voltage), w.put(quantity.DimPressure, rise))
}

func workBodyPressure(w *Work) {
	s := fuelSupplyAt(w.Calc, w.point)
	if w.Lacks() {
		return
	}
	st, r := &s.state, &s.system.Regulator
	if st.Starved || !st.Controlled || s.system.Layout == fluid.InTank {
		of := "pump holds"
		if st.Starved {
			of = "pump cannot hold the setting"
		}
		w.note(of, "%s behind it at %s", w.put(quantity.DimPressure, st.PumpOutletPressure), w.put(quantity.DimFlow, st.PumpFlow))
		terms := []term{{"behind the pump", st.PumpOutletPressure}, {"feed loss", -st.FeedLoss}}
		w.remainder(&terms, "by the rise of the line", st.ThrottleBodyPressure)
		w.comes(st.ThrottleBodyPressure, "%s", w.sum(quantity.DimPressure, terms, 5))
		return
	}
	terms := []term{{"setting", r.Setting}}
	if r.Reference != 0 {
		terms = append(terms, term{"seen by the spring chamber", r.Reference})
	}
	if r.Kind == fluid.OutletSpring {
		terms = append(terms, term{"back pressure of the return", st.ReturnBackPressure})
	}
	w.remainder(&terms, "by what the regulator must pass", st.ThrottleBodyPressure)
	w.comes(st.ThrottleBodyPressure, "%s", w.sum(quantity.DimPressure, terms, 5))
}

// workLine adds up the runs of a line that carry its flow.
func workLine(w *Work, runs []schema.Run, flow, loss float64) {
	var terms []term
	for i := range runs {
		terms = append(terms, term{"in " + runName(&runs[i], i), w.ValueOn(&runs[i], w.point, "loss")})
	}
	w.remainder(&terms, "elsewhere", loss)
	if len(terms) == 0 {
		w.comes(loss, "nothing in the way, at %s", w.put(quantity.DimFlow, flow))
		return
	}
	w.comes(loss, "%s, at %s", w.sum(quantity.DimPressure, terms, 5), w.put(quantity.DimFlow, flow))
}

func runName(r *schema.Run, i int) string {
	if name, ok := r.Name.Get(); ok {
		return name
	}
	if kind, ok := r.Kind.Get(); ok {
		return string(kind)
	}
	return fmt.Sprintf("run %d", i+1)
}

func workFeedLoss(w *Work) {
	s := fuelSupplyAt(w.Calc, w.point)
	if w.Lacks() {
		return
	}
	flow := s.state.EngineFlow
	if s.system.Layout == fluid.ReturnStyle {
		flow = s.state.PumpFlow
	}
	workLine(w, Items(w.Calc, &w.Design().Feed.Runs), flow, s.state.FeedLoss)
}

func workBackPressure(w *Work) {
	s := fuelSupplyAt(w.Calc, w.point)
	if w.Lacks() {
		return
	}
	back := s.state.ReturnBackPressure
	if s.system.Layout != fluid.ReturnStyle {
		w.comes(back, "the regulator sits in the tank: nothing stands behind it")
		return
	}
	runs := Items(w.Calc, &w.Design().ReturnLine.Part.Runs)
	var terms []term
	for i := range runs {
		terms = append(terms, term{"in " + runName(&runs[i], i), w.ValueOn(&runs[i], w.point, "loss")})
	}
	w.remainder(&terms, "by the rise of the line", back)
	if len(terms) == 0 {
		w.comes(back, "nothing in the way")
		return
	}
	w.comes(back, "%s, at %s returned", w.sum(quantity.DimPressure, terms, 5), w.put(quantity.DimFlow, s.state.ReturnFlow))
}

func workReturnFlow(w *Work) {
	pump, engine := w.Value("pump_flow"), w.Value("engine_flow")
	w.comes(w.value(), "%s pumped - %s to the engine", w.put(quantity.DimFlow, pump), w.put(quantity.DimFlow, engine))
}

func workPressureHeadroom(w *Work) {
	s := fuelSupplyAt(w.Calc, w.point)
	if w.Lacks() {
		return
	}
	able, needed := w.result(s.system.Pump.HighestPressure(s.system.Demand)), w.result(s.system.NeededRise())
	w.comes(able-needed, "%s the pump can make at %s - %s needed to hold the setting there", w.put(quantity.DimPressure, able),
		w.put(quantity.DimFlow, s.system.Demand), w.put(quantity.DimPressure, needed))
}

func workInletPressure(w *Work) {
	c, d := w.Calc, w.Design()
	surface, loss, density := c.Value("barometer"), c.Value("suction_loss"), c.ValueOn(&d.Fuel, NoPoint, "hot_density")
	height := SI(c, &d.Tank.PickupAboveBottom) - SI(c, &d.Pump.InletAboveTankBottom)
	column := c.result(fluid.HydrostaticHead(density, height))
	w.line("fuel above the pump inlet", quantity.DimPressure, column, "%s x g x %s, the tank at its lowest",
		w.put(quantity.DimDensity, density), w.put(quantity.DimLength, height))
	w.comes(w.value(), "%s of outside air + %s - %s suction loss", w.put(quantity.DimAbsolutePressure, surface),
		w.put(quantity.DimPressure, column), w.put(quantity.DimPressure, loss))
}

func workVapourMargin(w *Work) {
	inlet, vapour := w.Value("pump_inlet_pressure"), w.Value("vapour_pressure")
	w.comes(inlet-vapour, "%s at the pump inlet - %s at which the hot fuel boils", w.put(quantity.DimAbsolutePressure, inlet),
		w.put(quantity.DimAbsolutePressure, vapour))
}

func workVapourPressure(w *Work) {
	f := &w.Design().Fuel
	w.comes(w.value(), "true vapour pressure of fuel of %s Reid at %s", w.put(quantity.DimAbsolutePressure, SI(w.Calc, &f.ReidVapourPressure)),
		w.put(quantity.DimTemperature, SI(w.Calc, &w.Design().Climate.HotFuel)))
}
