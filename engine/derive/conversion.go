package derive

import (
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// conversionEntries are what the conversion's circuits live on: the battery, or the converter between them and a battery
// of another voltage.
func conversionEntries() []Entry {
	behind := sources(physics("a converter holds its output whatever its input does"))
	return []Entry{
		{Name: "conversion_voltage", On: "Battery", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "nominal voltage of the conversion's circuits",
			Formula: "12 V behind a converter, else that of the vehicle",
			Needs:   needs("design.battery.system_voltage", "design.battery.converter"), Sources: behind,
			Compute: func(c *Calc) any {
				if converter(c) != nil {
					return 12.0
				}
				return SI(c, &Part[schema.Battery](c).SystemVoltage)
			}},
		{Name: "conversion_rest_voltage", On: "Battery", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage the conversion's circuits start from with the engine off",
			Formula: "the converter's output behind one, else the battery's rest voltage",
			Needs:   needs("design.battery.rest_voltage", "design.battery.system_voltage", "design.battery.converter"), Sources: behind,
			Compute: func(c *Calc) any { return behindConverter(c, &Part[schema.Battery](c).RestVoltage) }},
		{Name: "conversion_cranking_voltage", On: "Battery", Kind: Quantity, Dimension: quantity.DimVoltage,
			Meaning: "voltage the conversion's circuits start from while cranking in the workshop",
			Formula: "the converter's output behind one, else the battery's cranking voltage as measured",
			Needs:   needs("design.battery.cranking_voltage", "design.battery.system_voltage", "design.battery.converter"), Sources: behind,
			Compute: func(c *Calc) any { return behindConverter(c, &Part[schema.Battery](c).CrankingVoltage) }},
	}
}

// behindConverter is the converter's output where there is one, else the battery's own voltage, V.
func behindConverter(c *Calc, own *schema.Fact[quantity.Voltage]) float64 {
	if v := converter(c); v != nil {
		return SI(c, &v.OutputVoltage)
	}
	return SI(c, own)
}
