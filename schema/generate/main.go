// Command generate writes the JSON Schemas of the module from its Go types, and the image of its library of rules:
//
//	go run ./schema/generate
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/pack"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/schema/jsonschemagen"
	"plumbline/schema/settings"
)

// entries lists the schemas of the module.
func entries() []jsonschemagen.Entry {
	return []jsonschemagen.Entry{
		{File: "schema/design.schema.json", Written: true, Title: "Conversion design", Root: schema.Design{}, Required: []string{"plumbline"}},
		{File: "schema/shelf.schema.json", Written: true, Title: "Parts of a shelf", Root: schema.ShelfFile{}, Required: []string{"shelf", "parts"}},
		{File: "schema/fit.schema.json", Title: "What of a shelf fits a design", Root: whatif.Fitting{}, Sources: []string{"engine/whatif", "engine", "schema"}},
		{File: "schema/headroom.schema.json", Title: "How far the numbers of a design may move", Root: whatif.Headroom{}, Sources: []string{"engine/whatif", "engine", "engine/pack"}},
		{File: "schema/spread.schema.json", Title: "What becomes of many builds of a design", Root: whatif.Spread{}, Sources: []string{"engine/whatif", "engine", "engine/pack"}},
		{File: "schema/compare.schema.json", Title: "What differs between two designs", Root: whatif.Difference{}, Sources: []string{"engine/whatif", "engine", "engine/pack"}},
		{File: "schema/diagnose.schema.json", Title: "What readings say of a vehicle", Root: diagnose.Diagnosis{}, Sources: []string{"engine/diagnose", "engine", "engine/pack"}},
		{File: "schema/pack.schema.json", Written: true, Title: "Pack of rules", Root: pack.Pack{}, Sources: []string{"engine/pack"}, Types: packTypes()},
		{File: "schema/settings.schema.json", Written: true, Title: "Settings of a shop", Root: settings.File{}, Sources: []string{"schema/settings"}, Required: []string{"shop"}},
		{File: "schema/line.schema.json", Title: "Line on a conversion design", Root: report.Summary{}, Sources: []string{"engine/report"}},
		{File: "schema/report.schema.json", Title: "Report on conversion designs", Root: report.Document{}, Sources: []string{"engine/report", "engine/sheet"}},
	}
}

func main() {
	if err := write(); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

func write() error {
	dir, err := jsonschemagen.ModuleDir()
	if err != nil {
		return err
	}
	for _, e := range entries() {
		text, err := jsonschemagen.Make(dir, e)
		if err != nil {
			return fmt.Errorf("%s: %w", e.File, err)
		}
		if err := os.WriteFile(filepath.Join(dir, e.File), text, 0o644); err != nil {
			return err
		}
	}
	image, err := engine.WriteImage(rules.Files())
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "rules/library.image"), image, 0o644)
}
