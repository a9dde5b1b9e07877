package derive

import (
	"math"

	"plumbline/engine/physics/mechanics"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// lineJointEntries are the values of joints. They belong to the end that names the
// joint; of other ends they are absent.
func lineJointEntries() []Entry {
	ends := needs("run.inlet.kind", "run.outlet.kind", "design.surge_tank", "design.surge_tank.return_to", "design.regulator.style")
	fitting := sources(practice("a hose goes over a spigot, a nut draws a flare against a cone, a male thread screws into a female one"))
	return []Entry{
		{Name: "line", On: "LineEnd", Kind: Text, Words: []string{suctionLine, feedLine, returnLine},
			Meaning: "the fuel line the joint is part of",
			Formula: "the line in whose runs its piece stands",
			Needs:   needs("design.suction.runs", "design.feed.runs", "design.return_line.runs"),
			Sources: sources(practice("suction before the pump, feed from pump to throttle body, return from the regulator to the tank")),
			Compute: func(c *Calc) any {
				if j := joint(c); j != nil {
					return j.Line
				}
				return nil
			}},
		{Name: "fit", On: "LineEnd", Kind: Text, Words: fits(),
			Meaning: "how the two ends of the joint go together; no_fit when they do not",
			Formula: "by what the two ends join by: hose and spigot, nut and cone, male and female thread, banjo and female thread, quick connector and its pipe, compression fitting and plain tube, two soldered ends",
			Needs:   ends, Sources: fitting,
			Compute: func(c *Calc) any {
				_, before, after := kinds(c)
				if c.Lacks() {
					return nil
				}
				return fitOf(before, after)
			}},
		{Name: "spigot_outside", On: "LineEnd", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "outside diameter of the spigot in a joint of hose and spigot",
			Formula: "of a tube its own outside diameter, of other pieces and ports the size of the spigot",
			Needs:   needs("run.outside_diameter", "run.outlet.size", "run.inlet.size"), Sources: fitting,
			Compute: func(c *Calc) any { return spigotOutside(c) }},
		{Name: "hose_bore", On: "LineEnd", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "bore of the hose in a joint of hose and spigot",
			Formula: "bore of the hose",
			Needs:   needs("run.bore"), Sources: fitting,
			Compute: func(c *Calc) any {
				if hose, _, ok := hoseAndSpigot(c); ok && hose.ofRun(c) {
					return SI(c, &hose.Run.Bore)
				}
				return nil
			}},
		{Name: "clamped_outside", On: "LineEnd", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "outside diameter of the hose where it sits on the spigot, which its clamp has to go round",
			Formula: "sqrt(outside diameter^2 + spigot outside^2 - bore^2): rubber keeps its volume; an outside under the bore is taken for the bore",
			Needs:   needs("run.bore", "run.outside_diameter", "joint.spigot_outside"),
			Sources: sources(handbook("incompressibility of rubber", "any text on elastomers: Poisson's ratio near 0.5")),
			Compute: func(c *Calc) any {
				hose, _, ok := hoseAndSpigot(c)
				if !ok || !hose.ofRun(c) {
					return nil
				}
				outside, bore, spigot := SI(c, &hose.Run.OutsideDiameter), SI(c, &hose.Run.Bore), spigotOutside(c)
				if c.Lacks() {
					return nil
				}
				return c.result(mechanics.HoseOnSpigot(math.Max(outside, bore), bore, spigot))
			}},
		{Name: "bore_step", On: "LineEnd", Kind: Number,
			Meaning: "the smaller of the bores before and behind the joint over the larger",
			Formula: "smaller bore / larger bore, of two pieces that have a bore",
			Needs:   needs("run.bore", "run.kind"),
			Sources: sources(practice("a line keeps its size")),
			Compute: func(c *Calc) any {
				a, b, ok := twoPieces(c)
				if !ok {
					return nil
				}
				for _, r := range []*schema.Run{a, b} {
					if word(c, &r.Kind) == "filter" {
						c.notThere(r.Bore.Path())
						return nil
					}
				}
				before, after := SI(c, &a.Bore), SI(c, &b.Bore)
				if c.Lacks() {
					return nil
				}
				return min(before, after) / max(before, after)
			}},
		{Name: "zone_step", On: "LineEnd", Kind: Number,
			Meaning: "how far the line gets at the joint on its way from tank to engine, of a return from engine to tank: 0 within one place, 1 to the next, negative when it goes back",
			Formula: "places in order: in the tank, at the tank's side, frame, engine bay; cabin and boot may lie anywhere",
			Needs:   needs("run.zone"),
			Sources: sources(practice("pieces are listed in the order the fuel meets them")),
			Compute: func(c *Calc) any {
				a, b, ok := twoPieces(c)
				if !ok {
					return nil
				}
				before, ranked := zoneOrder(word(c, &a.Zone))
				after, too := zoneOrder(word(c, &b.Zone))
				if !ranked || !too {
					return 0.0
				}
				if j := joint(c); j != nil && j.Line == returnLine {
					before, after = after, before
				}
				return float64(after - before)
			}},
	}
}

// ofRun says that the half is a piece of the line; a port has neither bore nor
// outside, and what asks for them does not apply.
func (h Half) ofRun(c *Calc) bool {
	if h.Run == nil {
		c.notThere(h.End.Path() + ".bore")
	}
	return h.Run != nil
}

// twoPieces are the pieces on both sides of the joint; absent at a port.
func twoPieces(c *Calc) (before, after *schema.Run, ok bool) {
	j := joint(c)
	if j == nil {
		return nil, nil, false
	}
	if j.Before.Run == nil || j.After.Run == nil {
		c.notThere(Part[schema.LineEnd](c).Path() + ".neighbour")
		return nil, nil, false
	}
	return j.Before.Run, j.After.Run, true
}

// spigotOutside is the outside diameter of the spigot in the joint.
func spigotOutside(c *Calc) float64 {
	_, spigot, ok := hoseAndSpigot(c)
	switch {
	case !ok:
		return 0
	case spigot.Run == nil:
		return SI(c, &spigot.End.Size)
	}
	switch word(c, &spigot.Run.Kind) {
	case "":
		return 0
	case "tube":
		return SI(c, &spigot.Run.OutsideDiameter)
	}
	return SI(c, &spigot.End.Size)
}
