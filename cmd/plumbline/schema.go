package main

import (
	"github.com/spf13/cobra"

	"plumbline/schema"
)

// schemaVerb prints a JSON Schema, for editors and other programs.
func (c *Command) schemaVerb() *cobra.Command {
	return &cobra.Command{
		Use:       "schema design|pack|report",
		Short:     "Print the JSON Schema of designs, packs or reports",
		Args:      wants("one of design, pack and report", false),
		ValidArgs: []string{"design", "pack", "report"},
		RunE: func(_ *cobra.Command, args []string) error {
			var text []byte
			switch args[0] {
			case "design":
				text = schema.DesignSchema()
			case "pack":
				text = schema.PackSchema()
			case "report":
				text = schema.ReportSchema()
			default:
				return inputError("there is no schema %q; there are design, pack and report", args[0])
			}
			if _, err := c.Stdout.Write(text); err != nil {
				return failure(err)
			}
			return nil
		},
	}
}
