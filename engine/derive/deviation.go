package derive

import (
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func deviationEntries() []Entry {
	check := sources(practice("what was measured at start-up is held against what was computed"))
	difference := func(name, what string, d quantity.Dimension, measured, computed string, read func(*Calc) float64) Entry {
		return Entry{Name: name, On: "Design", PerPoint: true, Kind: Quantity, Dimension: d,
			Meaning: "measured less computed " + what + ", at idle", Formula: measured + " - at.idle." + computed,
			Needs: needs(measured, "at.idle."+computed), Sources: check,
			Compute: func(c *Calc) any {
				if c.point != Idle {
					c.unreachable("%s is measured at idle, not at %s", what, c.point)
					return nil
				}
				return read(c) - c.Value(computed)
			}}
	}
	return []Entry{
		{Name: "pressure_deviation", On: "Design", PerPoint: true, Dimension: quantity.DimShare,
			Meaning: "measured fuel pressure against the computed one, as a share; at idle and at full load",
			Formula: "measured pressure / throttle-body pressure - 1",
			Needs:   needs("design.measured.idle_pressure", "design.measured.full_load_pressure", "at.<point>.throttle_body_pressure"), Sources: check,
			Compute: func(c *Calc) any {
				m := &c.Design().Measured
				var measured float64
				switch c.point {
				case Idle:
					measured = SI(c, &m.IdlePressure)
				case FullLoad:
					measured = SI(c, &m.FullLoadPressure)
				default:
					c.unreachable("fuel pressure is measured at idle and full load, not at %s", c.point)
				}
				computed := c.Value("throttle_body_pressure")
				if c.Lacks() {
					return nil
				}
				if computed <= 0 {
					c.ruledOut("throttle_body_pressure")
					return nil
				}
				return measured/computed - 1
			}},
		difference("pump_voltage_deviation", "voltage at the pump", quantity.DimVoltage, "design.measured.pump_voltage", "pump_voltage",
			func(c *Calc) float64 { return SI(c, &c.Design().Measured.PumpVoltage) }),
		difference("pump_current_deviation", "pump current", quantity.DimCurrent, "design.measured.pump_current", "pump_current",
			func(c *Calc) float64 { return SI(c, &c.Design().Measured.PumpCurrent) }),
		difference("controller_ground_deviation", "controller ground offset", quantity.DimVoltage, "design.measured.controller_ground_drop", "controller_ground_offset",
			func(c *Calc) float64 { return SI(c, &c.Design().Measured.ControllerGroundDrop) }),
		difference("battery_voltage_deviation", "battery voltage", quantity.DimVoltage, "design.measured.idle_battery_voltage", "battery_voltage",
			func(c *Calc) float64 { return SI(c, &c.Design().Measured.IdleBatteryVoltage) }),
		{Name: "cranking_voltage_deviation", On: "Battery", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "measured less computed battery voltage while cranking in the workshop",
			Formula: "cranking voltage as measured - workshop cranking voltage",
			Needs:   needs("design.battery.cranking_voltage", "battery.workshop_cranking_voltage"), Sources: check,
			Compute: func(c *Calc) any {
				return SI(c, &Part[schema.Battery](c).CrankingVoltage) - c.Value("workshop_cranking_voltage")
			}},
		{Name: "key_on_pressure_deviation", On: "Measured", Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "manifold pressure reading with the engine stopped less the barometer",
			Formula: "key-on manifold pressure - barometer at the shop, both measured",
			Needs:   needs("design.measured.key_on_manifold_pressure", "design.measured.barometer"), Sources: check,
			Compute: func(c *Calc) any {
				m := Part[schema.Measured](c)
				return SI(c, &m.KeyOnManifoldPressure) - SI(c, &m.Barometer)
			}},
		{Name: "full_load_restriction", On: "Measured", Kind: Quantity, Dimension: quantity.DimPressure,
			Meaning: "pressure lost between outside air and manifold at full load, as measured",
			Formula: "barometer at the shop - manifold pressure at full load",
			Needs:   needs("design.measured.barometer", "design.measured.full_load_manifold_pressure"), Sources: check,
			Compute: func(c *Calc) any {
				m := Part[schema.Measured](c)
				return SI(c, &m.Barometer) - SI(c, &m.FullLoadManifoldPressure)
			}},
	}
}
