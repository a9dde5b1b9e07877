package main

import (
	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema"
)

// schemaVerb prints a JSON Schema, for editors and other programs.
func (c *Command) schemaVerb() *cobra.Command {
	var dirs []string
	cmd := &cobra.Command{
		Use:       "schema design|pack|shelf|settings|report|fit|headroom|spread|compare|diagnose|line",
		Short:     "Print the JSON Schema of designs, packs, shelves, settings (plumbline.yaml), reports, the lines of check --format lines, or what fit, headroom, spread, compare and diagnose print with --json",
		Args:      wants("one of design, pack, shelf, settings, report, fit, headroom, spread, compare, diagnose and line", false),
		ValidArgs: []string{"design", "pack", "shelf", "settings", "report", "fit", "headroom", "spread", "compare", "diagnose", "line"},
		RunE: func(_ *cobra.Command, args []string) error {
			var text []byte
			switch args[0] {
			case "design":
				var err error
				if text, err = c.designSchema(dirs); err != nil {
					return err
				}
			case "pack":
				text = schema.PackSchema()
			case "shelf":
				text = schema.ShelfSchema()
			case "settings":
				text = schema.SettingsSchema()
			case "report":
				text = schema.ReportSchema()
			case "fit":
				text = schema.FitSchema()
			case "headroom":
				text = schema.HeadroomSchema()
			case "spread":
				text = schema.SpreadSchema()
			case "compare":
				text = schema.CompareSchema()
			case "diagnose":
				text = schema.DiagnoseSchema()
			case "line":
				text = schema.LineSchema()
			default:
				return exit.InputError("there is no schema %q; there are design, pack, shelf, settings, report, fit, headroom, spread, compare, diagnose and line", args[0])
			}
			if _, err := c.Stdout.Write(text); err != nil {
				return exit.Failure(err)
			}
			return nil
		},
	}
	rulesFlag(cmd, &dirs)
	return cmd
}

// designSchema is the schema of designs, with the facts that the shop's packs declare.
func (c *Command) designSchema(dirs []string) ([]byte, error) {
	if len(dirs) == 0 {
		return schema.DesignSchema(), nil
	}
	lib, err := c.shop.Open(dirs)
	if err != nil {
		return nil, err
	}
	text, err := lib.Declared().Schema()
	if err != nil {
		return nil, exit.Failure(err)
	}
	return text, nil
}
