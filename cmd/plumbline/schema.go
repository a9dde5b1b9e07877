package main

import (
	"github.com/spf13/cobra"

	"plumbline/schema"
)

// schemaVerb prints a JSON Schema, for editors and other programs.
func (c *Command) schemaVerb() *cobra.Command {
	return &cobra.Command{
		Use:       "schema design|pack|settings|report|line",
		Short:     "Print the JSON Schema of designs, packs, settings (plumbline.yaml), reports or the lines of check --format lines",
		Args:      wants("one of design, pack, settings, report and line", false),
		ValidArgs: []string{"design", "pack", "settings", "report", "line"},
		RunE: func(_ *cobra.Command, args []string) error {
			var text []byte
			switch args[0] {
			case "design":
				text = schema.DesignSchema()
			case "pack":
				text = schema.PackSchema()
			case "settings":
				text = schema.SettingsSchema()
			case "report":
				text = schema.ReportSchema()
			case "line":
				text = schema.LineSchema()
			default:
				return inputError("there is no schema %q; there are design, pack, settings, report and line", args[0])
			}
			if _, err := c.Stdout.Write(text); err != nil {
				return failure(err)
			}
			return nil
		},
	}
}
