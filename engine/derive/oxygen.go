package derive

import (
	"plumbline/engine/physics/air"
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
			Sources: sources(physics("geometry")),
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
			Working: workOpenEnd,
			Compute: func(c *Calc) any {
				distance, bore := SI(c, &Part[schema.OxygenSensor](c).DistanceToOpenEnd), SI(c, &c.Design().Exhaust.PipeBore)
				if c.Lacks() {
					return nil
				}
				return distance / bore
			}},
		{Name: "transport_delay", On: "OxygenSensor", PerPoint: true, Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "time the exhaust takes from the ports to the sensor",
			Formula: "volume / exhaust flow it sees, gas of 350 degC at idle, 500 degC at cruise, 800 degC at full load, at barometer pressure, at full load at the 99 kPa its air and fuel hold for; volume: manifold + pipe from where the last cylinder joins to the sensor, and no less than a pipe as long as the way from the nearest port; or, in the pipe of one cylinder, that pipe from its port",
			Needs: needs("oxygen_sensor.sees", "oxygen_sensor.distance_after_merge", "oxygen_sensor.distance_from_port", "design.exhaust.pipe_bore", "design.exhaust.manifold_volume", "design.engine.banks",
				"at.<point>.air_mass_flow", "at.<point>.fuel_mass_demand", "at.<point>.barometer"),
			Sources: sources(handbook("ideal gas law and continuity", "any thermodynamics text"), practice("exhaust temperatures by operating point")),
			Working: workTransportDelay,
			Compute: transportDelay},
	}
}

func transportDelay(c *Calc) any {
	if !c.notCranking("exhaust flow") {
		return nil
	}
	s := Part[schema.OxygenSensor](c)
	volume := volumeToSensor(c, s)
	airMass, fuelMass := c.ValueAt(c.point, "air_mass_flow"), c.ValueAt(c.point, "fuel_mass_demand")
	pressure, share := air.ReferencePressure, seenShare(c, s)
	if c.point != FullLoad {
		pressure = c.ValueAt(c.point, "barometer")
	}
	if c.Lacks() {
		return nil
	}
	mass := c.result(exhaust.MassFlow(airMass*share, airMass/fuelMass))
	flow := c.result(exhaust.VolumeFlow(mass, gasTemperature(c.point), pressure))
	if c.Lacks() {
		return nil
	}
	return c.result(exhaust.TransportDelay(volume, flow))
}

// volumeToSensor is what the gas fills on its way from the ports, m3. The
// manifold ends where the last cylinder joins: the pipe from there on is added
// to its volume. A sensor before that place has at most the manifold before it.
// Where a pipe leads from the manifold to that place, as from the banks of a vee
// to their junction, neither counts it; but no way from the nearest port holds
// less than a pipe of its length, since inside a manifold of volume V and n like
// branches of an area no less than A/n it is no longer than V/A.
// In the pipe of one cylinder no manifold comes first.
func volumeToSensor(c *Calc, s *schema.OxygenSensor) float64 {
	e := &c.Design().Exhaust
	bore, fromPort := SI(c, &e.PipeBore), SI(c, &s.DistanceFromPort)
	if word(c, &s.Sees) == "one_cylinder" {
		if c.Lacks() {
			return 0
		}
		return c.result(exhaust.PipeVolume(bore, fromPort))
	}
	manifold, afterMerge := SI(c, &e.ManifoldVolume), SI(c, &s.DistanceAfterMerge)
	if c.Lacks() {
		return 0
	}
	counted := manifold + c.result(exhaust.PipeVolume(bore, max(0, afterMerge)))
	return max(counted, c.result(exhaust.PipeVolume(bore, fromPort)))
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
