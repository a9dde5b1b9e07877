package derive

import (
	"math"

	"plumbline/engine/physics/mechanics"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Clearances in a hole, judgements: bundle to lining, connector to edge.
const (
	bundleClearance    = 3e-3 // m
	connectorClearance = 1e-3 // m
)

func passageEntries() []Entry {
	bundles := sources(practice("bundle estimate with factor 1.2; 3 mm and 1 mm of clearance are a judgement"))
	geometry := sources(physics("geometry"))
	return []Entry{
		{Name: "bundle", On: "Passage", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "diameter of what passes the hole",
			Formula: "stated bundle diameter, or 1.2 sqrt(sum of n d^2) over the wires",
			Needs:   needs("passage.bundle_diameter or wires"), Sources: bundles,
			Working: workBundle,
			Compute: bundleOf},
		{Name: "connector_diagonal", On: "Passage", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "diagonal of the largest connector that must pass",
			Formula: "diagonal of the named connector; nothing when none must pass",
			Needs:   needs("passage.largest_connector", "connector.diagonal"), Sources: geometry,
			Working: workPassingDiagonal,
			Compute: func(c *Calc) any { return diagonalOf(c, Part[schema.Passage](c)) }},
		{Name: "hole_needed", On: "Passage", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "least diameter of the hole in the panel",
			Formula: "larger of bundle + 3 mm + grommet (hole - grommet bore, no less than nothing) and connector diagonal + 1 mm; a grommet that is not split adds to the connector's hole too; no other lining adds",
			Needs:   needs("passage.bundle", "passage.connector_diagonal", "passage.lining", "passage.hole", "passage.grommet_bore"),
			Sources: bundles,
			Working: workHoleNeeded,
			Compute: holeNeeded},
		{Name: "diagonal", On: "Connector", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "diagonal of the connector's leading face",
			Formula: "sqrt(width^2 + height^2)",
			Needs:   needs("connector.width", "connector.height"), Sources: geometry,
			Working: workConnectorDiagonal,
			Compute: func(c *Calc) any {
				k := Part[schema.Connector](c)
				width, height := SI(c, &k.Width), SI(c, &k.Height)
				if c.Lacks() {
					return nil
				}
				return c.result(mechanics.ConnectorDiagonal(width, height))
			}},
		{Name: "open_cavities", On: "Connector", Kind: Number,
			Meaning: "cavities with neither wire nor plug",
			Formula: "cavities - wired - plugged",
			Needs:   needs("connector.cavities", "connector.wired", "connector.plugged"), Sources: sources(practice("count")),
			Working: workOpenCavities,
			Compute: func(c *Calc) any {
				k := Part[schema.Connector](c)
				return float64(Get(c, &k.Cavities) - Get(c, &k.Wired) - Get(c, &k.Plugged))
			}},
		{Name: "bend_needed", On: "Harness", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "least bend radius of the bundle",
			Formula: "10 x bundle diameter",
			Needs:   needs("design.harness.bundle_diameter"),
			Sources: sources(handbook("Army TM 1-1500-204-23-4", "wire bend radius")),
			Working: workBend,
			Compute: func(c *Calc) any {
				diameter := SI(c, &Part[schema.Harness](c).BundleDiameter)
				if c.Lacks() {
					return nil
				}
				return c.result(mechanics.BendRadius(diameter, mechanics.BendMultiple))
			}},
	}
}

// bundleOf is the diameter stated, or that of the wires stated in its place.
func bundleOf(c *Calc) any {
	p := Part[schema.Passage](c)
	diameter, measured := Try(c, &p.BundleDiameter)
	switch {
	case measured && p.Wires.Known():
		c.unreachable("state bundle_diameter or wires, not both")
		return nil
	case measured:
		return diameter.SI()
	case !p.Wires.Known():
		c.Miss(p.BundleDiameter.Path())
		return nil
	}
	items := Items(c, &p.Wires)
	var wires []mechanics.Wires
	for i := range items {
		wires = append(wires, mechanics.Wires{Count: Get(c, &items[i].Count), Diameter: SI(c, &items[i].OutsideDiameter)})
	}
	if c.Lacks() {
		return nil
	}
	return c.result(mechanics.BundleDiameter(wires...))
}

// diagonalOf finds the connector a passage names.
func diagonalOf(c *Calc, p *schema.Passage) any {
	name := Get(c, &p.LargestConnector)
	if c.Lacks() {
		return nil
	}
	if name == "nothing" {
		return 0.0
	}
	if k := named(c, &c.Design().Connectors, name, func(k *schema.Connector) *schema.Fact[string] { return &k.Name }); k != nil {
		return c.ValueOn(k, NoPoint, "diagonal")
	}
	if !c.Lacks() {
		c.unreachable("passage %s must pass the connector %q, which is not among the connectors", p.Path(), name)
	}
	return nil
}

func holeNeeded(c *Calc) any {
	p := Part[schema.Passage](c)
	bundle, diagonal, lining := c.Value("bundle"), c.Value("connector_diagonal"), word(c, &p.Lining)
	wall := 0.0
	if lining == "grommet" || lining == "split_grommet" {
		wall = math.Max(SI(c, &p.Hole)-SI(c, &p.GrommetBore), 0) / 2
	}
	if c.Lacks() {
		return nil
	}
	hole := c.result(mechanics.BundleHole(bundle, wall, bundleClearance))
	if diagonal > 0 {
		connector := diagonal + connectorClearance
		if lining == "grommet" {
			connector += 2 * wall
		}
		hole = math.Max(hole, connector)
	}
	return hole
}
