package derive

import (
	"fmt"
	"slices"
	"strconv"

	"plumbline/schema/quantity"
)

// missingBelow reports whether a derived input already names the missing fact.
func missingBelow(inputs []Input, path string) bool {
	for _, in := range inputs {
		if in.Derived != nil && slices.Contains(in.Derived.Missing, path) {
			return true
		}
	}
	return false
}

// valueText writes a value for a reader, numbers with four figures.
func valueText(v any) string {
	switch v := v.(type) {
	case nil:
		return "unknown"
	case quantity.Value:
		return v.String()
	case float64:
		return strconv.FormatFloat(v, 'g', 4, 64)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	}
	return fmt.Sprint(v)
}
