package derive

import (
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func chargingEntries() []Entry {
	budget := sources(practice("load budget by rated currents"), standard("ISO 8854", "rating form of alternators"))
	return []Entry{
		{Name: "nominal_current", On: "Circuit", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current of the circuit's own load at its rated voltage",
			Formula: "stated load current; an injection pump's is that of its curve at the regulator's setting",
			Needs: needs("circuit.load.kind", "circuit.purpose", "circuit.load.current", "design.pump.curve", "design.pump.curve_voltage", "design.pump.kind", "design.pump.rated_flow",
				"design.pump.rated_pressure", "design.pump.dead_head_pressure", "design.pump.motor_resistance", "design.regulator.setting"),
			Sources: sources(practice("rated current as printed on the part")),
			Working: workNominalCurrent,
			Compute: nominalCurrent},
		{Name: "conversion_load", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current the conversion's circuits draw at their rated voltage",
			Formula: "nominal currents of the circuits that run at the point, those of standby pumps left out",
			Needs:   needs("circuit.nominal_current", "circuit.load.runs_at"),
			Sources: budget,
			Working: workConversionLoad,
			Compute: func(c *Calc) any {
				circuits, sum := Items(c, &c.Design().Circuits), 0.0
				for i := range circuits {
					if draws(c, &circuits[i], c.point) {
						sum += c.ValueOn(&circuits[i], NoPoint, "nominal_current")
					}
				}
				return sum
			}},
		{Name: "electrical_load", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current everything on the vehicle draws at its rated voltage",
			Formula: "conversion load + other load; the former behind a converter x its output voltage / (0.9 x regulated voltage); not modelled while cranking",
			Needs: needs("at.<point>.conversion_load", "design.alternator.other_load", "design.battery.system_voltage",
				"design.battery.converter", "design.alternator.regulated_voltage"),
			Sources: budget,
			Working: workElectricalLoad,
			Compute: func(c *Calc) any {
				if !c.notCranking("the electrical load") {
					return nil
				}
				sum := c.Value("conversion_load")
				if v := converter(c); v != nil {
					sum *= SI(c, &v.OutputVoltage) / (converterYield * SI(c, &c.Design().Alternator.RegulatedVoltage))
				}
				return sum + SI(c, &c.Design().Alternator.OtherLoad)
			}},
		{Name: "charging_output", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current the alternator can give when hot",
			Formula: "idle: stated output; cruise and full load: the stated output at cruise, but no more than rated output x (1 - 0.25 % for each kelvin of the under-bonnet air above 23 degC); none while cranking",
			Needs:   needs("design.alternator.idle_output", "design.alternator.cruise_output", "design.alternator.rated_output", "design.climate.under_bonnet"),
			Sources: sources(standard("ISO 8854", "rating form of alternators, 23 degC"), practice("0.25 % less for each kelvin")),
			Working: workChargingOutput,
			Compute: func(c *Calc) any {
				a := &c.Design().Alternator
				switch c.point {
				case Cranking:
					return 0.0
				case Idle:
					return SI(c, &a.IdleOutput)
				}
				cruise, rated, around := SI(c, &a.CruiseOutput), SI(c, &a.RatedOutput), SI(c, &c.Design().Climate.UnderBonnet)
				return math.Min(cruise, rated*circuit.AlternatorHeatFactor(around))
			}},
		{Name: "charging_balance", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current left for the battery; negative when the battery must help",
			Formula: "charging output - electrical load",
			Needs:   needs("at.<point>.charging_output", "at.<point>.electrical_load"),
			Sources: budget,
			Working: workChargingBalance,
			Compute: func(c *Calc) any { return c.Value("charging_output") - c.Value("electrical_load") }},
		{Name: "battery_voltage", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage at the battery posts; cranking, at the coldest place and time of use",
			Formula: "cranking: rest voltage - cranking current x cold resistance; running: regulated voltage while the alternator covers what the loads draw at it, else the voltage at which they draw what the alternator gives, and the battery below its rest voltage: (rest - V) / resistance",
			Needs: needs("design.battery.rest_voltage", "battery.cranking_current", "battery.cold_resistance", "battery.resistance",
				"design.alternator.regulated_voltage", "at.<point>.charging_output", "circuit.nominal_current", "circuit.load", "design.alternator.other_load", "design.battery.converter"),
			Sources: sources(standard("SAE J537", "cold cranking rating, 7.2 V"), handbook("Kirchhoff's laws", "any circuit text"),
				practice("the rest of the vehicle draws in proportion to the voltage; what wires lose is not counted here")),
			Working: workBatteryVoltage,
			Compute: batteryVoltage},
		{Name: "supply_voltage", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage the conversion's circuits start from",
			Formula: "that of the battery posts; where the vehicle is of another voltage than 12 V, the output of its converter while the battery holds the converter's lowest input, and nothing below",
			Needs:   needs("at.<point>.battery_voltage", "design.battery.system_voltage", "design.battery.converter"),
			Sources: sources(handbook("Kirchhoff's laws", "any circuit text")),
			Working: workSupplyVoltage,
			Compute: func(c *Calc) any {
				posts, v := c.Value("battery_voltage"), converter(c)
				if v == nil {
					return posts
				}
				output, least := SI(c, &v.OutputVoltage), SI(c, &v.LowestInput)
				if posts < least {
					return 0.0
				}
				return output
			}},
	}
}

// converterYield is the share of its power that a converter passes on, a judgement.
const converterYield = 0.9

// A vehicle between these nominal voltages is a 12 V one: whether it has a converter does not matter.
const (
	twelveFrom = 11.5
	twelveTo   = 14.5
)

// ByClass reports whether values are computed in another way where a fact is of another class, as a nominal voltage is: between
// two points of a range that come out alike, others may lie that do not.
func ByClass(path string) bool { return path == "design.battery.system_voltage" }

// converter is what makes the circuits' 12 V in a vehicle of another voltage, or nil.
func converter(c *Calc) *schema.Converter {
	b := &c.Design().Battery
	nominal := SI(c, &b.SystemVoltage)
	if c.Lacks() || nominal >= twelveFrom && nominal <= twelveTo || !Fitted(c, &b.Converter) {
		return nil
	}
	return &b.Converter.Part
}

// nominalCurrent is what a load draws at its rated voltage. That of the fuel
// pump always comes from its curve, so that no other fact can change it.
func nominalCurrent(c *Calc) any {
	ct := Part[schema.Circuit](c)
	if roleOf(c, ct) == otherLoad {
		return SI(c, &ct.Load.Current)
	}
	curve, setting := pumpCurve(c), SI(c, &c.Design().Regulator.Setting)
	if c.Lacks() {
		return nil
	}
	c.outside(curve, curve.Voltage(), setting, false, true)
	return c.result(curve.Current(setting))
}

// batteryVoltage is the voltage at the posts.
func batteryVoltage(c *Calc) any {
	d := c.Design()
	if c.point == Cranking {
		return sagged(SI(c, &d.Battery.RestVoltage), c.ValueOn(&d.Battery, NoPoint, "cranking_current"), c.ValueOn(&d.Battery, NoPoint, "cold_resistance"))
	}
	regulated, output := SI(c, &d.Alternator.RegulatedVoltage), c.Value("charging_output")
	drawn := drawnAt(c, regulated)
	if c.Lacks() {
		return nil
	}
	if drawn(regulated) <= output {
		return regulated
	}
	rest, ohms := SI(c, &d.Battery.RestVoltage), c.ValueOn(&d.Battery, NoPoint, "resistance")
	if c.Lacks() {
		return nil
	}
	// lacking is what the loads draw beyond what alternator and battery give.
	lacking := func(volts float64) float64 {
		return drawn(volts) - output - math.Max(0, (rest-volts)/ohms)
	}
	low, high := 0.0, regulated
	for range settleHalvings {
		if middle := (low + high) / 2; lacking(middle) > 0 {
			high = middle
		} else {
			low = middle
		}
	}
	return low
}

// settleHalvings bring the posts' voltage to 1e-13 V.
const settleHalvings = 48

// drawnAt reads what all loads that run draw from the posts, by the voltage there.
func drawnAt(c *Calc, regulated float64) func(volts float64) float64 {
	circuits := Items(c, &c.Design().Circuits)
	conductance := SI(c, &c.Design().Alternator.OtherLoad) / regulated
	var constant float64
	var power []powerLoad
	behind := converter(c)
	for i := range circuits {
		load := &circuits[i].Load
		if !draws(c, &circuits[i], c.point) {
			continue
		}
		amps, kind := c.ValueOn(&circuits[i], NoPoint, "nominal_current"), word(c, &load.Kind)
		switch {
		case behind != nil:
			out := SI(c, &behind.OutputVoltage)
			power = append(power, powerLoad{amps * out / converterYield, kneeShare * SI(c, &behind.LowestInput)})
		case kind == "resistive":
			conductance += amps / SI(c, &load.RatedVoltage)
		case kind == "electronic":
			volts := SI(c, &load.RatedVoltage)
			power = append(power, powerLoad{amps * volts, kneeShare * volts})
		default:
			constant += amps
		}
	}
	return func(volts float64) float64 {
		sum := constant + conductance*volts
		for _, p := range power {
			sum += p.amps(volts)
		}
		return sum
	}
}

// powerLoad draws watts down to its knee voltage and below it falls as a resistance does.
type powerLoad struct{ watts, knee float64 }

func (p powerLoad) amps(volts float64) float64 {
	if volts < p.knee {
		return p.watts * volts / (p.knee * p.knee)
	}
	return p.watts / volts
}
