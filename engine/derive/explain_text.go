package derive

import (
	"slices"
	"strings"
	"unicode"

	"plumbline/schema/quantity"
)

// ValueText writes a derived value in the given units.
func ValueText(v any, units quantity.System) string {
	if q, ok := v.(quantity.Value); ok {
		return q.Format(units)
	}
	return valueText(v)
}

// FactText writes a fact as the design writes it, with what that is in the
// reader's units: 5/16 in (7.94 mm). Written is empty for an assumed fact.
func FactText(v any, written string, units quantity.System) string {
	q, ok := v.(interface {
		Format(quantity.System) string
		Dimension() quantity.Dimension
	})
	written = strings.TrimSpace(written)
	switch {
	case !ok && written != "":
		return written
	case !ok:
		return valueText(v)
	case written == "":
		return q.Format(units)
	case q.Dimension() == quantity.DimRatio || q.Dimension() == quantity.DimDashSize:
		return written
	}
	us, metric := q.Format(quantity.US), q.Format(quantity.Metric)
	switch american := isAmerican(written); {
	case us == metric, american && units == quantity.US, !american && units == quantity.Metric:
		return written
	case american:
		return written + " (" + metric + ")"
	}
	return written + " (" + us + ")"
}

// isAmerican reports whether a quantity is written in a unit that metric readers do not use.
func isAmerican(text string) bool {
	if strings.ContainsAny(text, `"'`) {
		return true
	}
	words := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(americanUnits, strings.ToLower(w)) })
}

// americanUnits are the words by which isAmerican knows them.
var americanUnits = []string{
	"in", "inch", "inches", "ft", "feet", "foot", "thou", "mile", "miles", "mph", "psi", "psia", "psig", "inhg", "inh",
	"gal", "gallon", "gallons", "gph", "gpm", "qt", "oz", "cfm", "cu", "degf", "f", "hp", "lb", "lbs", "lbf", "awg", "sae", "btu",
}
