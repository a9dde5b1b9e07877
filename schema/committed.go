package schema

import (
	_ "embed"
	"slices"
)

//go:embed pack.schema.json
var packSchema []byte

//go:embed report.schema.json
var reportSchema []byte

//go:embed line.schema.json
var lineSchema []byte

//go:embed settings.schema.json
var settingsSchema []byte

// SettingsSchema returns the JSON Schema (draft 2020-12) of a shop's plumbline.yaml, as committed.
func SettingsSchema() []byte { return slices.Clone(settingsSchema) }

// PackSchema returns the JSON Schema (draft 2020-12) of a pack of rules, as committed.
func PackSchema() []byte { return slices.Clone(packSchema) }

// ReportSchema returns the JSON Schema (draft 2020-12) of the JSON report, as committed.
func ReportSchema() []byte { return slices.Clone(reportSchema) }

// LineSchema returns the JSON Schema (draft 2020-12) of a line of `check --format lines`, as committed.
func LineSchema() []byte { return slices.Clone(lineSchema) }
