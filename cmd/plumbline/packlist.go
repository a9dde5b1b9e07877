package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/glossary"
)

// packListVerb lists the packs, and where the limits have their values from.
func (c *Command) packListVerb() *cobra.Command {
	var dirs []string
	var limits bool
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the packs of the library, and what local packs change in it",
		Long: "List prints every pack, then every limit and rule that a local pack made stricter or milder, with where its value comes from. " +
			"--limits prints all limits instead.",
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			lib, err := c.shop.OpenToProve(dirs)
			if err != nil {
				return err
			}
			if limits {
				for _, l := range lib.Limits() {
					printLimit(c.Stdout, &l)
				}
				return nil
			}
			listPacks(c.Stdout, lib.Library)
			return nil
		},
	}
	cmd.Flags().BoolVar(&limits, "limits", false, "list every limit with its value and where that comes from")
	rulesFlag(cmd, &dirs)
	return cmd
}

func listPacks(w io.Writer, lib *engine.Library) {
	rules := 0
	for _, p := range lib.Packs() {
		where := ""
		if len(p.Regions) > 0 {
			where = ", in " + strings.Join(p.Regions, ", ")
		}
		fmt.Fprintf(w, "%s: %s, edition %d, %s%s\n", p.Pack, p.Title, p.Edition, shop.Counted(len(p.Rules), "rule"), where)
		rules += len(p.Rules)
	}
	fmt.Fprintf(w, "%s, %s\n", shop.Counted(len(lib.Packs()), "pack"), shop.Counted(rules, "rule"))
	first := true
	heading := func() {
		if first {
			fmt.Fprintln(w, "\nChanged by local packs:")
			first = false
		}
	}
	for _, l := range lib.Limits() {
		if len(l.Steps) > 1 {
			heading()
			printLimit(w, &l)
		}
	}
	for _, p := range lib.Packs() {
		for i := range p.Override {
			if !p.Local || len(lib.Overridden(p.Override[i].Names())) == 0 {
				continue
			}
			heading()
			for _, o := range lib.Overridden(p.Override[i].Names()) {
				if o.Place == p.Override[i].Place {
					fmt.Fprintf(w, "%s: %s in %s instead of %s, by %s\n", o.What, o.To, o.Region, o.From, p.Pack)
				}
			}
		}
		for _, x := range p.Raise {
			heading()
			fmt.Fprintf(w, "rule %s: should is a must, raised by %s: %s\n", x.Rule, p.Pack, x.Reason)
		}
		for _, x := range p.Loosen {
			if x.Rule != "" {
				heading()
				fmt.Fprintf(w, "rule %s: must is a should, loosened by %s: %s\n", x.Rule, p.Pack, x.Reason)
			}
		}
	}
}

// printLimit prints a limit, which way it grows stricter, and the steps its value took.
func printLimit(w io.Writer, l *engine.LimitValue) {
	stricter := "used both ways"
	if l.Stricter != "" {
		stricter = l.Stricter + " is stricter"
	}
	fmt.Fprintf(w, "limit %s: %s (%s)", l.Name, l.Value.Text, stricter)
	if len(l.Steps) == 1 {
		fmt.Fprintf(w, ", set at %s\n", l.Steps[0].Place)
		return
	}
	fmt.Fprintln(w)
	for _, s := range l.Steps {
		fmt.Fprintln(w, "    "+glossary.StepWords(s))
	}
}
