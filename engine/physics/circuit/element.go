package circuit

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// Kind is what an element of a network is.
type Kind string

// The kinds of element.
const (
	KindResistor        Kind = "resistor"
	KindVoltageSource   Kind = "voltage source"
	KindCurrentSource   Kind = "current source"
	KindRegulatedSource Kind = "regulated source"
	KindResistive       Kind = "resistive load"
	KindConstantCurrent Kind = "constant-current load"
	KindConstantPower   Kind = "constant-power load"
	KindMotor           Kind = "motor"
)

// Element is one two-terminal element of a network. Its current is counted from From to To through the
// element and its voltage is that of From over To, so a load has both positive and a source that delivers
// has a negative current. The fields are exported so that a network can be walked and written down in
// another program's form; make elements with the constructors.
type Element struct {
	Name     string
	Kind     Kind
	From, To string

	Ohms  float64 // resistor, resistive load; internal resistance of a source
	Volts float64 // voltage source, regulated source
	Amps  float64 // current source, constant-current load; limit of a regulated source
	Watts float64 // constant-power load
	Knee  float64 // V, under which a constant-current or constant-power load falls off; 0 for none

	// Curve gives the current (A) of a motor by its voltage (V). It is asked only between Low and High.
	Curve     func(volts float64) float64
	Low, High float64
}

// negligible is the resistance (ohm) below which an element counts as having none.
const negligible = 1e-9

// Resistor is a wire, contact, joint, fuse or switch of 0 to 1e9 ohm. Under 1e-9 ohm its two nodes are one.
func Resistor(name, from, to string, ohms float64) Element {
	return Element{Name: name, Kind: KindResistor, From: from, To: to, Ohms: ohms}
}

// Battery is a voltage source with internal resistance (under 1e-9 ohm it is ideal): the voltage at its posts is
// volts less ohms times the current it delivers.
func Battery(name, positive, negative string, volts, ohms float64) Element {
	return Element{Name: name, Kind: KindVoltageSource, From: positive, To: negative, Volts: volts, Ohms: ohms}
}

// CurrentSource drives a current (A) from one node through itself to another.
func CurrentSource(name, from, to string, amps float64) Element {
	return Element{Name: name, Kind: KindCurrentSource, From: from, To: to, Amps: amps}
}

// RegulatedSource is a source such as an alternator: it holds volts behind ohms (1e-4 and up) until the
// current reaches limit (A), gives no more than that, and takes none back.
func RegulatedSource(name, positive, negative string, volts, ohms, limit float64) Element {
	return Element{Name: name, Kind: KindRegulatedSource, From: positive, To: negative, Volts: volts, Ohms: ohms, Amps: limit}
}

// ResistiveLoad is a heater or lamp taken as the resistance that draws amps at volts.
func ResistiveLoad(name, from, to string, volts, amps float64) Element {
	ohms := math.Inf(1)
	if amps > 0 {
		ohms = volts / amps
	}
	return Element{Name: name, Kind: KindResistive, From: from, To: to, Ohms: ohms}
}

// ConstantCurrentLoad draws amps down to the knee voltage and below it falls in proportion to the
// voltage, to nothing at 0 V. With a knee of 0 it draws amps at any voltage.
func ConstantCurrentLoad(name, from, to string, amps, knee float64) Element {
	return Element{Name: name, Kind: KindConstantCurrent, From: from, To: to, Amps: amps, Knee: knee}
}

// ConstantPowerLoad is electronics with a switching supply: I = watts / V down to the knee voltage,
// which must be above 0, and below it the resistance knee^2 / watts.
func ConstantPowerLoad(name, from, to string, watts, knee float64) Element {
	return Element{Name: name, Kind: KindConstantPower, From: from, To: to, Watts: watts, Knee: knee}
}

// Motor draws the current curve(V), known for low <= V <= high. A solution with a voltage outside that
// range is refused with the range; between trial steps the curve is held at its ends.
func Motor(name, from, to string, curve func(volts float64) float64, low, high float64) Element {
	return Element{Name: name, Kind: KindMotor, From: from, To: to, Curve: curve, Low: low, High: high}
}

// AffineMotor is a Motor that draws amps at volts and slope (A/V) more for each volt more.
func AffineMotor(name, from, to string, volts, amps, slope, low, high float64) Element {
	return Motor(name, from, to, func(v float64) float64 { return amps + slope*(v-volts) }, low, high)
}

// IsLoad says whether the element is a load, which FaultCurrent leaves out.
func (e Element) IsLoad() bool {
	switch e.Kind {
	case KindResistive, KindConstantCurrent, KindConstantPower, KindMotor:
		return true
	}
	return false
}

