package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/plain"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/schema/document"
)

// Command is the program with everything it takes from its surroundings.
type Command struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	// Now is the clock; it decides whether concessions have ended.
	Now func() time.Time
	// Getenv reads the environment: COLUMNS, NO_COLOR, TERM.
	Getenv func(string) string
	// Built is what the program brings along.
	shop.Built

	// Context ends what serves, beside the signals; nil for signals alone.
	Context context.Context

	// shop is the shop the designs belong to.
	shop *shop.Shop
	// mode is what the standard output and a report's file let through.
	mode plain.Mode
}

// Run runs the program with its arguments and returns the exit code.
func (c *Command) Run(args []string) (code int) {
	stdout, stderr := c.Stdout, c.Stderr
	c.Stdout, c.Stderr, c.mode = plain.New(stdout, &c.mode), plain.New(stderr, &plain.Mode{}), plain.Mode{}
	defer func() { c.Stdout, c.Stderr = stdout, stderr }()
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintln(c.Stderr, crash(r))
			code = exit.Failed
		}
	}()
	c.shop = shop.New(c.Built, c.Stdin)
	c.shop.Wrong = c.showWrong
	c.shop.Warn = func(text string) { fmt.Fprintln(c.Stderr, "plumbline: "+text) }
	root := c.root()
	root.SetArgs(args)
	return c.exit(root.Execute())
}

// root is the command line: every verb with its flags.
func (c *Command) root() *cobra.Command {
	var version bool
	root := &cobra.Command{
		Use:   "plumbline",
		Short: "Judge throttle-body fuel injection conversions before, while and after they are built",
		Long: "Plumbline reads a design, the description of one conversion, and says what is wrong with it, what is not known yet, " +
			"what to do and why.\n\n" +
			"Exit codes: 0 nothing blocks; 1 a finding blocks; 2 the input or the command line is wrong; 3 a pack is wrong or the program failed.",
		Args:          verbNamed,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if version {
				return c.printVersion()
			}
			return cmd.Help()
		},
	}
	root.PersistentPreRunE = c.settle
	root.Flags().BoolVar(&version, "version", false, "print the version and the digest of the rule library")
	root.SetIn(c.Stdin)
	root.SetOut(c.Stdout)
	root.SetErr(c.Stderr)
	for _, verb := range c.verbs() {
		root.AddCommand(verb)
	}
	inOwnWords(root)
	return root
}

// verbNamed refuses an argument that is no verb and names the nearest one.
func verbNamed(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, verb := range cmd.Commands() {
		if !verb.Hidden {
			names = append(names, verb.Name())
		}
	}
	if near := document.Nearest(args[0], names); near != "" {
		return fmt.Errorf("there is no verb %q; did you mean %s?", document.Cut(args[0]), near)
	}
	return fmt.Errorf("there is no verb %q", document.Cut(args[0]))
}

// verbs lists the verbs in the order they are needed on a job.
func (c *Command) verbs() []*cobra.Command {
	return []*cobra.Command{
		c.newVerb(),
		c.checkVerb(),
		c.explainVerb(),
		c.compareVerb(), c.sizeVerb(), c.headroomVerb(), c.spreadVerb(), c.fitVerb(), c.shelfVerb(), c.sheetVerb(),
		c.diagnoseVerb(),
		c.pageVerb(),
		c.packVerb(),
		c.schemaVerb(),
		c.editorVerb(),
		c.manVerb(),
	}
}
