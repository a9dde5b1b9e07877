package derive

import (
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// workshop is the temperature (K) at which a battery and its starter are measured: 20 degC.
const workshop = 293.15

func batteryEntries() []Entry {
	rated := []Source{standard("SAE J537", "cold cranking rating, 7.2 V"), practice("the drop to 7.2 V is taken as resistance, and not lowered above -18 degC"),
		memory("resistance by charge and below -18 degC")}
	cold := sources(practice("a starter draws 1.3, 1.8 and 2.3 times its warm current at 0, -18 and -29 degC"))
	return []Entry{
		{Name: "resistance", On: "Battery", Kind: Quantity, Dimension: quantity.DimResistance,
			Meaning: "internal resistance of the battery in the workshop",
			Formula: "5.4 V / cold cranking current x system voltage / 12 V x 1.1, 1.3, 1.7 or 2.5 at three quarters, half, a quarter or nothing of its charge by the rest voltage",
			Needs:   needs("design.battery.cold_cranking", "design.battery.system_voltage", "design.battery.rest_voltage"),
			Sources: rated,
			Working: workBatteryResistance,
			Compute: func(c *Calc) any { return batteryOhms(c, workshop) }},
		{Name: "cold_resistance", On: "Battery", Kind: Quantity, Dimension: quantity.DimResistance,
			Meaning: "internal resistance of the battery at the coldest place and time of use",
			Formula: "resistance in the workshop x 1 down to -18 degC, 1.33 at -29 degC",
			Needs:   needs("design.battery.cold_cranking", "design.battery.system_voltage", "design.battery.rest_voltage", "design.climate.cold_ambient"),
			Sources: rated,
			Working: workBatteryResistance,
			Compute: func(c *Calc) any { return batteryOhms(c, SI(c, &c.Design().Climate.ColdAmbient)) }},
		{Name: "cranking_current", On: "Battery", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current of the starter at the coldest place and time of use",
			Formula: "starter current x 1 from 20 degC up, 1.3 at 0, 1.8 at -18, 2.3 at -29 degC, by the temperature of the engine",
			Needs:   needs("design.battery.starter_current", "design.engine.cold_start_temperature"), Sources: cold,
			Working: workCrankingCurrent,
			Compute: func(c *Calc) any {
				amps, engine := SI(c, &Part[schema.Battery](c).StarterCurrent), c.ValueOn(&c.Design().Engine, NoPoint, "cold_start_temperature")
				return amps * circuit.StarterColdFactor(engine)
			}},
		{Name: "cranking_floor", On: "Battery", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage a sound battery holds while cranking at the coldest place and time of use",
			Formula: "9.6 V at 20 degC, 9.1 V at -1, 8.5 V at -18, 8.0 V at -29 degC, for each 12 V of system voltage",
			Needs:   needs("design.battery.system_voltage", "design.climate.cold_ambient"),
			Sources: sources(practice("load test of service texts, half the cold cranking current for 15 s")),
			Compute: func(c *Calc) any {
				nominal, ambient := SI(c, &Part[schema.Battery](c).SystemVoltage), SI(c, &c.Design().Climate.ColdAmbient)
				if c.Lacks() {
					return nil
				}
				return c.result(circuit.CrankingFloor(nominal, ambient))
			}},
		{Name: "workshop_cranking_voltage", On: "Battery", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage at the battery posts while cranking in the workshop",
			Formula: "rest voltage - starter current x resistance",
			Needs:   needs("design.battery.rest_voltage", "design.battery.starter_current", "battery.resistance"), Sources: rated,
			Working: workWorkshopVoltage,
			Compute: func(c *Calc) any {
				b := Part[schema.Battery](c)
				return sagged(SI(c, &b.RestVoltage), SI(c, &b.StarterCurrent), c.Value("resistance"))
			}},
		{Name: "least_cable", On: "Battery", Kind: Quantity, Dimension: quantity.DimLength,
			Meaning: "length below which no cable reaches from the battery to the engine",
			Formula: "in the engine bay 0.2 m; on the frame or in the cabin 0.5 m; in the boot 2 m from an engine in front, 0.5 m from one behind",
			Needs:   needs("design.battery.place", "design.vehicle.engine_position"),
			Sources: sources(practice("a rough least: cables follow the body and are longer")),
			Compute: func(c *Calc) any {
				switch place := word(c, &Part[schema.Battery](c).Place); place {
				case "engine_bay":
					return 0.2
				case "boot":
					if word(c, &c.Design().Vehicle.EnginePosition) == "front" {
						return 2.0
					}
				}
				return 0.5
			}},
		{Name: "charging_reserve", On: "Battery", Kind: Quantity, Dimension: quantity.DimCurrent,
			Meaning: "current that charges the battery again while driving",
			Formula: "a tenth of the capacity in an hour",
			Needs:   needs("design.battery.capacity"),
			Sources: sources(handbook("TM 9-6140-200-14", "2-4, 20 to 30 min of driving put back one start"), practice("charging at a tenth of the capacity")),
			Working: workChargingReserve,
			Compute: func(c *Calc) any { return SI(c, &Part[schema.Battery](c).Capacity) / 10 / 3600 }},
	}
}

// heaterRise is how much warmer than the air a block heater holds an engine overnight, K.
const heaterRise = 25

// crankingEntries are the engine as the starter meets it.
func crankingEntries() []Entry {
	return []Entry{
		{Name: "cold_start_temperature", On: "Engine", Kind: Quantity, Dimension: quantity.DimTemperature,
			Meaning: "temperature of the engine at the coldest start",
			Formula: "the coldest start's; with a block heater 25 K more",
			Needs:   needs("design.climate.cold_ambient", "design.engine.preheating"),
			Sources: sources(practice("a block heater of some 500 W holds an engine 20 to 30 K above the air")),
			Compute: func(c *Calc) any {
				ambient := SI(c, &c.Design().Climate.ColdAmbient)
				if word(c, &Part[schema.Engine](c).Preheating) == "block_heater" {
					ambient += heaterRise
				}
				return ambient
			}},
		{Name: "cold_cranking_speed", On: "Engine", Kind: Quantity, Dimension: quantity.DimRotationalSpeed,
			Meaning: "speed at which the starter turns the engine at the coldest start; nothing where it cannot",
			Formula: "cranking speed x (V - I R) / (V0 - I0 R), V and I of the battery in the cold, V0 and I0 in the workshop, R = V0 / (4 I0) of the starter",
			Needs: needs("design.engine.cranking_speed", "at.cranking.battery_voltage", "battery.cranking_current",
				"battery.workshop_cranking_voltage", "design.battery.starter_current"),
			Sources: sources(handbook("a direct current motor's own voltage goes with its speed", "any text on electrical machines"),
				practice("a starter loses a quarter of its voltage in itself at its workshop current")),
			Compute: func(c *Calc) any {
				b := &c.Design().Battery
				speed, cold, volts := SI(c, &Part[schema.Engine](c).CrankingSpeed), c.ValueOn(b, NoPoint, "cranking_current"), c.ValueAt(Cranking, "battery_voltage")
				warm, warmVolts := SI(c, &b.StarterCurrent), c.ValueOn(b, NoPoint, "workshop_cranking_voltage")
				if c.Lacks() {
					return nil
				}
				return speed * c.result(circuit.CrankingSpeedShare(warmVolts, warm, volts, cold))
			}},
		{Name: "cold_signal", On: "SpeedSignal", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "peak voltage of a reluctance pickup while cranking at the coldest start",
			Formula: "signal while cranking in the workshop x cold cranking speed / cranking speed",
			Needs:   needs("design.sensors.speed_signal.cranking_signal", "design.engine.cold_cranking_speed", "design.engine.cranking_speed"),
			Sources: sources(handbook("induction: the voltage of a coil goes with the rate of change of its flux", "any physics text")),
			Compute: func(c *Calc) any {
				e := &c.Design().Engine
				signal, cold, speed := SI(c, &Part[schema.SpeedSignal](c).CrankingSignal), c.ValueOn(e, NoPoint, "cold_cranking_speed"), SI(c, &e.CrankingSpeed)
				if c.Lacks() {
					return nil
				}
				return signal * cold / speed
			}},
	}
}

// batteryOhms is the battery's internal resistance at a temperature (K).
func batteryOhms(c *Calc, temperature float64) any {
	b := &c.Design().Battery
	cca, nominal, rest := SI(c, &b.ColdCranking), SI(c, &b.SystemVoltage), SI(c, &b.RestVoltage)
	if c.Lacks() {
		return nil
	}
	return c.result(circuit.InternalResistance(cca, nominal, rest, temperature))
}

// sagged is the voltage of a battery that gives a current; one asked for more than it has is at nothing.
func sagged(rest, amps, ohms float64) float64 { return math.Max(0, rest-amps*ohms) }
