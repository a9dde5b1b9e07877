package main

import (
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
)

// manVerb writes the man pages; packagers call it.
func (c *Command) manVerb() *cobra.Command {
	return &cobra.Command{
		Use:    "man DIR",
		Short:  "Write the man pages into a folder",
		Args:   wants("one folder for the pages", false),
		Hidden: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return exit.InputError("%s cannot be made: %v", args[0], shop.Reason(err))
			}
			now := c.Now()
			root := cmd.Root()
			root.DisableAutoGenTag = true
			if err := doc.GenManTree(root, &doc.GenManHeader{Title: "PLUMBLINE", Section: "1", Date: &now}, args[0]); err != nil {
				return exit.Failure(err)
			}
			return nil
		},
	}
}
