package derive

import (
	"strings"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
)

// checkGround refuses a return to a ground point that is not described.
func checkGround(c *Calc, ct *schema.Circuit, name string) {
	g := named(c, &c.Design().Grounds, name, func(g *schema.Ground) *schema.Fact[string] { return &g.Name })
	if g == nil && !c.Lacks() {
		c.unreachable("circuit %s returns to %q, which is not among the grounds", circuitName(ct), name)
	}
}

// groundPathEntries are those of a ground path as a way.
func groundPathEntries() []Entry {
	return []Entry{
		{Name: "ends_at_battery", On: "Ground", Kind: Truth,
			Meaning: "whoever follows the ground paths from this point comes to battery negative; false in a loop of grounds that lead only to each other",
			Formula: "some chain of paths, each from where the last one leads to, ends at battery_negative",
			Needs:   needs("ground.name", "ground.to", "design.grounds"),
			Sources: sources(practice("a current needs a closed path back to the battery")),
			Compute: func(c *Calc) any {
				grounds := Items(c, &c.Design().Grounds)
				leads := map[string][]string{}
				for i := range grounds {
					name := Get(c, &grounds[i].Name)
					leads[name] = append(leads[name], Get(c, &grounds[i].To))
				}
				next, seen := []string{Get(c, &Part[schema.Ground](c).To)}, map[string]bool{}
				for len(next) > 0 {
					at := next[0]
					if next = next[1:]; at == batteryNegative {
						return true
					}
					if !seen[at] {
						seen[at] = true
						next = append(next, leads[at]...)
					}
				}
				return false
			}},
	}
}

// groundElements adds every ground path, and while cranking the starter's
// current where it enters them. With the engine running the loads are fed as if
// the alternator sat at the battery's posts. Its own current, which comes back to
// its housing through the engine's ground and lowers the engine against battery
// negative by current times resistance, is left out: loads then see a little less
// voltage than they have, and sensors grounded at the engine a smaller offset.
func groundElements(c *Calc, p Point, parts *networkParts) {
	grounds := Items(c, &c.Design().Grounds)
	names, entered, carried := map[string]bool{batteryNegative: true}, map[string]bool{}, map[string]bool{}
	for i := range grounds {
		names[Get(c, &grounds[i].Name)] = true
	}
	var order []string
	for i := range grounds {
		g := &grounds[i]
		name, to := Get(c, &g.Name), Get(c, &g.To)
		ohms := c.ValueOn(g, NoPoint, "resistance")
		if !c.Lacks() && !names[to] {
			c.unreachable("ground %q leads to %q, which is not among the grounds", name, to)
		}
		parts.elements = append(parts.elements, circuit.Resistor(groundName(i), pointNode(name), pointNode(to), ohms))
		if p == Cranking && Get(c, &g.CarriesStarter) {
			if !entered[name] {
				order = append(order, name)
			}
			entered[name], carried[to] = true, true
		}
	}
	if p != Cranking || len(order) == 0 {
		return
	}
	// The starter's current enters where no other flagged path leads to.
	var starts []string
	for _, name := range order {
		if !carried[name] {
			starts = append(starts, name)
		}
	}
	amps := c.ValueOn(&c.Design().Battery, NoPoint, "cranking_current")
	switch {
	case c.Lacks():
	case len(starts) != 1:
		c.unreachable("starter current enters the grounds at %d points (%s): flag carries_starter on one path from the engine to the battery", len(starts), strings.Join(starts, ", "))
	default:
		parts.elements = append(parts.elements, circuit.CurrentSource("starter", batteryNegative, pointNode(starts[0]), amps))
	}
}
