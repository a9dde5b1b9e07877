package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/pack"
)

// starterPack is the pack that pack new writes: one rule that a shop may keep or replace, with all its cases.
//
//go:embed starter/pack.yaml
var starterPack string

// starterRegion is the same for the rules of a region.
//
//go:embed starter/region.yaml
var starterRegion string

// packNewVerb starts a pack.
func (c *Command) packNewVerb() *cobra.Command {
	var dir, region string
	cmd := &cobra.Command{
		Use:   "new NAME",
		Short: "Start a pack of rules: a file that loads, with one rule and its cases to change",
		Long: "New writes NAME.yaml into the shop's rules folder (the first of plumbline.yaml, or the one --in names; rules otherwise). " +
			"What it writes passes pack check as it stands; change the rule and its cases together. For a region that has rules already, --region starts " +
			"a pack that adds to them. It writes over no file.",
		Example:     "  plumbline pack new house/hoses\n  plumbline pack new regions/fr --region fr",
		Args:        wants("one pack", false),
		Annotations: map[string]string{"settings": "yes"},
		RunE:        func(_ *cobra.Command, args []string) error { return c.packNew(args[0], dir, region) },
	}
	cmd.Flags().StringVar(&dir, "in", "", "the folder for packs")
	cmd.Flags().StringVar(&region, "region", "", "start the rules of this region")
	return cmd
}

func (c *Command) packNew(name, dir, region string) error {
	if err := pack.CheckNames(name, region); err != nil {
		return exit.InputError("%w", err)
	}
	if dir == "" {
		dir = "rules"
		if len(c.shop.Settings.Rules) > 0 {
			dir = c.shop.Settings.Rules[0]
		}
	}
	file := filepath.Join(dir, filepath.FromSlash(name)+".yaml")
	if _, err := os.Lstat(file); err == nil {
		return exit.InputError("%s is there already", filepath.ToSlash(file))
	}
	lib, err := c.shop.OpenBeside(dir)
	if err != nil {
		return err
	}
	if i := slices.IndexFunc(lib.Packs(), func(p *pack.Pack) bool { return p.Pack == name }); i >= 0 {
		return exit.InputError("there is a pack %s already, in %s; give this one another name", name, lib.Packs()[i].Path)
	}
	text := starterPack
	if region != "" {
		if text, err = startRegion(lib.Library, region); err != nil {
			return err
		}
	}
	text = strings.Replace(text, "pack: NAME", "pack: "+name, 1)
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return exit.InputError("%s cannot be made: %v", filepath.Dir(file), shop.Reason(err))
	}
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return exit.InputError("%s is there already", file)
	}
	if err != nil {
		return exit.InputError("%s cannot be written: %v", file, shop.Reason(err))
	}
	if _, err := f.WriteString(text); err != nil {
		return exit.Failure(errors.Join(err, f.Close()))
	}
	if err := f.Close(); err != nil {
		return exit.Failure(err)
	}
	fmt.Fprintf(c.Stdout, "%s is written. Change it, then: plumbline pack check %s\n", filepath.ToSlash(file), path.Clean(filepath.ToSlash(dir)))
	return nil
}

// startRegion is the pack for a region: one that declares it, or one that adds to a region of the library.
func startRegion(lib *engine.Library, region string) (string, error) {
	known := shop.RegionNames(lib)
	parent, _, has := strings.Cut(region, "-")
	text := starterRegion
	switch {
	case slices.Contains(known, region):
		text = regionBlock.ReplaceAllLiteralString(text, "regions: [REGION]\n")
	case has && !slices.Contains(known, parent):
		return "", exit.InputError("%s lies in %s, for which there are no rules; start those first: plumbline pack new regions/%s --region %s", region, parent, parent, parent)
	}
	return strings.ReplaceAll(text, "REGION", region), nil
}

// regionBlock is what declares the region in the starter.
var regionBlock = regexp.MustCompile(`(?m)^region:\n(  .*\n)+`)
