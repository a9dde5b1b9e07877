package derive

import (
	"math"

	"plumbline/engine/physics/ignition"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func ignitionEntries() []Entry {
	geometry := sources(physics("geometry of a four-stroke distributor"))
	cycle := sources(handbook("one spark for each cylinder and charge: in two revolutions of a four-stroke engine, in each of a two-stroke or rotary one", ""))
	coil := sources(handbook("first-order circuit of resistance and inductance", "any circuit text"))
	coilNeeds := needs("ignition.at.<point>.coil_supply", "ignition.at.<point>.firing_interval", "design.ignition.coil", "design.ignition.ballast", "design.ignition.kind",
		"ignition.at.<point>.firing_interval")
	return []Entry{
		{Name: "rotor_misalignment", On: "Ignition", Kind: Quantity, Dimension: quantity.DimAngle,
			Meaning: "largest distributor angle between rotor and terminal when the controller moves the spark, rotor set at mid-range",
			Formula: "(most advance - least advance) / 2 x charges per revolution: the distributor turns once while every cylinder fires once",
			Needs:   needs("design.ignition.least_advance", "design.ignition.most_advance", "design.engine.charges_per_revolution"), Sources: geometry,
			Compute: func(c *Calc) any {
				i := Part[schema.Ignition](c)
				least, most, turns := SI(c, &i.LeastAdvance), SI(c, &i.MostAdvance), chargesOf(c)
				if c.Lacks() {
					return nil
				}
				phasing, err := ignition.RotorPhasing(least, most, turns)
				return c.result(phasing.Misalignment, err)
			}},
		{Name: "rotor_overlap", On: "Ignition", Kind: Quantity, Dimension: quantity.DimAngle,
			Meaning: "misalignment up to which the faces of rotor tip and cap terminal still overlap",
			Formula: "(rotor width + terminal width) / (2 x rotor radius)",
			Needs:   needs("design.ignition.rotor_radius", "design.ignition.rotor_width", "design.ignition.terminal_width"), Sources: geometry,
			Compute: func(c *Calc) any {
				i := Part[schema.Ignition](c)
				radius, rotor, terminal := SI(c, &i.RotorRadius), SI(c, &i.RotorWidth), SI(c, &i.TerminalWidth)
				if c.Lacks() {
					return nil
				}
				return c.result(ignition.OverlapLimit(radius, rotor, terminal))
			}},
		{Name: "firing_interval", On: "Ignition", PerPoint: true, Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "time between two sparks of one coil",
			Formula: "number of coils / (speed x cylinders x charges per revolution)",
			Needs: needs("design.engine.cylinders", "design.engine.charges_per_revolution", "design.ignition.coil.count",
				"design.engine.cranking_speed", "design.engine.idle_speed", "design.engine.cruise_speed", "design.engine.power_speed"),
			Sources: cycle,
			Working: workSparkInterval,
			Compute: func(c *Calc) any { return sparkInterval(c, revolutions(c)) }},
		{Name: "shortest_firing_interval", On: "Ignition", Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "time between two sparks of one coil at the engine's highest speed",
			Formula: "number of coils / (maximum speed x cylinders x charges per revolution)",
			Needs:   needs("design.engine.cylinders", "design.engine.charges_per_revolution", "design.ignition.coil.count", "design.engine.maximum_speed"),
			Sources: cycle,
			Working: workSparkInterval,
			Compute: func(c *Calc) any { return sparkInterval(c, SI(c, &c.Design().Engine.MaximumSpeed)/(2*math.Pi)) }},
		{Name: "coil_supply", On: "Ignition", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage at the coil and its ballast, the lowest where there are several circuits",
			Formula: "load voltage of the circuits with the purpose ignition_coil",
			Needs:   needs("circuit.at.<point>.load_voltage"), Sources: networkSources(),
			Working: workCoilSupply,
			Compute: coilSupply},
		{Name: "dwell_share", On: "Ignition", Dimension: quantity.DimShare,
			Meaning: "share of the time between two sparks of a coil for which its current flows, at the engine's highest speed; above 100 % it cannot",
			Formula: "dwell fraction, or dwell time / shortest firing interval",
			Needs:   needs("design.ignition.coil.dwell_fraction or dwell_time", "ignition.shortest_firing_interval"),
			Sources: cycle,
			Working: workDwellShare,
			Compute: func(c *Calc) any {
				share, seconds, timed := dwell(c)
				if !timed {
					return share
				}
				interval := c.Value("shortest_firing_interval")
				if c.Lacks() {
					return nil
				}
				return seconds / interval
			}},
		{Name: "coil_current", On: "Ignition", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "coil current when the spark is called",
			Formula: "((V - driver drop) / R)(1 - exp(-t R / L)), V of the coil's circuit, R of the coil at its body temperature and of the ballast, t = dwell fraction x firing interval, or the dwell time where the interval leaves it; a driver holds it at its limit, points do not",
			Needs:   coilNeeds, Sources: coil,
			Working: workCoilCurrent,
			Compute: func(c *Calc) any {
				current, _ := coilCurrent(c, c.point, c.Value("firing_interval"))
				return current
			}},
		{Name: "coil_current_at_maximum_speed", On: "Ignition", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "coil current when the spark is called at the engine's highest speed, where there is least time",
			Formula: "as the coil current at full load, with the shortest firing interval",
			Needs:   append(needs("ignition.shortest_firing_interval", "ignition.at.full_load.coil_supply"), coilNeeds[1:4]...), Sources: coil,
			Working: workCoilCurrent,
			Compute: func(c *Calc) any {
				current, _ := coilCurrent(c, FullLoad, c.Value("shortest_firing_interval"))
				return current
			}},
		{Name: "coil_energy_at_maximum_speed", On: "Ignition", Kind: Quantity, Dimension: quantity.DimEnergy,
			Meaning: "energy in the coil when the spark is called at the engine's highest speed",
			Formula: "inductance x coil current there^2 / 2",
			Needs:   needs("design.ignition.coil.inductance", "ignition.coil_current_at_maximum_speed", "design.ignition.kind"), Sources: coil,
			Working: workCoilEnergy,
			Compute: func(c *Calc) any { return storedEnergy(c, "coil_current_at_maximum_speed") }},
		{Name: "coil_energy", On: "Ignition", PerPoint: true, Kind: Quantity, Dimension: quantity.DimEnergy,
			Meaning: "energy in the coil when the spark is called",
			Formula: "inductance x coil current^2 / 2",
			Needs:   needs("design.ignition.coil.inductance", "ignition.at.<point>.coil_current"), Sources: coil,
			Working: workCoilEnergy,
			Compute: func(c *Calc) any { return storedEnergy(c, "coil_current") }},
		{Name: "coil_fill", On: "Ignition", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "coil current reached over the current it would settle at",
			Formula: "coil current / least of (V - driver drop) / R and the driver's limit; none where the driver takes all of V",
			Needs:   coilNeeds, Sources: coil,
			Compute: func(c *Calc) any {
				current, final := coilCurrent(c, c.point, c.Value("firing_interval"))
				if c.Lacks() {
					return nil
				}
				if final == 0 {
					return 0.0
				}
				return current / final
			}},
		{Name: "coil_supply_running", On: "Ignition", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "mean voltage at the coil's positive terminal with the engine running",
			Formula: "supply x coil / (coil + ballast) for the share of dwell (at idle where a dwell time is stated), the supply for the rest; supply: regulated voltage, or the converter's output where the vehicle is of another voltage",
			Needs: needs("design.alternator.regulated_voltage", "design.battery.system_voltage", "design.battery.converter", "design.ignition.ballast", "design.ignition.coil.resistance",
				"design.ignition.coil.dwell_fraction or dwell_time"),
			Sources: sources(handbook("voltage divider", "any circuit text")),
			Compute: func(c *Calc) any {
				i := Part[schema.Ignition](c)
				supply := behindConverter(c, &c.Design().Alternator.RegulatedVoltage)
				if !Fitted(c, &i.Ballast) {
					return supply
				}
				ballast, coil := SI(c, &i.Ballast.Part.Resistance), SI(c, &i.Coil.Resistance)
				share, seconds, timed := dwell(c)
				if timed {
					share = seconds / c.ValueOn(i, Idle, "firing_interval")
				}
				if c.Lacks() {
					return nil
				}
				return c.result(ignition.MeanCoilVolts(supply, ballast, coil, math.Min(share, 1)))
			}},
	}
}

// sparkInterval is the time between two sparks of one coil, s, at a speed in rev/s.
func sparkInterval(c *Calc, turns float64) any {
	cylinders, coils, charges := Get(c, &c.Design().Engine.Cylinders), Get(c, &Part[schema.Ignition](c).Coil.Count), chargesOf(c)
	if c.Lacks() {
		return nil
	}
	return c.result(ignition.SparkInterval(turns, cylinders, charges)) * float64(coils)
}

// storedEnergy is that of the coil at one of its currents, J.
func storedEnergy(c *Calc, current string) any {
	henries, amps := SI(c, &Part[schema.Ignition](c).Coil.Inductance), c.Value(current)
	if c.Lacks() {
		return nil
	}
	return c.result(ignition.CoilEnergy(henries, amps))
}

// coilSupply is the voltage at the coil's terminals.
func coilSupply(c *Calc) any {
	circuits, least := Items(c, &c.Design().Circuits), math.Inf(1)
	for i := range circuits {
		if word(c, &circuits[i].Purpose) == "ignition_coil" {
			least = math.Min(least, c.ValueOn(&circuits[i], c.point, "load_voltage"))
		}
	}
	if math.IsInf(least, 1) && !c.Lacks() {
		c.unreachable("no circuit has the purpose ignition_coil: describe the coil's supply")
	}
	return least
}

// dwell is how long the coil's current flows: a share of the time between sparks, or when timed so many seconds.
func dwell(c *Calc) (share, seconds float64, timed bool) {
	coil := &Part[schema.Ignition](c).Coil
	fraction, byShare := Try(c, &coil.DwellFraction)
	length, byTime := Try(c, &coil.DwellTime)
	switch {
	case byShare && byTime:
		c.unreachable("state dwell_fraction or dwell_time, not both")
	case !byShare && !byTime:
		c.Miss(coil.DwellFraction.Path())
	}
	return fraction.SI(), length.SI(), byTime
}

// copperPerKelvin is the temperature coefficient of copper's resistance, on that at 20 degC.
const copperPerKelvin = 0.00393

// coilCurrent is the current at the end of the dwell and the one it settles at,
// with the supply of an operating point and a time between sparks, s.
func coilCurrent(c *Calc, at Point, interval float64) (current, final float64) {
	i := Part[schema.Ignition](c)
	kind := word(c, &i.Kind)
	if kind == "capacitive_discharge" {
		c.unreachable("a capacitive discharge ignition does not store its energy in the coil")
	}
	volts := c.ValueOn(i, at, "coil_supply") - SI(c, &i.Coil.DriverDrop)
	ohms, henries := SI(c, &i.Coil.Resistance), SI(c, &i.Coil.Inductance)
	ohms *= 1 + copperPerKelvin*(SI(c, &i.Coil.BodyTemperature)-workshop)
	share, seconds, timed := dwell(c)
	if timed {
		seconds = math.Min(seconds, interval)
	} else {
		seconds = share * interval
	}
	if Fitted(c, &i.Ballast) {
		bypassed := at == Cranking && Get(c, &i.Ballast.Part.BypassedInStart)
		if !bypassed {
			ohms += SI(c, &i.Ballast.Part.Resistance)
		}
	}
	limit := math.Inf(1)
	if kind != "points" {
		limit = SI(c, &i.Coil.CurrentLimit)
	}
	if c.Lacks() {
		return 0, 1
	}
	volts = math.Max(volts, 0)
	reached := c.result(ignition.CoilCurrent(volts, ohms, henries, seconds))
	return math.Min(reached, limit), math.Min(volts/ohms, limit)
}
