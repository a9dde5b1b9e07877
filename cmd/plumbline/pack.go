package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/engine"
	"plumbline/schema/document"
)

// packVerb works on packs of rules.
func (c *Command) packVerb() *cobra.Command {
	pack := &cobra.Command{
		Use:   "pack",
		Short: "Check or list packs of rules",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	pack.AddCommand(c.packCheckVerb(), c.packListVerb())
	return pack
}

func (c *Command) packCheckVerb() *cobra.Command {
	return &cobra.Command{
		Use:   "check [DIR...]",
		Short: "Load packs beside the built-in library and run the cases of their rules",
		Long: "Check loads the built-in library with the packs of the folders given, and runs the cases of every rule in those folders; of the built-in " +
			"library when none is given. Every rule needs a case for each outcome it can have, and a case within 2 percent on either side of each bound.",
		RunE: func(_ *cobra.Command, args []string) error { return c.packCheck(args) },
	}
}

func (c *Command) packCheck(dirs []string) error {
	lib, err := c.load(dirs)
	if err != nil {
		return err
	}
	wanted := wantedPacks(dirs)
	cases, wrong := 0, 0
	rules := map[string]bool{}
	for _, r := range lib.CheckCases() {
		if !wanted(r.Place.File) {
			continue
		}
		rules[r.Rule] = true
		if r.Case != "" {
			cases++
		}
		if r.Problem == "" {
			continue
		}
		wrong++
		c.showCase(lib, r)
	}
	fmt.Fprintf(c.Stdout, "%s in %s; %s.\n", counted(cases, "case"), counted(len(rules), "rule"), wrongWords(wrong))
	if wrong > 0 {
		return &exitError{code: exitFailed}
	}
	return nil
}

// wantedPacks tells the files of the folders from those of the built-in library.
func wantedPacks(dirs []string) func(file string) bool {
	if len(dirs) == 0 {
		return func(string) bool { return true }
	}
	var prefixes []string
	for _, dir := range dirs {
		prefixes = append(prefixes, mountPrefix(dir))
	}
	return func(file string) bool {
		for _, p := range prefixes {
			if strings.HasPrefix(file, p+"/") {
				return true
			}
		}
		return false
	}
}

func (c *Command) showCase(lib *library, r engine.CaseResult) {
	message := r.Rule
	if r.Case != "" {
		message += ", case " + r.Case
	}
	p := document.Problem{Place: r.Place, Message: message + ": " + r.Problem}
	c.showProblems(document.Problems{p}, packText(lib.folders, r.Place.File))
}

func wrongWords(n int) string {
	if n == 0 {
		return "all give what they must"
	}
	return counted(n, "thing") + " wrong"
}

func (c *Command) packListVerb() *cobra.Command {
	var dirs []string
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the packs of the library",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			lib, err := c.load(dirs)
			if err != nil {
				return err
			}
			rules := 0
			for _, p := range lib.Packs() {
				where := ""
				if len(p.Regions) > 0 {
					where = ", in " + strings.Join(p.Regions, ", ")
				}
				fmt.Fprintf(c.Stdout, "%s: %s, edition %d, %s%s\n", p.Pack, p.Title, p.Edition, counted(len(p.Rules), "rule"), where)
				rules += len(p.Rules)
			}
			fmt.Fprintf(c.Stdout, "%s, %s\n", counted(len(lib.Packs()), "pack"), counted(rules, "rule"))
			return nil
		},
	}
	rulesFlag(cmd, &dirs)
	return cmd
}
