package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// NozzleDrop returns the pressure across an injector, Pa, from the rail pressure
// in Pa gauge, the barometer and the absolute pressure at the tip. Above the
// throttle plate the tip is at the barometer, below it at manifold pressure.
// Domain: rail, barometer > 0, tip >= 0; the drop must be positive. Source:
// definition.
func NozzleDrop(railGauge, barometer, tip float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("rail pressure", railGauge, "Pa"),
		domain.CheckPositive("barometer", barometer, "Pa"),
		domain.CheckNotNegative("pressure at the injector tip", tip, "Pa"),
		domain.CheckPositive("pressure across the injector", railGauge+barometer-tip, "Pa"),
	); err != nil {
		return 0, err
	}
	return railGauge + barometer - tip, nil
}

// StaticFlow returns the flow of an open injector at another pressure across it:
// Q2 = Q1 sqrt(dp2/dp1), in the unit of Q1. Use the pressure across the nozzle,
// not the gauge pressure of the rail. Domain: Q1 >= 0, drops > 0. Source:
// incompressible orifice; White, Fluid Mechanics, chapter 6.
func StaticFlow(flow, fromDrop, toDrop float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("injector flow", flow, "kg/s"),
		domain.CheckPositive("rated pressure across the injector", fromDrop, "Pa"),
		domain.CheckPositive("pressure across the injector", toDrop, "Pa"),
	); err != nil {
		return 0, err
	}
	return flow * math.Sqrt(toDrop/fromDrop), nil
}

// UnreferencedFlowRatio returns the flow of an injector whose tip is at an
// absolute pressure, with a regulator that does not follow it, over its flow
// with the tip at the barometer: sqrt((rail + baro - tip)/rail). It is 1 above
// the throttle plate. Domain and source as NozzleDrop and StaticFlow.
func UnreferencedFlowRatio(railGauge, barometer, tip float64) (float64, error) {
	drop, err := NozzleDrop(railGauge, barometer, tip)
	if err != nil {
		return 0, err
	}
	return StaticFlow(1, railGauge, drop)
}

// ReferencedFlowRatio returns the flow of an injector with a regulator referenced
// to manifold pressure, over its flow at the same setting with no vacuum. The
// rail then stands at the setting less the vacuum, which suits a tip below the
// throttle plate (ratio 1) and starves one above it:
//
//	above: sqrt((set + map - baro)/set)
//
// tip is the absolute pressure at the injector tip. Domain and source as
// NozzleDrop and StaticFlow.
func ReferencedFlowRatio(setting, barometer, manifold, tip float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("regulator setting", setting, "Pa"),
		domain.CheckPositive("manifold pressure", manifold, "Pa"),
	); err != nil {
		return 0, err
	}
	drop, err := NozzleDrop(setting+manifold-barometer, barometer, tip)
	if err != nil {
		return 0, err
	}
	return StaticFlow(1, setting, drop)
}

func checkInjectors(count int) error {
	return domain.Check("injectors", float64(count), 1, 64, "")
}

// InjectorSize returns the open flow each injector needs, kg/s, for a fuel flow in
// kg/s at a duty: m/(n duty). Domain: m >= 0, n >= 1, 0.05 <= duty <= 1. Source:
// common practice; mass balance.
func InjectorSize(fuelFlow float64, count int, duty float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("fuel flow", fuelFlow, "kg/s"),
		checkInjectors(count),
		domain.Check("injector duty", duty, 0.05, 1, "1"),
	); err != nil {
		return 0, err
	}
	return fuelFlow / (float64(count) * duty), nil
}

// InjectorDuty returns the share of time injectors must be open, m/(n static), for
// a fuel flow and the open flow of one, both kg/s. Above 1 they are too small.
// Opening time is left out: see PulseWidth. Domain: m >= 0, n >= 1, static > 0.
// Source: as InjectorSize.
func InjectorDuty(fuelFlow float64, count int, static float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("fuel flow", fuelFlow, "kg/s"),
		checkInjectors(count),
		domain.CheckPositive("injector flow", static, "kg/s"),
	); err != nil {
		return 0, err
	}
	return fuelFlow / (float64(count) * static), nil
}

// PulseWidth returns the electrical pulse of one injector, s:
//
//	t = m/(n rate static) + dead
//
// m is the fuel flow of all injectors, kg/s; rate the pulses of one injector per
// second; static the flow of one open injector, kg/s; dead its opening delay, s.
// The first term alone is the time to hold against the least repeatable pulse.
// Domain: m, dead >= 0, n >= 1, rate, static > 0; the pulse must fit the period
// 1/rate. Source: mass balance; dead time by common practice.
func PulseWidth(fuelFlow float64, count int, rate, static, dead float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("fuel flow", fuelFlow, "kg/s"),
		checkInjectors(count),
		domain.CheckPositive("pulse rate", rate, "1/s"),
		domain.CheckPositive("injector flow", static, "kg/s"),
		domain.CheckNotNegative("injector dead time", dead, "s"),
	); err != nil {
		return 0, err
	}
	pulse := fuelFlow/(float64(count)*rate*static) + dead
	if err := domain.Check("injector pulse", pulse, 0, 1/rate, "s"); err != nil {
		return 0, err
	}
	return pulse, nil
}