// linear says whether the element's current is a linear function of its voltage.
func (e *Element) linear() bool {
	switch e.Kind {
	case KindResistor, KindVoltageSource, KindCurrentSource, KindResistive:
		return true
	}
	return e.Kind == KindConstantCurrent && e.Knee == 0
}

// conducts says whether the element ties the voltages of its nodes together.
func (e *Element) conducts() bool {
	return e.Kind != KindCurrentSource && !(e.Kind == KindConstantCurrent && e.Knee == 0)
}

// current returns the current of a non-linear element at a voltage and its slope.
func (e *Element) current(v float64) (amps, slope float64, err error) {
	switch e.Kind {
	case KindConstantCurrent:
		if math.Abs(v) < e.Knee {
			return e.Amps * v / e.Knee, e.Amps / e.Knee, nil
		}
		return math.Copysign(e.Amps, v), 0, nil
	case KindConstantPower:
		if math.Abs(v) < e.Knee {
			g := e.Watts / (e.Knee * e.Knee)
			return g * v, g, nil
		}
		return e.Watts / v, -e.Watts / (v * v), nil
	case KindRegulatedSource:
		wanted := (e.Volts - v) / e.Ohms
		switch {
		case wanted <= 0:
			return 0, 0, nil
		case wanted >= e.Amps:
			return -e.Amps, 0, nil
		}
		return -wanted, 1 / e.Ohms, nil
	case KindMotor:
		return e.motorCurrent(v)
	}
	return 0, 0, fmt.Errorf("%s %q has no current-voltage curve", e.Kind, e.Name)
}

func (e *Element) motorCurrent(v float64) (amps, slope float64, err error) {
	at := func(v float64) float64 { return e.Curve(math.Min(math.Max(v, e.Low), e.High)) }
	const step = 1e-5
	amps = at(v)
	slope = (at(v+step) - at(v-step)) / (2 * step)
	if domain.Check("current", amps, -maxAmps, maxAmps, "A") != nil {
		return 0, 0, domain.Check(fmt.Sprintf("current of motor %q at %g V", e.Name, v), amps, -maxAmps, maxAmps, "A")
	}
	if math.IsNaN(slope) || math.IsInf(slope, 0) {
		slope = 0
	}
	return amps, slope, nil
}

// validate checks the element's own values.
func (e *Element) validate() error {
	if e.Name == "" {
		return fmt.Errorf("%s between %q and %q has no name: give each element its own name", e.Kind, e.From, e.To)
	}
	if e.From == "" || e.To == "" {
		return fmt.Errorf("%s %q has an unnamed end: name both nodes", e.Kind, e.Name)
	}
	// The name of a value is put together only for an error, as every network checks all of its elements.
	check := func(what string, v, low, high float64, unit string) error {
		if domain.Check(what, v, low, high, unit) == nil {
			return nil
		}
		return domain.Check(fmt.Sprintf("%s of %s %q", what, e.Kind, e.Name), v, low, high, unit)
	}
	ohms := func(low float64) error { return check("resistance", e.Ohms, low, maxOhms, "ohm") }
	switch e.Kind {
	case KindResistor:
		return ohms(0)
	case KindResistive:
		return ohms(negligible)
	case KindVoltageSource:
		return domain.First(check("voltage", e.Volts, -maxVolts, maxVolts, "V"), ohms(0))
	case KindCurrentSource:
		return check("current", e.Amps, -maxAmps, maxAmps, "A")
	case KindRegulatedSource:
		return domain.First(check("voltage", e.Volts, 1, maxVolts, "V"), ohms(1e-4), check("current limit", e.Amps, 0, maxAmps, "A"))
	case KindConstantCurrent:
		return domain.First(check("current", e.Amps, 0, maxAmps, "A"), check("knee voltage", e.Knee, 0, maxVolts, "V"))
	case KindConstantPower:
		return domain.First(check("power", e.Watts, 0, maxWatts, "W"), check("knee voltage", e.Knee, 0.1, maxVolts, "V"))
	case KindMotor:
		if e.Curve == nil {
			return fmt.Errorf("motor %q has no curve: give its current by voltage", e.Name)
		}
		return domain.First(check("upper voltage", e.High, -maxVolts, maxVolts, "V"),
			check("lower voltage", e.Low, -maxVolts, e.High, "V"))
	}
	return fmt.Errorf("element %q has the unknown kind %q: make elements with the constructors", e.Name, string(e.Kind))
}
