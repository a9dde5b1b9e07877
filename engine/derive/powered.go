package derive

import (
	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// island solves the network an island of circuits forms at a point; that of
// the fuel pump comes with the solved fuel supply.
func island(c *Calc, p Point, number int, t turn) *circuit.Solution {
	return Memo(c, "island", number+int(t)*turnStride, c.Design(), p, func(c *Calc) *circuit.Solution {
		parts := islandParts(c, p, number, t)
		if c.Lacks() {
			return nil
		}
		if len(parts.pumps) > 0 {
			s := supplyInTurn(c, p, t)
			if c.Lacks() {
				return nil
			}
			c.Unreachable(s.failure)
			return s.powers[number]
		}
		solution, err := parts.solve()
		c.Unreachable(err)
		return solution
	})
}

// powered is one circuit in its solved network.
type powered struct {
	supply, load, current float64
	// feed and back are the drops before and after the load.
	feed, back float64
}

// poweredAt solves the circuit; a circuit that does not run at the point has
// no voltages there.
func poweredAt(c *Calc, ct *schema.Circuit) powered {
	t := turnTo(c, ct)
	w := wiringIn(c, c.point, t)
	if c.Lacks() {
		return powered{}
	}
	i := indexOf(w.circuits, ct)
	if !w.runs[i] {
		c.notThere(ct.Load.RunsAt.Path())
		return powered{}
	}
	solution := island(c, c.point, w.island[i], t)
	supply := c.ValueAt(c.point, "supply_voltage")
	if c.Lacks() {
		return powered{}
	}
	names := c.session.labelsOf(i)
	positive := c.result(solution.Voltage(names.feedEnd))
	negative := c.result(solution.Voltage(names.loadEnd))
	out := powered{supply: supply, load: positive - negative, feed: supply - positive, back: negative}
	// A load of no current has no element.
	if branch, err := solution.Branch(names.load); err == nil {
		out.current = branch.Amps
	}
	return out
}

// poweredEntry makes an entry read off a circuit in its solved network.
func poweredEntry(name string, d quantity.Dimension, meaning, formula string, read func(powered) float64) Entry {
	return Entry{Name: name, On: "Circuit", PerPoint: true, Kind: Quantity, Dimension: d, Meaning: meaning, Formula: formula,
		Needs:   networkNeeds(),
		Sources: networkSources(),
		Compute: func(c *Calc) any { return read(poweredAt(c, Part[schema.Circuit](c))) }}
}

func networkNeeds() []string {
	return needs("at.<point>.supply_voltage", "design.circuits", "wire.resistance", "wire.joint_resistance", "circuit.fuse.resistance", "circuit.relay.contact_resistance", "circuit.load", "design.grounds", "ground.resistance",
		"at.<point>.pump_current", "design.tank_selector")
}

func networkSources() []Source {
	return sources(handbook("Kirchhoff's laws by nodal analysis", "any circuit text"),
		practice("motors draw their rated current"))
}

func poweredEntries() []Entry {
	return []Entry{
		worked(workLoadVoltage, poweredEntry("load_voltage", quantity.DimVoltage, "voltage at the load's terminals",
			"supply voltage - voltage drop", func(p powered) float64 { return p.load })),
		worked(workFeedDrop, poweredEntry("feed_drop", quantity.DimVoltage, "voltage lost from the supply to the load",
			"sum of current x resistance over fuses, relay contacts, wires and joints of the feed, those of the circuit it branches from included", func(p powered) float64 { return p.feed })),
		worked(workReturnDrop, poweredEntry("return_drop", quantity.DimVoltage, "voltage lost from the load to battery negative",
			"sum of current x resistance over return wires, their joints and ground paths, with the current of all that share them", func(p powered) float64 { return p.back })),
		worked(workVoltageDrop, poweredEntry("voltage_drop", quantity.DimVoltage, "voltage lost in the whole circuit",
			"feed drop + return drop", func(p powered) float64 { return p.feed + p.back })),
		{Name: "load_current", On: "Circuit", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current of the load at its real voltage; none where it does not run",
			Formula: "resistive: stated current x voltage / rated voltage; electronic: rated power / voltage; motor, constant current: as stated; fuel pump: by its curve",
			Needs:   networkNeeds(), Sources: networkSources(),
			Working: workLoadCurrent,
			Compute: func(c *Calc) any {
				ct := Part[schema.Circuit](c)
				if !runsAt(c, &ct.Load.RunsAt, c.point) && !c.Lacks() {
					return 0.0
				}
				return poweredAt(c, ct).current
			}},
		{Name: "drop", On: "Ground", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage over the ground path; negative when current runs the other way",
			Formula: "current x resistance of the path", Needs: networkNeeds(), Sources: networkSources(),
			Working: workGroundDrop,
			Compute: func(c *Calc) any { return groundBranch(c).Volts }},
		{Name: "current", On: "Ground", PerPoint: true, Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current through the ground path towards the battery",
			Formula: "Kirchhoff's laws over all ground paths, the starter's current included while cranking, the alternator's while running not", Needs: networkNeeds(), Sources: networkSources(),
			Compute: func(c *Calc) any { return groundBranch(c).Amps }},
	}
}

// groundBranch is the solved state of a ground path.
func groundBranch(c *Calc) circuit.Branch {
	g := Part[schema.Ground](c)
	solution := island(c, c.point, groundIsland, 0)
	if c.Lacks() {
		return circuit.Branch{}
	}
	grounds := Items(c, &c.Design().Grounds)
	for i := range grounds {
		if &grounds[i] == g {
			b, err := solution.Branch(groundName(i))
			c.Unreachable(err)
			return b
		}
	}
	return circuit.Branch{}
}

func offsetEntries() []Entry {
	return []Entry{
		{Name: "controller_voltage", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage between the controller's supply and its ground",
			Formula: "load voltage of the circuit with the purpose controller_power", Needs: needs("circuit.at.<point>.load_voltage"), Sources: networkSources(),
			Working: workController,
			Compute: func(c *Calc) any { return controllerValue(c, "load_voltage") }},
		{Name: "controller_ground_offset", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage of the controller's ground over battery negative",
			Formula: "return drop of the circuit with the purpose controller_power", Needs: needs("circuit.at.<point>.return_drop"), Sources: networkSources(),
			Working: workController,
			Compute: func(c *Calc) any { return controllerValue(c, "return_drop") }},
		{Name: "sensor_ground_offset", On: "Design", PerPoint: true, Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage of the sensors' ground over the controller's ground, which adds to every sensor reading",
			Formula: "voltage of the point the sensor ground ends at - controller ground offset; nothing at the controller's own pin; what the alternator's current lowers the engine by is not counted",
			Needs:   needs("design.sensors.sensor_ground", "at.<point>.controller_ground_offset", "ground.point"), Sources: networkSources(),
			Compute: sensorOffset},
	}
}

// controllerValue reads a value of the one circuit that powers the controller.
func controllerValue(c *Calc, name string) any {
	circuits, found := Items(c, &c.Design().Circuits), -1
	for i := range circuits {
		if word(c, &circuits[i].Purpose) != "controller_power" {
			continue
		}
		if found >= 0 {
			c.unreachable("%s and %s both power the controller: one is expected", circuits[found].Path(), circuits[i].Path())
		}
		found = i
	}
	if c.Lacks() {
		return nil
	}
	if found < 0 {
		c.unreachable("no circuit has the purpose controller_power: describe the controller's supply")
		return nil
	}
	return c.ValueOn(&circuits[found], c.point, name)
}

func sensorOffset(c *Calc) any {
	place := word(c, &c.Design().Sensors.SensorGround)
	if c.Lacks() {
		return nil
	}
	if place == "controller_pin" {
		return 0.0
	}
	controller := c.Value("controller_ground_offset")
	if place == "battery_negative" {
		return -controller
	}
	point := map[string]string{"engine": "engine_block", "chassis": "chassis"}[place]
	solution := island(c, c.point, groundIsland, 0)
	grounds := Items(c, &c.Design().Grounds)
	name := ""
	for i := range grounds {
		have := Get(c, &grounds[i].Name)
		if word(c, &grounds[i].Point) != point || have == name {
			continue
		}
		if name != "" {
			c.unreachable("two grounds, %q and %q, are the point %s: the sensor ground is at one of them", name, have, point)
		}
		name = have
	}
	if c.Lacks() {
		return nil
	}
	if name == "" {
		c.unreachable("the sensor ground ends at the %s, but no ground has the point %s", place, point)
		return nil
	}
	return c.result(solution.Voltage(pointNode(name))) - controller
}
