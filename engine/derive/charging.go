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
			Formula: "stated load current; a fuel pump's is that of its curve at the regulator's setting",
			Needs:   needs("circuit.load.kind", "circuit.load.current", "design.pump.curve", "design.regulator.setting"),
			Sources: sources(practice("rated current as printed on the part")),
			Compute: nominalCurrent},
		{Name: "electrical_load", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current everything on the vehicle draws at its rated voltage",
			Formula: "nominal currents of the circuits that run at the point + other load; not modelled while cranking",
			Needs:   needs("circuit.nominal_current", "circuit.load.runs_at", "design.alternator.other_load"),
			Sources: budget,
			Compute: func(c *Calc) any {
				if !c.notCranking("the electrical load") {
					return nil
				}
				circuits := Items(c, &c.Design().Circuits)
				sum := SI(c, &c.Design().Alternator.OtherLoad)
				for i := range circuits {
					if runsAt(c, &circuits[i].Load.RunsAt, c.point) {
						sum += c.ValueOn(&circuits[i], NoPoint, "nominal_current")
					}
				}
				return sum
			}},
		{Name: "charging_output", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current the alternator can give",
			Formula: "stated output at idle or at cruise; at full load that at cruise, which is the less; none while cranking",
			Needs:   needs("design.alternator.idle_output", "design.alternator.cruise_output"),
			Sources: budget,
			Compute: func(c *Calc) any {
				switch c.point {
				case Cranking:
					return 0.0
				case Idle:
					return SI(c, &c.Design().Alternator.IdleOutput)
				}
				return SI(c, &c.Design().Alternator.CruiseOutput)
			}},
		{Name: "charging_balance", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current left for the battery; negative when the battery must help",
			Formula: "charging output - electrical load",
			Needs:   needs("at.<point>.charging_output", "at.<point>.electrical_load"),
			Sources: budget,
			Compute: func(c *Calc) any { return c.Value("charging_output") - c.Value("electrical_load") }},
		{Name: "battery_voltage", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage at the battery posts",
			Formula: "cranking: rest voltage - starter current x internal resistance of a cold battery ((rest - 7.2 V) / cold cranking current); running: regulated voltage while the alternator covers the load, else rest voltage - what is lacking x internal resistance",
			Needs: needs("design.battery.rest_voltage", "design.battery.cold_cranking", "design.battery.starter_current",
				"design.alternator.regulated_voltage", "at.<point>.charging_balance"),
			Sources: sources(standard("SAE J537", "cold cranking rating, 7.2 V"), practice("the drop to 7.2 V is taken as resistance")),
			Compute: batteryVoltage},
	}
}

// nominalCurrent is what a load draws at its rated voltage. That of the fuel
// pump always comes from its curve, so that no other fact can change it.
func nominalCurrent(c *Calc) any {
	load := &Part[schema.Circuit](c).Load
	if word(c, &load.Kind) != "fuel_pump" {
		return SI(c, &load.Current)
	}
	curve, setting := pumpCurve(c), SI(c, &c.Design().Regulator.Setting)
	if c.Lacks() {
		return nil
	}
	c.outside(curve, curve.Voltage(), setting, false, true)
	return c.result(curve.Current(setting))
}

// batteryVoltage is the voltage all circuits start from.
func batteryVoltage(c *Calc) any {
	d := c.Design()
	if c.point == Cranking {
		return sagged(c, SI(c, &d.Battery.StarterCurrent))
	}
	regulated, balance := SI(c, &d.Alternator.RegulatedVoltage), c.Value("charging_balance")
	if c.Lacks() {
		return nil
	}
	if balance >= 0 {
		return regulated
	}
	// A battery that helps lies below the regulator's voltage.
	sag, ok := sagged(c, -balance).(float64)
	if !ok {
		return nil
	}
	return math.Min(sag, regulated)
}

// sagged is the voltage of a battery that gives a current.
func sagged(c *Calc, amps float64) any {
	b := &c.Design().Battery
	rest, cca := SI(c, &b.RestVoltage), SI(c, &b.ColdCranking)
	if c.Lacks() {
		return nil
	}
	return rest - amps*c.result(circuit.CrankingResistance(cca, rest))
}
