package quantity

import (
	"math"
	"sync"
)

// choice is one unit of printing: from is the least magnitude, in SI, that it serves.
type choice struct {
	cel   string
	from  float64
	label string // printed in place of the symbol when not empty
}

// shown picks the unit in which a value of the dimension is printed: the last whose magnitude the value reaches.
func (d Dimension) shown(us bool, si float64) choice {
	list := d.choices(us, si)
	best := list[0]
	for _, c := range list[1:] {
		// A value a rounding error short of the next unit belongs to it.
		if math.Abs(si) >= c.from*(1-1e-9) {
			best = c
		}
	}
	return best
}

// choices lists the units of printing from small to large. Zero takes the customary unit, which is the first but for
// the dimensions whose first unit is a small one.
func (d Dimension) choices(us bool, si float64) []choice {
	if si == 0 {
		return []choice{d.customary(us)}
	}
	lists := choiceLists()[d]
	switch {
	case !us:
		return lists.metric
	case si < 0:
		return lists.below
	}
	return lists.us
}

// choiceLists are the lists of every dimension: metric, US, and US below zero.
var choiceLists = sync.OnceValue(func() [dimensionCount]struct{ metric, us, below []choice } {
	var all [dimensionCount]struct{ metric, us, below []choice }
	for _, d := range Dimensions() {
		if d == DimRatio || d == DimDashSize {
			continue // printed without a unit
		}
		metric := d.choicesMetric()
		all[d].metric, all[d].us, all[d].below = metric, metric, metric
		if list := d.choicesUS(1); list != nil {
			all[d].us = list
		}
		if list := d.choicesUS(-1); list != nil {
			all[d].below = list
		}
	}
	return all
})

// fineness is below what a length is that of a mesh, which is sold by the micron everywhere.
const fineness = 0.15e-3

func (d Dimension) choicesMetric() []choice {
	switch d {
	case DimLength:
		return []choice{{"um", 0, ""}, {"mm", fineness, ""}, {"m", 1, ""}, {"km", 1000, ""}}
	case DimArea:
		return []choice{{"mm2", 0, ""}, {"cm2", 1e-3, ""}, {"m2", 1, ""}}
	case DimVolume:
		return []choice{{"mL", 0, ""}, {"L", 1e-3, ""}}
	case DimMass:
		return []choice{{"mg", 0, ""}, {"g", 1e-3, ""}, {"kg", 1, ""}}
	case DimTime:
		return []choice{{"us", 0, ""}, {"ms", 1e-3, ""}, {"s", 1, ""}, {"min", 120, ""}, {"h", 7200, ""}, {"day", 2 * 86400, ""},
			{"month", 2 * 31557600. / 12, "months"}, {"year", 2 * 31557600, "years"}}
	case DimVelocity:
		// Below 8 m/s it is fuel in a line, above it a vehicle on the road.
		return []choice{{"m_per_s", 0, ""}, {"km_per_h", 8, ""}}
	case DimAcceleration:
		return []choice{{"m_per_s2", 0, ""}}
	case DimForce:
		return []choice{{"N", 0, ""}, {"kN", 1000, ""}}
	case DimTorque:
		return []choice{{"N_m", 0, ""}}
	case DimFlow:
		return []choice{{"mL_per_min", 0, ""}, {"L_per_h", 1e-3 / 3600, ""}, {"m3_per_h", 2. / 3600, ""}}
	case DimMassFlow:
		return []choice{{"kg_per_h", 0, ""}}
	case DimDensity:
		return []choice{{"g_per_L", 0, ""}, {"kg_per_m3", 0.1, ""}}
	case DimKinematicViscosity:
		return []choice{{"mm2_per_s", 0, ""}}
	case DimPressure:
		return []choice{{"Pa", 0, ""}, {"kPa", 1e3, ""}, {"MPa", 1e7, ""}}
	case DimAbsolutePressure:
		return []choice{{"Pa_abs", 0, ""}, {"kPa_abs", 1e3, ""}, {"MPa_abs", 1e7, ""}}
	case DimTemperature:
		return []choice{{"degC", 0, ""}}
	case DimTemperatureDifference:
		return []choice{{"delta_K", 0, ""}}
	case DimAngle:
		return []choice{{"deg", 0, ""}}
	case DimRotationalSpeed:
		return []choice{{"rpm", 0, ""}}
	case DimSpecificConsumption:
		return []choice{{"g_per_kWh", 0, ""}}
	case DimWireSize:
		return []choice{{"wire_mm2", 0, ""}}
	case DimHeatingValue:
		return []choice{{"kJ_per_kg", 0, ""}, {"MJ_per_kg", 1e6, ""}}
	case DimShare:
		return []choice{{"ppm", 0, ""}, {"percent", 1e-3, ""}}
	}
	return d.choicesElectrical()
}

