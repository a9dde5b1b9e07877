package derive

import (
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func wireEntries() []Entry {
	copper := sources(standard("ASTM B258", "wire diameters"), standard("IEC 60228", "class 5 maximum resistance"),
		handbook("NBS Handbook 100, copper wire tables", "temperature coefficient"),
		standard("ASTM B566", "class 10A, seen second hand"))
	return []Entry{
		{Name: "resistance", On: "Wire", Kind: Quantity, Dimension: quantity.DimResistance,
			Meaning: "resistance of the wire at the temperature around it",
			Formula: "ohm per metre of its size x length x (1 + 0.00393 (T - 20 degC)), T of the air around it; copper-clad aluminium / 0.629; heating by its own current is not counted, its joints apart",
			Needs:   needs("wire.size", "wire.length", "wire.ambient", "wire.conductor"),
			Sources: copper,
			Working: workWireResistance,
			Compute: func(c *Calc) any {
				w := Part[schema.Wire](c)
				size, length, ambient, kind := SI(c, &w.Size), SI(c, &w.Length), SI(c, &w.Ambient), word(c, &w.Conductor)
				if c.Lacks() {
					return nil
				}
				conductor, err := conductorOf(size, kind)
				if err != nil {
					c.Unreachable(err)
					return nil
				}
				return c.result(conductor.Resistance(length, ambient))
			}},
		{Name: "ampacity", On: "Wire", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current the wire carries for ever where it lies",
			Formula: "table value by size and insulation class, below 18 AWG by rows that go on, x sqrt((class - ambient) / (class - 30 degC)) x bundle factor; copper-clad aluminium x 0.79",
			Needs:   needs("wire.size", "wire.insulation_rating", "wire.ambient", "wire.bundle_count", "wire.conductor"),
			Sources: sources(law("33 CFR 183.425", "Table 5 and its notes; for boats, borrowed"),
				practice("square-root rule for the ambient; bundle factors below 50 V; currents of wires below 18 AWG"),
				physics("the same heat in a conductor of 62.9 percent of the conductivity")),
			Working: workWireAmpacity,
			Compute: func(c *Calc) any {
				w := Part[schema.Wire](c)
				size, class, ambient := SI(c, &w.Size), SI(c, &w.InsulationRating), SI(c, &w.Ambient)
				count, kind := Get(c, &w.BundleCount), word(c, &w.Conductor)
				if c.Lacks() {
					return nil
				}
				return c.result(circuit.DeratedAmpacity(size, class, ambient, count)) * metalFactor(kind)
			}},
		{Name: "resistance", On: "Ground", Kind: Quantity, Dimension: quantity.DimResistance,
			Meaning: "resistance of the ground path, its end joints included",
			Formula: "ohm per metre of its size x length x (1 + 0.00393 (T - 20 degC)), T of the air around it, + joint resistance",
			Needs:   needs("ground.size", "ground.length", "ground.ambient", "ground.joint_resistance"),
			Sources: copper,
			Compute: func(c *Calc) any {
				g := Part[schema.Ground](c)
				size, length, ambient, joints := SI(c, &g.Size), SI(c, &g.Length), SI(c, &g.Ambient), SI(c, &g.JointResistance)
				if c.Lacks() {
					return nil
				}
				conductor, err := circuit.ConductorOfArea(size)
				if err != nil {
					c.Unreachable(err)
					return nil
				}
				return c.result(conductor.Resistance(length, ambient)) + joints
			}},
	}
}

const cladAluminium = "copper_clad_aluminium"

// conductorOf chooses the resistance of a conductor by area (m2) and kind.
func conductorOf(area float64, kind string) (circuit.Conductor, error) {
	if kind == "tinned_stranded_copper" {
		if conductor, err := circuit.ClassFiveConductor(area, circuit.Tinned); err == nil {
			return conductor, nil
		}
	}
	conductor, err := circuit.ConductorOfArea(area)
	if kind == cladAluminium {
		conductor = conductor.Clad()
	}
	return conductor, err
}

// metalFactor is the current a conductor of a kind carries over that of copper.
func metalFactor(kind string) float64 {
	if kind == cladAluminium {
		return circuit.CladFactor()
	}
	return 1
}

func circuitEntries() []Entry {
	return []Entry{
		{Name: "resistance", On: "Circuit", Kind: Quantity, Dimension: quantity.DimResistance,
			Meaning: "resistance of the circuit's own way, feed and return",
			Formula: "sum over fuse, relay contact, feed wires, return wires and their joints; ground points and the circuit it branches from apart",
			Needs:   needs("circuit.fuse.resistance", "circuit.relay.contact_resistance", "circuit.feed_wires", "circuit.return_wires", "wire.resistance", "wire.joint_resistance"),
			Sources: sources(handbook("resistances in series", "any circuit text")),
			Compute: func(c *Calc) any {
				ct := Part[schema.Circuit](c)
				return feedOhms(c, ct) + wireSum(c, &ct.ReturnWires)
			}},
		{Name: "smallest_wire", On: "Circuit", Kind: Quantity, Dimension: quantity.DimWireSize,
			Meaning: "smallest of the feed wires",
			Formula: "least cross-section among the feed wires",
			Needs:   needs("circuit.feed_wires", "wire.size"),
			Sources: sources(practice("the thinnest wire of a circuit decides its fuse")),
			Compute: func(c *Calc) any {
				return leastOver(c, func(w *schema.Wire) float64 { return SI(c, &w.Size) })
			}},
		{Name: "ampacity", On: "Circuit", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current the weakest feed wire carries for ever",
			Formula: "least ampacity among the feed wires",
			Needs:   needs("circuit.feed_wires", "wire.ampacity"),
			Sources: sources(law("33 CFR 183.425", "Table 5 and its notes; for boats, borrowed")),
			Working: workCircuitAmpacity,
			Compute: func(c *Calc) any {
				return leastOver(c, func(w *schema.Wire) float64 { return c.ValueOn(w, NoPoint, "ampacity") })
			}},
	}
}

// connectorEntries are what passes a plug.
func connectorEntries() []Entry {
	return []Entry{{Name: "circuit_current", On: "Connector", Kind: Quantity, Dimension: quantity.DimCurrent,
		Meaning: "largest current of a circuit that passes through the connector",
		Formula: "largest steady current among the circuits named; none where none is",
		Needs:   needs("connector.circuits", "circuit.steady_current"),
		Sources: sources(physics("all of a circuit's current passes its terminal")),
		Compute: func(c *Calc) any {
			circuits, largest := Items(c, &c.Design().Circuits), 0.0
			for _, fact := range Items(c, &Part[schema.Connector](c).Circuits) {
				name, found := Get(c, &fact), false
				for i := range circuits {
					if Get(c, &circuits[i].Name) == name {
						found, largest = true, math.Max(largest, c.ValueOn(&circuits[i], NoPoint, "steady_current"))
					}
				}
				if !found && !c.Lacks() {
					c.unreachable("%s names %q, which is not among the circuits", fact.Path(), name)
				}
			}
			return largest
		}}}
}

// leastOver is the least of a figure over the feed wires of the circuit.
func leastOver(c *Calc, figure func(*schema.Wire) float64) any {
	ct := Part[schema.Circuit](c)
	wires, least := Items(c, &ct.FeedWires), math.Inf(1)
	for i := range wires {
		least = math.Min(least, figure(&wires[i]))
	}
	if len(wires) == 0 && !c.Lacks() {
		c.unreachable("%s has no feed wires", ct.Path())
	}
	return least
}
