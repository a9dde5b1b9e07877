package main

import (
	"github.com/spf13/cobra"

	"plumbline/schema"
)

// schemaVerb prints a JSON Schema, for editors and other programs.
func (c *Command) schemaVerb() *cobra.Command {
	var dirs []string
	cmd := &cobra.Command{
		Use:       "schema design|pack|report|line",
		Short:     "Print the JSON Schema of designs, packs, reports or the lines of check --format lines",
		Args:      wants("one of design, pack, report and line", false),
		ValidArgs: []string{"design", "pack", "report", "line"},
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
			case "report":
				text = schema.ReportSchema()
			case "line":
				text = schema.LineSchema()
			default:
				return inputError("there is no schema %q; there are design, pack, report and line", args[0])
			}
			if _, err := c.Stdout.Write(text); err != nil {
				return failure(err)
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
	lib, err := c.loadToJudge(dirs)
	if err != nil {
		return nil, err
	}
	text, err := lib.Declared().Schema()
	if err != nil {
		return nil, failure(err)
	}
	return text, nil
}
