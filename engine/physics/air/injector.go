package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// NozzleDrop returns the pressure across an injector, Pa, from the rail pressure
// and the pressure at its tip, both Pa against the outside air. Domain: rail > 0;
// the drop must be positive. Source: definition.
func NozzleDrop(rail, tip float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("rail pressure", rail, "Pa"),
		domain.CheckPositive("pressure across the injector", rail-tip, "Pa"),
	); err != nil {
		return 0, err
	}
	return rail - tip, nil
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

// ReferenceFlowRatio returns the flow of an injector over that at the regulator's
// setting: sqrt((setting + reference - tip)/setting), from the pressure in the
// regulator's spring chamber and at the injector's tip, both Pa against the
// outside air. It is 1 when both see the same air. Domain: setting > 0; the
// pressure across the nozzle must be positive. Source: as StaticFlow.
func ReferenceFlowRatio(setting, reference, tip float64) (float64, error) {
	return StaticFlow(1, setting, setting+reference-tip)
}

// LiquidFlow returns the volume an injector passes of a liquid of another density
// at the same pressure: Q2 = Q1 sqrt(rho1/rho2), in the unit of Q1. Domain: Q1 >=
// 0, densities > 0. Source: incompressible orifice; White, Fluid Mechanics,
// chapter 6.
func LiquidFlow(flow, fromDensity, toDensity float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("injector flow", flow, "m3/s"),
		domain.CheckPositive("density of the test liquid", fromDensity, "kg/m3"),
		domain.CheckPositive("density of the fuel", toDensity, "kg/m3"),
	); err != nil {
		return 0, err
	}
	return flow * math.Sqrt(fromDensity/toDensity), nil
}

func checkInjectors(count int) error {
	return domain.Check("injectors", float64(count), 1, 64, "")
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
// A pulse longer than its period 1/rate is an answer: the injectors are too
// small, see InjectorDriven. Domain: m, dead >= 0, n >= 1, rate, static > 0.
// Source: mass balance; dead time by common practice.
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
	return fuelFlow/(float64(count)*rate*static) + dead, nil
}

// InjectorDriven returns the share of the time an injector is driven: duty + rate
// dead, from the share it must be open, its pulses per second and its opening
// delay, s. At 1 it never closes; above that the fuel does not get through.
// Domain: duty, dead >= 0, rate > 0. Source: PulseWidth times the rate.
func InjectorDriven(duty, rate, dead float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("injector duty", duty, "1"),
		domain.CheckPositive("pulse rate", rate, "1/s"),
		domain.CheckNotNegative("injector dead time", dead, "s"),
	); err != nil {
		return 0, err
	}
	return duty + rate*dead, nil
}
