package derive

import (
	"plumbline/engine/physics/exhaust"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func oxygenEntries() []Entry {
	return []Entry{
		{Name: "elevation", On: "OxygenSensor", Kind: Quantity, Dimension: quantity.DimAngle,
			Meaning: "angle of the sensor's axis above the horizontal; negative when it hangs",
			Formula: "90 deg - angle from top",
			Needs:   needs("oxygen_sensor.angle_from_top"),
			Sources: sources(handbook("geometry", "")),
			Compute: func(c *Calc) any {
				angle := SI(c, &Part[schema.OxygenSensor](c).AngleFromTop)
				if c.Lacks() {
					return nil
				}
				return c.result(exhaust.Elevation(angle))
			}},
		{Name: "open_end_diameters", On: "OxygenSensor", Kind: Number,
			Meaning: "distance from the sensor to the open end in pipe bores",
			Formula: "distance to open end / pipe bore",
			Needs:   needs("oxygen_sensor.distance_to_open_end", "design.exhaust.pipe_bore"),
			Sources: sources(practice("air drawn back at the open end is counted in pipe bores")),
			Compute: func(c *Calc) any {
				distance, bore := SI(c, &Part[schema.OxygenSensor](c).DistanceToOpenEnd), SI(c, &c.Design().Exhaust.PipeBore)
				if c.Lacks() {
					return nil
				}
				return distance / bore
			}},
		{Name: "transport_delay", On: "OxygenSensor", PerPoint: true, Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "time the exhaust takes from the ports to the sensor",
			Formula: "(manifold volume + pipe volume up to the sensor) / exhaust flow it sees, gas of 350 degC at idle, 500 degC at cruise, 800 degC at full load at barometer pressure",
			Needs: needs("oxygen_sensor.distance_from_port", "oxygen_sensor.sees", "design.exhaust.pipe_bore", "design.exhaust.manifold_volume",
				"at.<point>.air_mass_flow", "at.<point>.fuel_mass_demand", "at.<point>.barometer"),
			Sources: sources(handbook("ideal gas law and continuity", "any thermodynamics text"), practice("exhaust temperatures by operating point")),
			Compute: transportDelay},
	}
}

func transportDelay(c *Calc) any {
	if !c.notCranking("exhaust flow") {
		return nil
	}
	d, s := c.Design(), Part[schema.OxygenSensor](c)
	bore, manifold, length := SI(c, &d.Exhaust.PipeBore), SI(c, &d.Exhaust.ManifoldVolume), SI(c, &s.DistanceFromPort)
	airMass, fuelMass := c.ValueAt(c.point, "air_mass_flow"), c.ValueAt(c.point, "fuel_mass_demand")
	pressure, share := c.ValueAt(c.point, "barometer"), seenShare(c, s)
	if c.Lacks() {
		return nil
	}
	mass := c.result(exhaust.MassFlow(airMass*share, airMass/fuelMass))
	flow := c.result(exhaust.VolumeFlow(mass, gasTemperature(c.point), pressure))
	pipe := c.result(exhaust.PipeVolume(bore, length))
	if c.Lacks() {
		return nil
	}
	return c.result(exhaust.TransportDelay(manifold+pipe, flow))
}

// seenShare is the part of the engine's exhaust that passes the sensor.
func seenShare(c *Calc, s *schema.OxygenSensor) float64 {
	switch word(c, &s.Sees) {
	case "one_bank":
		if n := Get(c, &c.Design().Engine.Banks); n > 0 {
			return 1 / float64(n)
		}
	case "one_cylinder":
		if n := Get(c, &c.Design().Engine.Cylinders); n > 0 {
			return 1 / float64(n)
		}
	}
	return 1
}

func gasTemperature(p Point) float64 {
	switch p {
	case Idle:
		return exhaust.IdleGas
	case Cruise:
		return exhaust.CruiseGas
	}
	return exhaust.FullLoadGas
}
