package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
)

// rulesFlag adds --rules to a verb.
func rulesFlag(cmd *cobra.Command, dirs *[]string) {
	cmd.Flags().StringArrayVar(dirs, "rules", nil, "also judge by the packs in this folder; may be given again")
}

// patternsFlag adds --patterns to a verb.
func patternsFlag(cmd *cobra.Command, dirs *[]string) {
	cmd.Flags().StringArrayVar(dirs, "patterns", nil, "also lean on the usual ways in this folder; one named like a built-in one takes its place")
}

// regionFlag adds --region to a verb.
func regionFlag(cmd *cobra.Command, names *[]string) {
	cmd.Flags().StringSliceVar(names, "region", nil, "judge for these regions instead of those the design names: gb,de")
}

// settle looks for the settings of what a verb is given and applies them to the flags that were not given.
func (c *Command) settle(cmd *cobra.Command, args []string) error {
	if cmd.Flags().Lookup("rules") == nil && cmd.Annotations["settings"] == "" {
		return nil
	}
	file, err := shop.SettingsOf(places(cmd, args))
	if err != nil || file == "" {
		return err
	}
	s, err := c.shop.ReadSettings(file)
	if err != nil {
		return err
	}
	c.shop.Settings = *s
	given := map[string]bool{}
	for _, x := range s.Flags {
		f := cmd.Flags().Lookup(x.Flag)
		if f == nil || f.Changed && !given[x.Flag] {
			continue
		}
		given[x.Flag] = true
		if err := cmd.Flags().Set(x.Flag, x.Value); err != nil {
			return exit.InputError("%s: %v", file, err)
		}
	}
	return nil
}

// places are the files and folders a verb is given; the working directory when there is none.
func places(cmd *cobra.Command, args []string) []string {
	if cmd.Name() == "explain" && len(args) == 2 {
		args = args[1:]
	}
	if cmd.Name() == "new" && len(args) == 1 {
		args = []string{filepath.Dir(args[0])} // the file may not be there yet
	}
	var out []string
	for _, a := range args {
		a = filepath.ToSlash(a)
		info, err := os.Stat(a)
		if err == nil && info.IsDir() && cmd.Name() == "check" && cmd.Parent() == cmd.Root() {
			out = append(out, shop.FoldersOf(a)...)
		} else if err == nil {
			out = append(out, a)
		}
	}
	if len(out) == 0 {
		return []string{"."}
	}
	return out
}

// glossaryOf is the glossary of the library, with the known failures of all its folders.
func glossaryOf(l *shop.Library) (*glossary.Glossary, error) {
	failures, err := report.ReadFailures(l.Folders...)
	return glossary.New(l.Library, failures), err
}

// aboutOf describes the library for the head of a report.
func aboutOf(l *shop.Library) (report.About, error) {
	sum, err := shop.Digest(l.Folders...)
	if err != nil {
		return report.About{}, exit.Failure(err)
	}
	return report.About{Version: programVersion(), Digest: sum, Packs: l.Packs()}, nil
}
