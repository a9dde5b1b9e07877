package derive

import (
	"cmp"
	"slices"

	"plumbline/engine/physics/sensor"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// The temperatures, K, at which reading errors are told: the warm engine, where
// a wrong reading keeps the mixture rich, and air under way on a warm day.
const (
	warmCoolant = 353.15
	warmAir     = 313.15
	// boilingCoolant is the hottest coolant a sensor has to show: 110 degC, under the pressure of its cap.
	boilingCoolant = 383.15
)

// thermistor is a temperature sensor of the design as the controller reads it.
type thermistor struct {
	curve          *schema.List[schema.ThermistorPoint]
	pullUp, series *schema.Fact[quantity.Resistance]
	at             float64             // K, the true temperature
	hot            func(*Calc) float64 // K, the hottest it has to show
}

func coolantThermistor(c *Calc) thermistor { return coolantThermistorOf(Part[schema.CoolantSensor](c)) }

func coolantThermistorOf(s *schema.CoolantSensor) thermistor {
	return thermistor{&s.Curve, &s.PullUp, &s.SeriesResistance, warmCoolant, func(*Calc) float64 { return boilingCoolant }}
}

func airThermistor(c *Calc) thermistor { return airThermistorOf(Part[schema.IntakeAirSensor](c)) }

func airThermistorOf(s *schema.IntakeAirSensor) thermistor {
	return thermistor{&s.Curve, &s.PullUp, &s.SeriesResistance, warmAir, underBonnet}
}

func underBonnet(c *Calc) float64 { return SI(c, &c.Design().Climate.UnderBonnet) }

func thermistorEntries() []Entry {
	return slices.Concat(pointEntries(), steepness("CoolantSensor", "coolant", coolantThermistor), steepness("IntakeAirSensor", "intake_air", airThermistor),
		readingErrors("CoolantSensor", "coolant", "80 degC", coolantThermistor), readingShares("CoolantSensor", "coolant", "at 110 degC", "", coolantThermistor),
		readingErrors("IntakeAirSensor", "intake_air", "40 degC", airThermistor),
		readingShares("IntakeAirSensor", "intake_air", "in the hottest air under the bonnet", "design.climate.under_bonnet", airThermistor))
}

// steepness is the constant of the exponential law between the ends of one sensor's curve.
func steepness(on, key string, of func(*Calc) thermistor) []Entry {
	return []Entry{{Name: "steepness", On: on, Kind: Number,
		Meaning: "how steeply the sensor's resistance falls, as the constant B of a thermistor in kelvin",
		Formula: "B = ln(R1/R2) / (1/T1 - 1/T2) between the coldest and the hottest point of the curve, T absolute",
		Needs:   needs(key + ".curve"),
		Sources: sources(handbook("exponential law of a thermistor through two points", "any electronics text")),
		Compute: func(c *Calc) any {
			points := of(c).points(c)
			if c.Lacks() {
				return nil
			}
			if len(points) < 2 {
				c.unreachable("%s has %d of the two or three points a curve goes through", of(c).curve.Path(), len(points))
				return nil
			}
			cold, hot := slices.MinFunc(points, byHeat), slices.MaxFunc(points, byHeat)
			return c.result(sensor.Steepness(cold, hot))
		}}}
}

func byHeat(a, b sensor.Point) int { return cmp.Compare(a.Temperature, b.Temperature) }

// pointEntries are the values of one point of a curve.
func pointEntries() []Entry {
	return []Entry{{Name: "local_constant", On: "ThermistorPoint", Kind: Number,
		Meaning: "how steeply the sensor's resistance falls from the next colder point to this one, as the constant B of a thermistor in kelvin; none for the coldest point, nor where two lie within a kelvin",
		Formula: "B = ln(R1/R2) / (1/T1 - 1/T2), T absolute",
		Needs:   needs("coolant.curve", "intake_air.curve"),
		Sources: sources(handbook("exponential law of a thermistor through two points", "any electronics text")),
		Compute: func(c *Calc) any {
			here, colder := besidePoint(c)
			if c.Lacks() {
				return nil
			}
			return c.result(sensor.Steepness(colder, here))
		},
		Working: func(w *Work) {
			here, colder := besidePoint(w.Calc)
			w.comes(w.value(), "ln(%s / %s) / (1 / %s - 1 / %s)", w.put(quantity.DimResistance, colder.Resistance), w.put(quantity.DimResistance, here.Resistance),
				w.number(colder.Temperature), w.number(here.Temperature))
		}}}
}

// besidePoint is a point of a sensor's curve with the next colder one.
func besidePoint(c *Calc) (here, colder sensor.Point) {
	me, s := Part[schema.ThermistorPoint](c), &c.Design().Sensors
	of := coolantThermistorOf(&s.Coolant)
	if !slices.ContainsFunc(s.Coolant.Curve.Items, func(p schema.ThermistorPoint) bool { return p.Path() == me.Path() }) {
		of = airThermistorOf(&s.IntakeAir)
	}
	points := of.points(c)
	here = sensor.Point{Temperature: SI(c, &me.Temperature), Resistance: SI(c, &me.Resistance)}
	if c.Lacks() {
		return here, colder
	}
	points = slices.DeleteFunc(points, func(p sensor.Point) bool { return p.Temperature > here.Temperature-1 })
	if len(points) == 0 {
		c.notThere(me.Path())
		return here, colder
	}
	return here, slices.MaxFunc(points, byHeat)
}

// readingErrors are the errors of one sensor's reading.
func readingErrors(on, key, temperature string, of func(*Calc) thermistor) []Entry {
	const curve = "1/T = A + B ln R + C (ln R)^3 through three points, R = R0 exp(B (1/T - 1/T0)) through two"
	own := sources(handbook("Steinhart and Hart, Calibration curves for thermistors, Deep-Sea Research 15, 1968", "the curve through three points"),
		handbook("voltage divider, and the exponential law of a thermistor through two points", "any electronics text"))
	needed := func(more string) []string {
		return needs(key+".curve", key+".pull_up", "design.sensors.reference_voltage", more)
	}
	return []Entry{
		{Name: "series_error", On: on, Kind: Quantity, Dimension: quantity.DimTemperatureDifference,
			Meaning: "how much warmer than it is the controller reads a sensor at " + temperature + " for the extra resistance in its wiring; negative reads colder",
			Formula: "temperature of the curve at resistance + series resistance - " + temperature + "; " + curve,
			Needs:   needed(key + ".series_resistance"),
			Sources: own,
			Compute: func(c *Calc) any {
				t := of(c)
				return t.readingError(c, sensor.Fault{Series: SI(c, t.series)})
			}},
		{Name: "ground_error", On: on, PerPoint: true, Kind: Quantity, Dimension: quantity.DimTemperatureDifference,
			Meaning: "how much warmer than it is the controller reads a sensor at " + temperature + " for the offset of the sensors' ground; negative reads colder",
			Formula: "V = Vg + (Vref - Vg) R/(R + Rp) at ground offset Vg, read as R = Rp V/(Vref - V) on the curve, - " + temperature + "; " + curve,
			Needs:   needed("at.<point>.sensor_ground_offset"),
			Sources: own,
			Compute: func(c *Calc) any {
				return of(c).readingError(c, sensor.Fault{Ground: c.ValueAt(c.point, "sensor_ground_offset")})
			}},
	}
}

// readingShares are what the controller's input sees of its reference at the ends
// of what the sensor has to show; hottest is the fact behind the hot end.
func readingShares(on, key, hot, hottest string, of func(*Calc) thermistor) []Entry {
	needed := needs(key+".curve", key+".pull_up", key+".series_resistance")
	entry := func(name, when, fact string, kelvin func(*Calc, thermistor) float64) Entry {
		more := needed
		if fact != "" {
			more = append(slices.Clone(needed), fact)
		}
		return Entry{Name: name, On: on, Dimension: quantity.DimShare,
			Meaning: "share of the reference voltage at the controller's input " + when,
			Formula: "(R + wiring) / (R + wiring + pull-up), R of the sensor's curve there",
			Needs:   more,
			Sources: sources(handbook("voltage divider, and the exponential law of a thermistor through two points", "any electronics text")),
			Compute: func(c *Calc) any {
				t := of(c)
				return t.share(c, kelvin(c, t))
			}}
	}
	return []Entry{
		entry("cold_share", "at the coldest start", "design.climate.cold_ambient", func(c *Calc, _ thermistor) float64 { return SI(c, &c.Design().Climate.ColdAmbient) }),
		entry("hot_share", hot, hottest, func(c *Calc, t thermistor) float64 { return t.hot(c) }),
	}
}

// share is the input's voltage over the reference at a temperature, K.
func (t thermistor) share(c *Calc, kelvin float64) any {
	curve, pullUp, wiring := t.readCurve(c), SI(c, t.pullUp), SI(c, t.series)
	if c.Lacks() {
		return nil
	}
	ohms := c.result(curve.Resistance(kelvin))
	if c.Lacks() {
		return nil
	}
	return c.result(sensor.DividerVoltage(1, pullUp, ohms+wiring))
}

// readingError is what a fault adds to the reading, K.
func (t thermistor) readingError(c *Calc, fault sensor.Fault) any {
	curve, pullUp, reference := t.readCurve(c), SI(c, t.pullUp), SI(c, &c.Design().Sensors.ReferenceVoltage)
	if c.Lacks() {
		return nil
	}
	return c.result(sensor.ReadTemperature(curve, reference, pullUp, t.at, fault)) - t.at
}

// points are those stated of the thermistor's curve.
func (t thermistor) points(c *Calc) []sensor.Point {
	items := Items(c, t.curve)
	points := make([]sensor.Point, len(items))
	for i := range items {
		points[i] = sensor.Point{Temperature: SI(c, &items[i].Temperature), Resistance: SI(c, &items[i].Resistance)}
	}
	return points
}

// readCurve is the thermistor's curve through its stated points.
func (t thermistor) readCurve(c *Calc) sensor.Curve {
	points := t.points(c)
	if c.Lacks() {
		return nil
	}
	switch len(points) {
	case 2:
		curve, err := sensor.BetaFromPoints(points[0].Temperature, points[0].Resistance, points[1].Temperature, points[1].Resistance)
		c.Unreachable(err)
		return curve
	case 3:
		curve, err := sensor.SolveSteinhartHart(points[0], points[1], points[2])
		c.Unreachable(err)
		return curve
	}
	c.unreachable("%s has %d of the two or three points a curve goes through", t.curve.Path(), len(points))
	return nil
}
