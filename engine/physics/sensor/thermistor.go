package sensor

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

const (
	lowestTemperature  = 173.15 // K, -100 degC
	highestTemperature = 573.15 // K, 300 degC
	lowestOhms         = 1e-2
	highestOhms        = 1e9
)

func checkTemperature(name string, t float64) error {
	return domain.Check(name, t, lowestTemperature, highestTemperature, "K")
}

func checkOhms(name string, r float64) error {
	return domain.Check(name, r, lowestOhms, highestOhms, "ohm")
}

// Curve is a thermistor's resistance by temperature and back.
type Curve interface {
	// Resistance returns ohm at a temperature (K).
	Resistance(temperature float64) (float64, error)
	// Temperature returns K at a resistance (ohm).
	Temperature(ohms float64) (float64, error)
}

// Beta is the two-point form of a thermistor: R(T) = R0 exp(B (1/T - 1/T0)).
type Beta struct {
	R0 float64 // ohm at T0
	T0 float64 // K
	B  float64 // K
}

func (b Beta) check() error {
	return domain.First(checkOhms("reference resistance of the thermistor", b.R0),
		checkTemperature("reference temperature of the thermistor", b.T0),
		domain.Check("thermistor B", b.B, 500, 10000, "K"))
}

// Resistance returns that of the thermistor (ohm) at -100 to 300 degC (K).
func (b Beta) Resistance(temperature float64) (float64, error) {
	if err := domain.First(b.check(), checkTemperature("thermistor temperature", temperature)); err != nil {
		return 0, err
	}
	return b.R0 * math.Exp(b.B*(1/temperature-1/b.T0)), nil
}

// Temperature returns the inverse of Resistance, in K. A resistance outside what the curve gives from
// -100 to 300 degC is refused with that range.
func (b Beta) Temperature(ohms float64) (float64, error) {
	if err := checkAgainstCurve(b, ohms); err != nil {
		return 0, err
	}
	return 1 / (1/b.T0 + math.Log(ohms/b.R0)/b.B), nil
}

// Steepness returns B = ln(R1/R2) / (1/T1 - 1/T2) of two points, in K, whatever it is: BetaFromPoints refuses one that is not a
// thermistor's.
func Steepness(cold, hot Point) (float64, error) {
	err := domain.First(checkTemperature("first temperature", cold.Temperature), checkOhms("first resistance", cold.Resistance),
		checkTemperature("second temperature", hot.Temperature), checkOhms("second resistance", hot.Resistance))
	if err != nil {
		return 0, err
	}
	if math.Abs(cold.Temperature-hot.Temperature) < 1 {
		return 0, fmt.Errorf("thermistor points lie at %g K and %g K: give two temperatures at least 1 K apart", cold.Temperature, hot.Temperature)
	}
	return math.Log(cold.Resistance/hot.Resistance) / (1/cold.Temperature - 1/hot.Temperature), nil
}

// BetaFromPoints returns the curve through two points (K, ohm): B = ln(R1/R2) / (1/T1 - 1/T2).
func BetaFromPoints(t1, r1, t2, r2 float64) (Beta, error) {
	steep, err := Steepness(Point{t1, r1}, Point{t2, r2})
	if err != nil {
		return Beta{}, err
	}
	b := Beta{R0: r1, T0: t1, B: steep}
	return b, b.check()
}

// SteinhartHart is the three-point form of a thermistor: 1/T = A + B ln R + C (ln R)^3, R in ohm, T in K.
// Source: Steinhart and Hart, Deep-Sea Research 15, 1968.
type SteinhartHart struct{ A, B, C float64 }

// Point is a measured resistance (ohm) at a temperature (K).
type Point struct{ Temperature, Resistance float64 }

