package main

import "github.com/spf13/cobra"

// shelfFlag adds --shelf to a verb that reads designs.
func (c *Command) shelfFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.shop.ShelfDir, "shelf", "", "the folder of parts that designs may name")
}