func (d Dimension) choicesElectrical() []choice {
	switch d {
	case DimFrequency:
		return []choice{{"Hz", 0, ""}, {"kHz", 1e3, ""}, {"MHz", 1e6, ""}}
	case DimVoltage:
		return []choice{{"uV", 0, ""}, {"mV", 1e-3, ""}, {"V", 1, ""}, {"kV", 1e3, ""}}
	case DimCurrent:
		return []choice{{"uA", 0, ""}, {"mA", 1e-3, ""}, {"A", 1, ""}}
	case DimResistance:
		return []choice{{"mohm", 0, ""}, {"ohm", 1, ""}, {"kohm", 1e3, ""}, {"Mohm", 1e6, ""}}
	case DimResistancePerLength:
		return []choice{{"mohm_per_m", 0, ""}, {"ohm_per_m", 1, ""}, {"kohm_per_m", 1e3, ""}}
	case DimInductance:
		return []choice{{"uH", 0, ""}, {"mH", 1e-3, ""}, {"H", 1, ""}}
	case DimCapacitance:
		return []choice{{"pF", 0, ""}, {"nF", 1e-9, ""}, {"uF", 1e-7, ""}, {"F", 1e-1, ""}}
	case DimCharge:
		return []choice{{"C", 0, ""}, {"Ah", 360, ""}}
	case DimEnergy:
		return []choice{{"mJ", 0, ""}, {"J", 1, ""}, {"kJ", 1e3, ""}, {"MJ", 1e6, ""}}
	case DimPower:
		return []choice{{"mW", 0, ""}, {"W", 1, ""}, {"kW", 1e3, ""}}
	}
	panic("no units of printing for " + d.String())
}

// choicesUS returns the units of printing where US readers use others, or nil. Below zero a pressure is a vacuum,
// read on a gauge in inches of mercury, or of water where it is a mere draught.
func (d Dimension) choicesUS(si float64) []choice {
	const gal = 231 * inch * inch * inch
	switch d {
	case DimLength:
		// Thousandths serve gaps.
		return []choice{{"um", 0, ""}, {"thou", fineness, ""}, {"inch", 1e-3, ""}, {"ft", 36 * inch, ""}, {"mile", 1609.344, ""}}
	case DimArea:
		return []choice{{"in2", 0, ""}, {"ft2", 144 * inch * inch, ""}}
	case DimVolume:
		// Cubic inches serve engines, gallons serve tanks.
		return []choice{{"cu_in", 0, ""}, {"gal", 2.2 * gal, ""}}
	case DimMass:
		return []choice{{"oz", 0, ""}, {"lb", 0.45359237, ""}}
	case DimVelocity:
		return []choice{{"ft_per_s", 0, ""}, {"mph", 8, ""}}
	case DimAcceleration:
		return []choice{{"g_n", 0, ""}}
	case DimForce:
		return []choice{{"lbf", 0, ""}}
	case DimTorque:
		return []choice{{"lbf_in", 0, ""}, {"lbf_ft", 1.3558179, ""}}
	case DimFlow:
		return []choice{{"gal_per_h", 0, ""}, {"cfm", 2. / 3600, ""}}
	case DimMassFlow:
		return []choice{{"lb_per_h", 0, ""}}
	case DimDensity:
		return []choice{{"g_per_gal", 0, ""}, {"lb_per_ft3", 0.1, ""}, {"lb_per_gal", 50, ""}}
	case DimKinematicViscosity:
		return []choice{{"cSt", 0, ""}}
	case DimPressure:
		if si < 0 {
			return []choice{{"inH2O", 0, ""}, {"inHg", 700, ""}}
		}
		return []choice{{"inH2O", 0, ""}, {"psi", 700, ""}}
	case DimAbsolutePressure:
		return []choice{{"psia", 0, ""}}
	case DimTemperature:
		return []choice{{"degF", 0, ""}}
	case DimTemperatureDifference:
		return []choice{{"delta_degF", 0, ""}}
	case DimResistancePerLength:
		return []choice{{"ohm_per_1000_ft", 0, ""}, {"ohm_per_ft", 1, ""}, {"kohm_per_ft", 1e3, ""}}
	case DimPower:
		return []choice{{"mW", 0, ""}, {"W", 1, ""}, {"hp", 5 * 745.7, ""}}
	case DimSpecificConsumption:
		return []choice{{"lb_per_hp_h", 0, ""}}
	case DimHeatingValue:
		return []choice{{"BTU_per_lb", 0, ""}}
	}
	return nil
}

// customary is the unit in which nothing is printed: 0 V, not 0 uV. It is the one of a usual magnitude, in SI.
func (d Dimension) customary(us bool) choice {
	usual := 1.0
	switch d {
	case DimLength:
		usual = 0.1
	case DimArea, DimFlow:
		usual = 1e-4
	case DimResistancePerLength, DimInductance:
		usual = 1e-3
	case DimShare:
		usual = 0.1
	case DimCapacitance:
		usual = 1e-6
	case DimPressure, DimAbsolutePressure:
		usual = 1e5
	case DimTorque, DimMass, DimEnergy, DimPower:
		usual = 10
	case DimDensity, DimCharge:
		usual = 700
	case DimHeatingValue:
		usual = 4e7
	}
	return d.shown(us, usual)
}
