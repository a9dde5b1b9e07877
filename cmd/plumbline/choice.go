package main

import (
	"slices"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine/report"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// choose checks a flag against its words.
func choose(flag, value string, words ...string) error {
	if slices.Contains(words, value) {
		return nil
	}
	hint := ""
	if near := document.Nearest(value, words); near != "" {
		hint = "; did you mean " + near + "?"
	}
	return exit.InputError("--%s takes %s, not %q%s", flag, strings.Join(words, ", "), document.Cut(value), hint)
}

// unitSystem reads --units.
func unitSystem(value string) (quantity.System, error) {
	if err := choose("units", value, "us", "metric", "both"); err != nil {
		return 0, err
	}
	return map[string]quantity.System{"us": quantity.US, "metric": quantity.Metric, "both": quantity.Both}[value], nil
}

// formatWords lists the formats in words.
func formatWords() string {
	last := len(report.Formats) - 1
	return strings.Join(report.Formats[:last], ", ") + " or " + report.Formats[last]
}
