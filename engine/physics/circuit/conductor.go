package circuit

import (
	"fmt"
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
	BasisSAE       Basis = "SAE J1127/J1128 area, annealed copper"
	BasisAircraft  Basis = "FAA AC 43.13-1B table 11-9 maximum"
	BasisArea      Basis = "stated area, annealed copper"
	BasisClad      Basis = "copper of the size / 0.629, ASTM B566 class 10A"
)

// Conductor is one copper conductor.
type Conductor struct {
	Area     float64 // cross-section, m2
	PerMetre float64 // resistance at 20 degC, ohm/m
	Basis    Basis
}

const (
	// CladConductivity is the least conductivity of copper-clad aluminium over that of copper, of the
	// class with 10 percent copper by volume; that with 15 percent has 0.644. Source: ASTM B566.
	CladConductivity = 0.629

	// CladHeating is how many times hotter a short makes aluminium than copper of the same size, as
	// (226 / 148)^2; the cladding makes it a little better. Source: IEC 60364-5-54 annex A, factors k.
	CladHeating = (226.0 / 148) * (226.0 / 148)
)

// Clad returns copper-clad aluminium of the conductor's size, taken for the poorer class of ASTM B566.
// Its temperature coefficient is taken as copper's, which is 0.0039 to 0.0040 for both metals.
func (c Conductor) Clad() Conductor {
	c.PerMetre /= CladConductivity
	c.Basis = BasisClad
	return c
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

// SmallestAWG returns the highest AWG number from 4/0 to 24 whose ASTM B258 area is at
// least the area asked for (m2). An area above 4/0 (107.2 mm2) is refused.
func SmallestAWG(area float64) (int, error) {
	largest, err := AWGArea(-3)
	if err != nil {
		return 0, err
	}
	if err := domain.Check("conductor area", area, domain.Smallest, largest, "m2"); err != nil {
		return 0, err
	}
	for gauge := 24; gauge > -3; gauge-- {
		have, err := AWGArea(gauge)
		if err != nil {
			return 0, err
		}
		if atLeast(have, area) {
			return gauge, nil
		}
	}
	return -3, nil
}

// GaugeName returns the way an AWG number is written: "14 AWG", "2/0 AWG".
func GaugeName(gauge int) string {
	if gauge <= 0 {
		return fmt.Sprintf("%d/0 AWG", 1-gauge)
	}
	return fmt.Sprintf("%d AWG", gauge)
}
