package sensor

import (
	"plumbline/engine/physics/domain"
)

func checkDivider(reference, pullUp float64) error {
	return domain.First(domain.Check("reference voltage", reference, 0.1, 100, "V"),
		checkOhms("pull-up resistance", pullUp))
}

// DividerVoltage returns the voltage (V) across a sensor of a resistance (ohm) with a pull-up (ohm) to a
// reference (V): Vref R / (R + Rp).
func DividerVoltage(reference, pullUp, ohms float64) (float64, error) {
	err := domain.First(checkDivider(reference, pullUp), domain.Check("sensor resistance", ohms, 0, highestOhms, "ohm"))
	if err != nil {
		return 0, err
	}
	return reference * ohms / (ohms + pullUp), nil
}

// DividerResistance returns the sensor resistance (ohm) for a voltage (V) from 0 to just under the
// reference: R = Rp V / (Vref - V). At the reference the sensor is open and the voltage is refused.
func DividerResistance(reference, pullUp, volts float64) (float64, error) {
	err := domain.First(checkDivider(reference, pullUp),
		domain.Check("sensor voltage (at the reference the sensor is open)", volts, 0, reference*(1-1e-6), "V"))
	if err != nil {
		return 0, err
	}
	return pullUp * volts / (reference - volts), nil
}

// Fault is what stands between a thermistor and the controller that reads it.
type Fault struct {
	Series float64 // resistance of bad joints in the sensor circuit, ohm
	Ground float64 // voltage of the sensor's ground over the controller's, V
}

// ReadTemperature returns the temperature (K) a controller reads for a thermistor at a true temperature
// (K) behind a pull-up (ohm) to a reference (V), with series resistance and ground offset:
//
//	V = Vg + (Vref - Vg) (R + Rs) / (R + Rs + Rp)
//
// turned back through the divider and the curve. Series 0 to 1 Mohm, offset within a fifth of the
// reference. Where sensor and pull-up share the offset, which the controller's converter does not, the whole
// offset adds to V and the error is a little larger.
func ReadTemperature(curve Curve, reference, pullUp, temperature float64, fault Fault) (float64, error) {
	err := domain.First(checkDivider(reference, pullUp),
		domain.Check("series resistance", fault.Series, 0, 1e6, "ohm"),
		domain.Check("sensor ground offset", fault.Ground, -reference/5, reference/5, "V"))
	if err != nil {
		return 0, err
	}
	ohms, err := curve.Resistance(temperature)
	if err != nil {
		return 0, err
	}
	lower := ohms + fault.Series
	volts := fault.Ground + (reference-fault.Ground)*lower/(lower+pullUp)
	seen, err := DividerResistance(reference, pullUp, volts)
	if err != nil {
		return 0, err
	}
	return curve.Temperature(seen)
}