// SolveSteinhartHart returns the curve through three points. Temperatures must differ by 1 K or more and
// resistance must fall as temperature rises. With L = ln R and Y = 1/T:
//
//	g2 = (Y2-Y1)/(L2-L1)    g3 = (Y3-Y1)/(L3-L1)
//	C = ((g3-g2)/(L3-L2)) / (L1+L2+L3)
//	B = g2 - C (L1^2 + L1 L2 + L2^2)
//	A = Y1 - (B + L1^2 C) L1
func SolveSteinhartHart(p1, p2, p3 Point) (SteinhartHart, error) {
	points := [...]Point{p1, p2, p3}
	for i, p := range points {
		err := domain.First(checkTemperature("thermistor temperature", p.Temperature), checkOhms("thermistor resistance", p.Resistance))
		if err != nil {
			return SteinhartHart{}, err
		}
		for _, q := range points[:i] {
			if math.Abs(p.Temperature-q.Temperature) < 1 || (p.Temperature > q.Temperature) == (p.Resistance >= q.Resistance) {
				return SteinhartHart{}, fmt.Errorf("thermistor points (%g K, %g ohm) and (%g K, %g ohm) do not fall with temperature: give three points at least 1 K apart, hotter with less resistance",
					q.Temperature, q.Resistance, p.Temperature, p.Resistance)
			}
		}
	}
	l1, l2, l3 := math.Log(p1.Resistance), math.Log(p2.Resistance), math.Log(p3.Resistance)
	y1, y2, y3 := 1/p1.Temperature, 1/p2.Temperature, 1/p3.Temperature
	g2, g3 := (y2-y1)/(l2-l1), (y3-y1)/(l3-l1)
	sum := l1 + l2 + l3
	if err := domain.Check("sum of the logarithms of the resistances", sum, 1e-6, 100, ""); err != nil {
		return SteinhartHart{}, err
	}
	c := (g3 - g2) / (l3 - l2) / sum
	b := g2 - c*(l1*l1+l1*l2+l2*l2)
	s := SteinhartHart{A: y1 - (b+l1*l1*c)*l1, B: b, C: c}
	return s, s.check()
}

// check makes sure 1/T rises with ln R, so that the curve can be turned round.
func (s SteinhartHart) check() error {
	return domain.First(domain.Check("Steinhart-Hart A", s.A, -1, 1, "1/K"),
		domain.Check("Steinhart-Hart B", s.B, 1e-9, 1, "1/K"),
		domain.Check("Steinhart-Hart C", s.C, 0, 1, "1/K"))
}

// Temperature returns that of the thermistor (K) at a resistance (ohm). A resistance outside what the
// curve gives from -100 to 300 degC is refused with that range.
func (s SteinhartHart) Temperature(ohms float64) (float64, error) {
	if err := checkAgainstCurve(s, ohms); err != nil {
		return 0, err
	}
	l := math.Log(ohms)
	return 1 / (s.A + s.B*l + s.C*l*l*l), nil
}

// Resistance returns that of the thermistor (ohm) at -100 to 300 degC (K), by the real root of the cubic
// in ln R.
func (s SteinhartHart) Resistance(temperature float64) (float64, error) {
	if err := domain.First(s.check(), checkTemperature("thermistor temperature", temperature)); err != nil {
		return 0, err
	}
	y := 1/temperature - s.A
	l := y / s.B
	if s.C > 0 {
		p, q := s.B/s.C, y/s.C
		// The one real root of L^3 + p L = q with p > 0, in the form that does not cancel.
		l = 2 * math.Sqrt(p/3) * math.Sinh(math.Asinh(3*q/(2*p)*math.Sqrt(3/p))/3)
	}
	r := math.Exp(l)
	if err := domain.CheckPositive("thermistor resistance from its curve", r, "ohm"); err != nil {
		return 0, err
	}
	return r, nil
}

// checkAgainstCurve refuses a resistance the curve does not reach from -100 to 300 degC.
func checkAgainstCurve(c Curve, ohms float64) error {
	high, err := c.Resistance(lowestTemperature)
	if err != nil {
		return err
	}
	low, err := c.Resistance(highestTemperature)
	if err != nil {
		return err
	}
	return domain.Check("thermistor resistance", ohms, low, high, "ohm")
}
