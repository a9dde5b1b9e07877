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

//go:embed shelf.schema.json
var shelfSchema []byte

// ShelfSchema returns the JSON Schema (draft 2020-12) of a file of a shelf, as committed.
func ShelfSchema() []byte { return slices.Clone(shelfSchema) }

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

//go:embed fit.schema.json
var fitSchema []byte

// FitSchema returns the JSON Schema (draft 2020-12) of what plumbline fit --json prints, as committed.
func FitSchema() []byte { return slices.Clone(fitSchema) }

//go:embed headroom.schema.json
var headroomSchema []byte

// HeadroomSchema returns the JSON Schema (draft 2020-12) of what plumbline headroom --json prints, as committed.
func HeadroomSchema() []byte { return slices.Clone(headroomSchema) }

//go:embed spread.schema.json
var spreadSchema []byte

// SpreadSchema returns the JSON Schema (draft 2020-12) of what plumbline spread --json prints, as committed.
func SpreadSchema() []byte { return slices.Clone(spreadSchema) }

//go:embed compare.schema.json
var compareSchema []byte

// CompareSchema returns the JSON Schema (draft 2020-12) of what plumbline compare --json prints, as committed.
func CompareSchema() []byte { return slices.Clone(compareSchema) }

//go:embed diagnose.schema.json
var diagnoseSchema []byte

// DiagnoseSchema returns the JSON Schema (draft 2020-12) of what plumbline diagnose --json prints, as committed.
func DiagnoseSchema() []byte { return slices.Clone(diagnoseSchema) }
