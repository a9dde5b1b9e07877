package circuit

import (
	"math"

	"plumbline/engine/physics/domain"
)

const (
	// CircularMil is the area of a circle of one thousandth of an inch diameter, in m2.
	CircularMil = math.Pi / 4 * 0.0254e-3 * 0.0254e-3

	foot = 0.3048

	// CopperResistivity is that of standard annealed copper at 20 degC, in ohm m:
	// 1/58 ohm mm2/m, which is 10.371 ohm circular mil per foot.
	// Source: NBS Handbook 100.
	CopperResistivity = 1e-6 / 58

	// CopperCoefficient is the temperature coefficient of resistance at 20 degC, in 1/K.
	// Source: NBS Handbook 100, IEC 60287 table 1.
	CopperCoefficient = 0.00393

	lowestConductor  = zeroCelsius - 100 // K
	highestConductor = zeroCelsius + 250 // K
)

// Basis says where the resistance of a conductor comes from.
type Basis string

// The bases of a conductor's resistance.
const (
	BasisAWG       Basis = "ASTM B258 area, annealed copper"
	BasisClassFive Basis = "IEC 60228 class 5 maximum"
	BasisArea      Basis = "stated area, annealed copper"
	BasisClad      Basis = "of the same size in copper, over the conductivity of ASTM B566 class 10A"
)

// CladConductivity is the least conductivity of copper-clad aluminium over that of annealed copper: 62.9 percent for
// wire with a tenth of its volume in copper, the poorer of the two kinds. Source: ASTM B566, seen second hand.
const CladConductivity = 0.629

// Conductor is one conductor of copper, or of aluminium clad with it.
type Conductor struct {
	Area     float64 // cross-section, m2
	PerMetre float64 // resistance at 20 degC, ohm/m
	Basis    Basis
}

// Resistance returns the resistance of a length (m) of the conductor at a copper
// temperature (K), in ohm:
//
//	R = PerMetre length (1 + 0.00393 (T - 293.15))
//
// Length is 0 to 10 km, temperature -100 to 250 degC. Source: NBS Handbook 100.
func (c Conductor) Resistance(length, temperature float64) (float64, error) {
	factor, err := TemperatureFactor(temperature)
	if err != nil {
		return 0, err
	}
	err = domain.First(
		checkLength("conductor length", length),
		domain.Check("conductor resistance per metre", c.PerMetre, domain.Smallest, 1e3, "ohm/m"))
	if err != nil {
		return 0, err
	}
	return c.PerMetre * length * factor, nil
}

// TemperatureFactor returns the resistance of copper at a temperature (K) over that at
// 20 degC: 1 + 0.00393 (T - 293.15), for -100 to 250 degC. Source: NBS Handbook 100.
func TemperatureFactor(temperature float64) (float64, error) {
	if err := domain.Check("conductor temperature", temperature, lowestConductor, highestConductor, "K"); err != nil {
		return 0, err
	}
	return 1 + CopperCoefficient*(temperature-(zeroCelsius+20)), nil
}

// AreaConductor returns annealed copper of the stated cross-section (m2, 1e-9 to 1e-2).
func AreaConductor(area float64) (Conductor, error) {
	if err := checkArea("conductor area", area); err != nil {
		return Conductor{}, err
	}
	return Conductor{Area: area, PerMetre: CopperResistivity / area, Basis: BasisArea}, nil
}

// AWGDiameter returns the diameter of a solid round wire of an AWG number, in m:
//
//	d = 0.005 in x 92^((36 - n)/39)
//
// for n from -3 (4/0) to 40. Source: ASTM B258.
func AWGDiameter(gauge int) (float64, error) {
	if gauge < -3 || gauge > 40 {
		return 0, &domain.RangeError{Quantity: "wire gauge (1/0 is 0, 4/0 is -3)", Value: float64(gauge), Low: -3, High: 40, Unit: "AWG"}
	}
	return 0.005 * 0.0254 * math.Pow(92, float64(36-gauge)/39), nil
}

// AWGArea returns pi/4 d^2 of AWGDiameter, in m2.
func AWGArea(gauge int) (float64, error) {
	d, err := AWGDiameter(gauge)
	if err != nil {
		return 0, err
	}
	return math.Pi / 4 * d * d, nil
}

// AWGConductor returns annealed copper of the ASTM B258 area. Stranded wire of the same
// number runs about 2 to 4 percent higher through the lay of its strands (from memory).
func AWGConductor(gauge int) (Conductor, error) {
	area, err := AWGArea(gauge)
	if err != nil {
		return Conductor{}, err
	}
	return Conductor{Area: area, PerMetre: CopperResistivity / area, Basis: BasisAWG}, nil
}

// ConductorOfArea chooses the resistance for a stated cross-section (m2):
//
//   - within 0.5 percent of a nominal size of IEC 60228 class 5, the maximum of that table for plain copper;
//   - within 0.5 percent of an AWG area from 4/0 to 40, annealed copper of the ASTM B258 area;
//   - any other size, annealed copper of the stated area.
func ConductorOfArea(area float64) (Conductor, error) {
	if err := checkArea("conductor area", area); err != nil {
		return Conductor{}, err
	}
	for _, row := range classFive() {
		if near(area, row.mm2*1e-6, 0.005) {
			return Conductor{Area: area, PerMetre: row.plain * 1e-3, Basis: BasisClassFive}, nil
		}
	}
	// Areas of neighbouring gauges are 26 percent apart, so only the nearest can be meant.
	diameter := math.Sqrt(area * 4 / math.Pi)
	gauge := 36 - int(math.Round(39*math.Log(diameter/(0.005*0.0254))/math.Log(92)))
	if nominal, err := AWGArea(gauge); err == nil && near(area, nominal, 0.005) {
		return AWGConductor(gauge)
	}
	return AreaConductor(area)
}

// Clad returns the conductor's size in copper-clad aluminium: its resistance over CladConductivity. The temperature
// coefficient stays that of copper; aluminium's, 0.00403, makes 0.6 percent more at 80 degC.
func (c Conductor) Clad() Conductor {
	return Conductor{Area: c.Area, PerMetre: c.PerMetre / CladConductivity, Basis: BasisClad}
}

// CladFactor is the current copper-clad aluminium carries over that of copper of the same size: the square root of
// CladConductivity, 0.79, as the same heat leaves the same surface. NFPA 70 gives it the column of aluminium, 0.75 to
// 0.83 of copper's from 14 to 8 AWG (from memory).
func CladFactor() float64 { return math.Sqrt(CladConductivity) }
