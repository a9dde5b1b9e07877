package derive

import (
	"strings"

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
	likeUS, likeMetric := sameUnit(written, us), sameUnit(written, metric)
	switch {
	case likeUS && (likeMetric || units == quantity.US), likeMetric && units == quantity.Metric:
		return written
	case units == quantity.US:
		return written + " (" + us + ")"
	case units == quantity.Metric, likeUS:
		return written + " (" + metric + ")"
	case likeMetric:
		return written + " (" + us + ")"
	case us == metric:
		return written + " (" + us + ")"
	}
	return written + " (" + us + ", " + metric + ")"
}

// sameUnit reports whether two quantities are written with the same unit.
func sameUnit(a, b string) bool { return unitOf(a) == unitOf(b) }

// unitOf is what follows the number of a quantity.
func unitOf(s string) string {
	return strings.ReplaceAll(strings.TrimLeft(s, "+-0123456789.,/ "), " ", "")
}
