package main

import (
	"context"
	"errors"
	"fmt"
	"log"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"

	jobdesk "plumbline/cmd/plumbline/internal/desk"
	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/page"
	"plumbline/cmd/plumbline/internal/shop"
)

// pageFlags are the flags of page.
type pageFlags struct {
	rules, patterns []string
	units, address  string
}

// pageVerb serves a folder to a browser.
func (c *Command) pageVerb() *cobra.Command {
	var f pageFlags
	cmd := &cobra.Command{
		Use:   "page [FOLDER]",
		Short: "Serve a folder of designs as a page, for the counter and the bay",
		Long: "Page prints an address and serves the designs of a folder there until it is stopped: the ways of the vehicle drawn, each part to tap, what is asked, what to buy, " +
			"the start-up sheet as cards, the papers. Every answer is written into the design's file at once; the file stays the design. Nothing is loaded from anywhere else.\n\n" +
			"Without --address only this machine reaches it. With the number of this machine in the shop's network others do too; they are let in by the link that is printed, or its code, and by nothing else. " +
			"What they send is not encrypted: do that in a network you trust.",
		Example: "  plumbline page\n  plumbline page jobs\n  plumbline page jobs --address 192.168.1.5:8080",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			folder := "."
			if len(args) == 1 {
				folder = args[0]
			}
			return c.page(folder, f)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.units, "units", "", "us, metric or both (default: the design's own)")
	flags.StringVar(&f.address, "address", "127.0.0.1:0", "where to serve: a port, or an address of this machine with a port")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	patternsFlag(cmd, &f.patterns)
	return cmd
}

func (c *Command) page(folder string, f pageFlags) error {
	info, err := os.Stat(folder)
	if err != nil {
		return exit.InputError("%s cannot be read: %v", folder, shop.Reason(err))
	}
	if !info.IsDir() {
		return exit.InputError("%s is no folder; name the folder that holds the designs", folder)
	}
	o := jobdesk.Options{Shop: c.shop, Rules: f.rules, Patterns: f.patterns, Now: c.Now}
	if f.units != "" {
		units, err := unitSystem(f.units)
		if err != nil {
			return err
		}
		o.Units = &units
	}
	place, err := page.Listen(f.address)
	if err != nil {
		return exit.InputError("%v", err)
	}
	defer place.Listener.Close()
	d, err := jobdesk.Open(folder, o)
	if err != nil {
		return err
	}
	if c.Getenv("GOGC") == "" {
		debug.SetGCPercent(100) // it lives for days: main's share is for a run of a tenth of a second
	}
	ctx := c.Context
	if ctx == nil {
		ctx = context.Background()
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	called, err := filepath.Abs(folder)
	if err != nil {
		called = folder
	}
	served := page.Options{Desk: d, Hosts: place.Hosts, Folder: filepath.Base(called), Now: c.Now, Log: log.New(c.Stderr, "plumbline: ", 0)}
	if place.Away {
		served.Token, served.Address = page.Token(), place.Address
	}
	if err := c.tellPage(place, served.Token); err != nil {
		return errors.Join(err, d.Close())
	}
	err = page.Serve(ctx, place, page.New(served))
	if err = errors.Join(err, d.Close()); err != nil {
		return exit.Failure(fmt.Errorf("the page ended: %w", err))
	}
	return nil
}

// tellPage prints where the page is.
func (c *Command) tellPage(place *page.Place, token string) error {
	if token == "" {
		_, err := fmt.Fprintf(c.Stdout, "The page is at %s/ for this machine only. Ctrl-C ends it.\n", place.Address)
		return err
	}
	link := page.Link(place.Address, token, "")
	code, err := page.CodeText(link)
	if err != nil {
		return exit.Failure(err)
	}
	_, err = fmt.Fprintf(c.Stdout, "%s\nThe page is at %s\nWhoever has this link is let in. Ctrl-C ends it.\n", code, link)
	return err
}
