package derive

import (
	"slices"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Fault is something that a sound vehicle has none of and that no fact of a design states: a hole where air leaks in, fuel that
// drips. A session is told of it in Options.Faults, by its name and in SI units; else it is sound.
type Fault struct {
	Name      string
	Dimension quantity.Dimension
	// Sound is what it is in a sound vehicle.
	Sound   float64
	Meaning string
}

// Path is the fault's name as marks know it.
func (f *Fault) Path() string { return faultPath + f.Name }

const faultPath = "fault."

// The names of faults.
const (
	airLeak      = "air_leak"
	exhaustAir   = "exhaust_air"
	lateSpark    = "late_spark"
	rawFuel      = "raw_fuel"
	hoseFuel     = "hose_fuel"
	fuelLost     = "fuel_lost"
	tankPressure = "tank_pressure"
	checkLeak    = "check_leak"
	spillLeak    = "spill_leak"
	tipLeak      = "tip_leak"
	coolantCurve = "coolant_curve"
	airCurve     = "air_curve"
	loadScale    = "load_scale"
	loadOffset   = "load_offset"
	openingLate  = "opening_late"
	throttleArea = "throttle_area"
	falsePulses  = "false_pulses"
)

var faults = []Fault{
	{airLeak, quantity.DimArea, 0, "hole through which air leaks into the manifold behind the throttle"},
	{exhaustAir, quantity.DimShare, 0, "air that leaks into the exhaust before the sensor at idle, over the exhaust itself"},
	{lateSpark, quantity.DimAngle, 0, "how much later than commanded the spark comes"},
	{rawFuel, quantity.DimFlow, 0, "fuel that reaches the engine beside the injected"},
	{hoseFuel, quantity.DimFlow, 0, "fuel that comes out of the regulator's reference connection"},
	{fuelLost, quantity.DimShare, 0, "share of the injected fuel that a dead injector leaves out"},
	{tankPressure, quantity.DimPressure, 0, "pressure in the tank over the outside air; below nothing with a shut vent while fuel is drawn"},
	{checkLeak, quantity.DimShare, 0, "share of the pressure lost back through the pump in five minutes of standing"},
	{spillLeak, quantity.DimShare, 0, "share of the pressure lost through the regulator in five minutes of standing"},
	{tipLeak, quantity.DimShare, 0, "share of the pressure lost through injectors in five minutes of standing"},
	{coolantCurve, quantity.DimShare, 1, "resistance of the coolant sensor over that of the curve the controller reads it by"},
	{airCurve, quantity.DimShare, 1, "resistance of the air sensor over that of the curve the controller reads it by"},
	{loadScale, quantity.DimShare, 1, "manifold pressure the controller reads over the true one"},
	{loadOffset, quantity.DimPressure, 0, "what the controller reads of manifold pressure beyond the true one"},
	{openingLate, quantity.DimTime, 0, "how much longer than entered an injector takes to open"},
	{falsePulses, quantity.DimShare, 0, "pulses of the speed signal that are counted and never came, over those that come; each is given its fuel"},
	{throttleArea, quantity.DimShare, 1, "share of its area that the throttle opens with the pedal on the floor"},
}

// Faults lists what a session may be told that is wrong with a vehicle.
func Faults() []Fault { return slices.Clone(faults) }

// FaultNamed is one of them by its name, or nil.
func FaultNamed(name string) *Fault {
	for i := range faults {
		if faults[i].Name == name {
			return &faults[i]
		}
	}
	return nil
}

// told is a fault as something that was read.
type told struct {
	schema.Fact[float64]
	path string
}

// Path names the fault among what was read.
func (t *told) Path() string { return t.path }

// fault reads one, in SI units.
func (c *Calc) fault(name string) float64 {
	sound := FaultNamed(name).Sound
	if c.session.options.Faults == nil {
		return sound
	}
	c.session.reads = append(c.session.reads, &told{path: faultPath + name})
	if v, ok := c.session.options.Faults[name]; ok {
		return v
	}
	return sound
}
