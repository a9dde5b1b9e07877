package derive

import (
	"fmt"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// jointEntries are what stands between the wires of a circuit: joints, fuse and relay contact.
func jointEntries() []Entry {
	ohm := sources(handbook("Ohm's law", "any circuit text"))
	steady := "R x V / (V + R x I) x I with the stated or assumed resistance R, the steady current I of its circuit and the supply's nominal voltage V: what the resistance takes of a load that draws I at V"
	return []Entry{
		{Name: "joint_resistance", On: "Wire", Kind: Quantity, Dimension: quantity.DimResistance,
			Meaning: "resistance of all joints of the wire together",
			Formula: "sum over its joints",
			Needs:   needs("wire.joints", "joint.resistance"),
			Sources: sources(handbook("resistances in series", "any circuit text")),
			Working: workJointResistance,
			Compute: func(c *Calc) any {
				joints, sum := Items(c, &Part[schema.Wire](c).Joints), 0.0
				for i := range joints {
					sum += SI(c, &joints[i].Resistance)
				}
				return sum
			}},
		{Name: "drop", On: "Joint", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage lost over the joint",
			Formula: steady + "; in a return wire the nominal current of the load",
			Needs:   needs("joint.resistance", "circuit.steady_current", "circuit.nominal_current", "design.battery.system_voltage", "design.battery.converter"), Sources: ohm,
			Compute: func(c *Calc) any {
				j := Part[schema.Joint](c)
				ct, back := circuitAround(c, j.Path())
				if ct == nil {
					return nil
				}
				current := "steady_current"
				if back {
					current = "nominal_current"
				}
				return dividedDrop(c, SI(c, &j.Resistance), c.ValueOn(ct, NoPoint, current))
			}},
		{Name: "joint_drop", On: "Circuit", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage lost over the worst joint of the circuit",
			Formula: "largest drop among the joints of feed and return wires",
			Needs:   needs("circuit.feed_wires", "circuit.return_wires", "joint.drop"), Sources: ohm,
			Compute: func(c *Calc) any {
				volts, _ := worstJoint(c)
				return volts
			}},
		{Name: "worst_joint", On: "Circuit", Kind: Text,
			Meaning: "where the joint stands that loses most",
			Formula: "the joint with the largest drop, as feed or return wire and joint counted from 1",
			Needs:   needs("circuit.feed_wires", "circuit.return_wires", "joint.drop"), Sources: ohm,
			Compute: func(c *Calc) any {
				_, where := worstJoint(c)
				return where
			}},
		{Name: "fuse_drop", On: "Circuit", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage lost over the fuse and its holder",
			Formula: steady,
			Needs:   needs("circuit.fuse.resistance", "circuit.steady_current", "design.battery.system_voltage", "design.battery.converter"), Sources: ohm,
			Compute: func(c *Calc) any {
				part := Require(c, &Part[schema.Circuit](c).Fuse)
				if c.absent != "" {
					return nil
				}
				return dividedDrop(c, SI(c, &part.Resistance), c.Value("steady_current"))
			}},
		{Name: "contact_drop", On: "Circuit", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage lost over the relay's closed contact and its base",
			Formula: steady,
			Needs:   needs("circuit.relay.contact_resistance", "circuit.steady_current", "design.battery.system_voltage", "design.battery.converter"), Sources: ohm,
			Compute: func(c *Calc) any {
				part := Require(c, &Part[schema.Circuit](c).Relay)
				if c.absent != "" {
					return nil
				}
				return dividedDrop(c, SI(c, &part.ContactResistance), c.Value("steady_current"))
			}},
	}
}

// dividedDrop is what a resistance before a load takes of the supply: a load that draws amps at the supply's voltage is a
// resistance too, and the two divide it. No part of a circuit takes more than there is.
func dividedDrop(c *Calc, ohms, amps float64) float64 {
	volts := nominalSupply(c)
	if c.Lacks() {
		return 0
	}
	return ohms * amps * volts / (volts + ohms*amps)
}

// nominalSupply is the nominal voltage of the conversion's circuits: the vehicle's, or that of its converter.
func nominalSupply(c *Calc) float64 {
	if v := converter(c); v != nil {
		return SI(c, &v.OutputVoltage)
	}
	return SI(c, &c.Design().Battery.SystemVoltage)
}

// worstJoint is the largest drop over a joint of the circuit, and where that joint stands.
func worstJoint(c *Calc) (volts float64, where string) {
	ct := Part[schema.Circuit](c)
	where = "no joint"
	for _, side := range []struct {
		name  string
		wires *schema.List[schema.Wire]
	}{{"feed", &ct.FeedWires}, {"return", &ct.ReturnWires}} {
		wires := Items(c, side.wires)
		for i := range wires {
			joints := Items(c, &wires[i].Joints)
			for j := range joints {
				if drop := c.ValueOn(&joints[j], NoPoint, "drop"); drop > volts {
					volts, where = drop, fmt.Sprintf("%s wire %d, joint %d", side.name, i+1, j+1)
				}
			}
		}
	}
	return volts, where
}

// circuitAround is the circuit that a part lies in by the part's path, and whether it lies in its return wires.
func circuitAround(c *Calc, path string) (ct *schema.Circuit, back bool) {
	circuits := Items(c, &c.Design().Circuits)
	for i := range circuits {
		if rest, within := strings.CutPrefix(path, circuits[i].Path()+"."); within {
			return &circuits[i], strings.HasPrefix(rest, "return_wires")
		}
	}
	return nil, false
}

// feedOhms is the resistance from the circuit's source to its load: fuse, relay contact, wires and joints in a row.
func feedOhms(c *Calc, ct *schema.Circuit) float64 {
	sum := wireSum(c, &ct.FeedWires)
	if Fitted(c, &ct.Fuse) {
		sum += SI(c, &ct.Fuse.Part.Resistance)
	}
	if Fitted(c, &ct.Relay) {
		sum += SI(c, &ct.Relay.Part.ContactResistance)
	}
	return sum
}

// wireSum is the resistance of wires in a row with their joints.
func wireSum(c *Calc, l *schema.List[schema.Wire]) float64 {
	wires, sum := Items(c, l), 0.0
	for i := range wires {
		sum += c.ValueOn(&wires[i], NoPoint, "resistance") + c.ValueOn(&wires[i], NoPoint, "joint_resistance")
	}
	return sum
}
