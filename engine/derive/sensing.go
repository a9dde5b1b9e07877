package derive

import (
	"math"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/mechanics"
	"plumbline/engine/physics/sensor"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func sensingEntries() []Entry {
	return []Entry{
		{Name: "hose_lag", On: "ManifoldPressureSensor", Kind: Quantity, Dimension: quantity.DimTime,
			Meaning: "time constant with which the sensor follows manifold pressure at idle",
			Formula: "(8 mu L / (pi r^4)) x hose volume / manifold pressure at idle; the sensor's own volume is not counted",
			Needs:   needs("manifold_pressure.hose_length", "manifold_pressure.hose_bore", "manifold_pressure.port", "at.idle.manifold_pressure"),
			Sources: sources(handbook("Hagen-Poiseuille law with the compliance of the gas", "any fluid mechanics text")),
			Compute: func(c *Calc) any {
				length, radius := hose(c)
				pressure := c.ValueAt(Idle, "manifold_pressure")
				if c.Lacks() {
					return nil
				}
				volume := math.Pi * radius * radius * length
				return c.result(sensor.HoseLag(air.Viscosity, length, radius, volume, pressure))
			}},
		{Name: "hose_resonance", On: "ManifoldPressureSensor", Kind: Quantity, Dimension: quantity.DimFrequency,
			Meaning: "quarter-wave frequency of the sensor's hose",
			Formula: "speed of sound (343 m/s) / (4 x hose length)",
			Needs:   needs("manifold_pressure.hose_length", "manifold_pressure.port"),
			Sources: sources(handbook("pipe open at one end", "any acoustics text")),
			Compute: func(c *Calc) any {
				length, _ := hose(c)
				if c.Lacks() {
					return nil
				}
				return c.result(sensor.HoseResonance(length, air.SoundSpeed))
			}},
		{Name: "highest_frequency_sent", On: "SpeedSignal", Kind: Quantity, Dimension: quantity.DimFrequency,
			Meaning: "frequency of a toothed wheel's signal at the engine's highest speed",
			Formula: "teeth x maximum speed; half of it where camshaft or distributor carries the wheel of a four-stroke engine",
			Needs:   needs("design.sensors.speed_signal.teeth", "design.sensors.speed_signal.wheel_on", "design.engine.maximum_speed", "design.engine.cycle"),
			Sources: sources(physics("the camshaft of a four-stroke engine turns at half the crankshaft's speed")),
			Compute: func(c *Calc) any {
				s := Part[schema.SpeedSignal](c)
				turns := SI(c, &c.Design().Engine.MaximumSpeed) / (2 * math.Pi)
				if word(c, &s.WheelOn) == "camshaft_or_distributor" {
					turns *= chargesOf(c)
				}
				return turns * float64(Get(c, &s.Teeth))
			}},
		{Name: "closing_moment", On: "ThrottleControl", Kind: Number,
			Meaning: "least share of the return force that turns the throttle over its travel; near 0 the linkage is on centre",
			Formula: "smaller sine of the smallest and the largest lever angle",
			Needs:   needs("design.throttle_control.smallest_lever_angle", "design.throttle_control.largest_lever_angle", "design.throttle_control.linkage"),
			Sources: sources(handbook("moment of a force on a lever", "any statics text")),
			Compute: func(c *Calc) any {
				t := Part[schema.ThrottleControl](c)
				if word(c, &t.Linkage) == "electric" {
					c.notThere(t.SmallestLeverAngle.Path())
					return nil
				}
				smallest, largest := SI(c, &t.SmallestLeverAngle), SI(c, &t.LargestLeverAngle)
				if c.Lacks() {
					return nil
				}
				return math.Min(c.result(mechanics.PinMoment(1, 1, smallest)), c.result(mechanics.PinMoment(1, 1, largest)))
			}},
	}
}

// hose reads the sensor's hose; a sensor built into the throttle body has none.
func hose(c *Calc) (length, radius float64) {
	s := Part[schema.ManifoldPressureSensor](c)
	if word(c, &s.Port) == "built_in_below_throttle" {
		c.notThere(s.HoseLength.Path())
		return 0, 0
	}
	length = SI(c, &s.HoseLength)
	if c.entry.Name == "hose_lag" {
		radius = SI(c, &s.HoseBore) / 2
	}
	return length, radius
}
