package derive

import (
	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// chargeCableEntries are those of the wire from alternator to battery, of copper and by itself.
func chargeCableEntries() []Entry {
	table := sources(law("33 CFR 183.425", "Table 5 and its notes; for boats, borrowed"), practice("square-root rule for the ambient"))
	return []Entry{
		{Name: "ampacity", On: "ChargeCable", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current the charge cable carries for ever where it lies",
			Formula: "table value by size and insulation class x sqrt((class - ambient) / (class - 30 degC))",
			Needs:   needs("charge_cable.size", "charge_cable.insulation_rating", "charge_cable.ambient"), Sources: table,
			Compute: func(c *Calc) any {
				w := Part[schema.ChargeCable](c)
				size, class, ambient := SI(c, &w.Size), SI(c, &w.InsulationRating), SI(c, &w.Ambient)
				if c.Lacks() {
					return nil
				}
				return c.result(circuit.DeratedAmpacity(size, class, ambient, 1))
			}},
		{Name: "fuse_ceiling", On: "ChargeCable", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "largest fuse the charge cable may have",
			Formula: "150 % of the table ampacity (30 degC)",
			Needs:   needs("charge_cable.size", "charge_cable.insulation_rating"), Sources: sources(law("33 CFR 183.455(c)", "for boats, borrowed")),
			Compute: func(c *Calc) any {
				w := Part[schema.ChargeCable](c)
				size, class := SI(c, &w.Size), SI(c, &w.InsulationRating)
				if c.Lacks() {
					return nil
				}
				return c.result(circuit.Ampacity(size, class)) * circuit.CFRFuseCeiling
			}},
		{Name: "drop", On: "ChargeCable", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage the charge cable loses at the alternator's rated output",
			Formula: "rated output x ohm per metre of its size x length x (1 + 0.00393 (T - 20 degC)), T of the air around it; fuse and terminals are not counted",
			Needs:   needs("design.alternator.rated_output", "charge_cable.size", "charge_cable.length", "charge_cable.ambient"),
			Sources: sources(standard("ASTM B258", "wire diameters"), standard("IEC 60228", "class 5 maximum resistance")),
			Compute: func(c *Calc) any {
				w := Part[schema.ChargeCable](c)
				amps, size, length, ambient := SI(c, &c.Design().Alternator.RatedOutput), SI(c, &w.Size), SI(c, &w.Length), SI(c, &w.Ambient)
				if c.Lacks() {
					return nil
				}
				conductor, err := circuit.ConductorOfArea(size)
				if err != nil {
					c.Unreachable(err)
					return nil
				}
				return amps * c.result(conductor.Resistance(length, ambient))
			}},
	}
}
