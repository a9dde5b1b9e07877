package schema

import (
	"regexp"

	"plumbline/schema/quantity"
)

var (
	usUnits     = regexp.MustCompile(`(?i)[0-9 /](psi|psig|psia|in|inHg|inch|inches|lbs?|gal|gph|ft|feet|AWG|gauge|ga|degF|F|cid?|cu|cfm|mi|miles|oz)\b|"`)
	metricUnits = regexp.MustCompile(`(?i)[0-9 /](bar|kPa|mm2?|cm|m|km|L|lph|cc|ccm|kW|PS|kg|g|degC|C|um)\b`)
)

// Habit is the system most of a design's quantities are written in: US or Metric, Both when neither leads.
func Habit(d *Design) quantity.System {
	us, metric := 0, 0
	Walk(d, func(v Visit) {
		if v.Kind != KindQuantity || !IsStated(v.Reading) {
			return
		}
		text := v.Reading.Text()
		if usUnits.MatchString(text) {
			us++
		}
		if metricUnits.MatchString(text) {
			metric++
		}
	})
	switch {
	case us > metric:
		return quantity.US
	case metric > us:
		return quantity.Metric
	}
	return quantity.Both
}
