package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/engine"
	"plumbline/engine/glossary"
	"plumbline/engine/pattern"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/words"
)

// library is the built-in library with the folders of local packs.
type library struct {
	*engine.Library
	folders []fs.FS
}

// rulesFlag adds --rules to a verb.
func rulesFlag(cmd *cobra.Command, dirs *[]string) {
	cmd.Flags().StringArrayVar(dirs, "rules", nil, "also judge by the packs in this folder; may be given again")
}

// patternsFlag adds --patterns to a verb.
func patternsFlag(cmd *cobra.Command, dirs *[]string) {
	cmd.Flags().StringArrayVar(dirs, "patterns", nil, "also lean on the usual ways in this folder; one named like a built-in one takes its place")
}

// patterns reads the built-in patterns and those of folders.
func (c *Command) patterns(dirs []string) ([]*pattern.Pattern, error) {
	var folders []fs.FS
	if c.Patterns != nil {
		folders = append(folders, c.Patterns)
	}
	for _, dir := range dirs {
		folder, err := mount(dir)
		if err != nil {
			return nil, err
		}
		folders = append(folders, folder)
	}
	list, err := pattern.Read(folders...)
	var problems document.Problems
	if errors.As(err, &problems) {
		for _, p := range problems {
			c.showProblems(document.Problems{p}, packText(folders, p.Place.File))
		}
		return nil, failure(fmt.Errorf("the patterns have %s", counted(len(problems), "problem")))
	}
	if err != nil {
		return nil, failure(err)
	}
	return list, nil
}

// regionFlag adds --region to a verb.
func regionFlag(cmd *cobra.Command, names *[]string) {
	cmd.Flags().StringSliceVar(names, "region", nil, "judge for these regions instead of those the design names: gb,de")
}

// regions checks the regions of the shop's settings, and those of the command line.
func (c *Command) regions(lib *engine.Library, names []string) ([]string, error) {
	if _, err := regions(lib, c.shop.regions); err != nil {
		return nil, inputError("%s: %w", c.shop.file, err)
	}
	return regions(lib, names)
}

// regions checks the names of regions: each is declared by a pack, or lies in one that is.
func regions(lib *engine.Library, names []string) ([]string, error) {
	known := regionNames(lib)
	for _, name := range names {
		parent, _, _ := strings.Cut(name, "-")
		if slices.Contains(known, name) || parent != name && slices.Contains(known, parent) {
			continue
		}
		hint := "; known are " + strings.Join(known, ", ")
		if near := document.Nearest(name, known); near != "" {
			hint = "; did you mean " + near + "?"
		}
		if meant := words.Of("Design", "regions").Meant(name); len(meant) == 1 {
			hint = "; for " + document.Cut(name) + " write " + meant[0].Word
		}
		return nil, inputError("there are no rules for the region %q%s", document.Cut(name), hint)
	}
	return names, nil
}

func regionNames(lib *engine.Library) []string {
	var known []string
	for _, r := range lib.Regions() {
		known = append(known, r.Name)
	}
	return known
}

// knownRegions lists the regions for a message.
func knownRegions(lib *engine.Library) string { return strings.Join(regionNames(lib), ", ") }

// defaults fills in the shop's region and stage where the design states none.
func (c *Command) defaults(d *schema.Design, o engine.Options) engine.Options {
	if len(o.Regions) == 0 && !d.Regions.Known() {
		o.Regions = c.shop.regions
	}
	if _, stated := d.Stage.Get(); o.Stage == "" && !stated {
		o.Stage = c.shop.stage
	}
	return o
}

// load loads the built-in library and local packs.
func (c *Command) load(dirs []string) (*library, error) {
	return c.loadFolders(nil, dirs)
}

// loadToJudge is load without the cases of the built-in rules: those come from their image.
func (c *Command) loadToJudge(dirs []string) (*library, error) {
	return c.loadFolders(c.Image, dirs)
}

// loadToExplain is load; of packs that are wrong it only says so and takes the built-in library alone, since names are looked up
// to mend them.
func (c *Command) loadToExplain(dirs []string) (*library, error) {
	lib, folders, err := c.openFolders(nil, dirs)
	var problems document.Problems
	if !errors.As(err, &problems) || len(dirs) == 0 {
		return lib, c.showPacks(folders, err)
	}
	fmt.Fprintf(c.Stderr, "plumbline: the packs of %s have %s and are left out: plumbline pack check tells them\n", strings.Join(dirs, ", "), counted(len(problems), "problem"))
	return c.loadFolders(nil, nil)
}

func (c *Command) loadFolders(image []byte, dirs []string) (*library, error) {
	lib, folders, err := c.openFolders(image, dirs)
	return lib, c.showPacks(folders, err)
}

// showPacks shows what is wrong with packs.
func (c *Command) showPacks(folders []fs.FS, err error) error {
	var problems document.Problems
	if !errors.As(err, &problems) {
		return err
	}
	for _, p := range problems {
		c.showProblems(document.Problems{p}, packText(folders, p.Place.File))
	}
	return failure(fmt.Errorf("the packs have %s", counted(len(problems), "problem")))
}

// openFolders opens the built-in library with the packs of folders; the error may hold what is wrong with them.
func (c *Command) openFolders(image []byte, dirs []string) (*library, []fs.FS, error) {
	folders := []fs.FS{c.Rules}
	for _, dir := range dirs {
		folder, err := mount(dir)
		if err != nil && slices.Contains(c.shop.rules, dir) {
			return nil, folders, inputError("%s: %w", c.shop.file, err)
		}
		if err != nil {
			return nil, folders, err
		}
		folders = append(folders, folder)
	}
	lib, err := c.open(image, folders)
	var problems document.Problems
	switch {
	case err == nil:
		return &library{lib, folders}, folders, nil
	case errors.As(err, &problems):
		return nil, folders, err
	}
	return nil, folders, failure(err)
}

// open opens the built-in library by its image, if there is one and it belongs to the packs, as it does in every program
// that was built after go generate.
func (c *Command) open(image []byte, folders []fs.FS) (*engine.Library, error) {
	if image != nil {
		lib, err := engine.OpenImage(folders[0], image, folders[1:]...)
		if !errors.Is(err, engine.ErrImage) {
			return lib, err
		}
		fmt.Fprintln(c.Stderr, "plumbline: "+err.Error()+"; the packs are compiled instead")
	}
	return engine.Load(folders...)
}

// packText returns the text of a pack file, nil when it cannot be read.
func packText(folders []fs.FS, name string) []byte {
	for _, folder := range folders {
		f, err := folder.Open(name)
		if err != nil {
			continue
		}
		defer f.Close()
		if data, err := io.ReadAll(io.LimitReader(f, document.MaxBytes)); err == nil {
			return data
		}
	}
	return nil
}

// glossaryOf is the glossary of the library, with the known failures of all its folders.
func glossaryOf(l *library) (*glossary.Glossary, error) {
	failures, err := report.ReadFailures(l.folders...)
	return glossary.New(l.Library, failures), err
}

// about describes the library for the head of a report.
func (l *library) about() (report.About, error) {
	sum, err := digest(l.folders...)
	if err != nil {
		return report.About{}, failure(err)
	}
	return report.About{Version: programVersion(), Digest: sum, Packs: l.Packs()}, nil
}

// digest is the SHA-256 over the base names and bytes of all pack files, in order; it does not depend on where they lie.
func digest(folders ...fs.FS) (string, error) {
	sum := sha256.New()
	for _, folder := range folders {
		err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
				return err
			}
			data, err := fs.ReadFile(folder, name)
			fmt.Fprintf(sum, "%s\n%d\n", path.Base(name), len(data))
			sum.Write(data)
			return err
		})
		if err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// counted writes a number with a noun that takes an s.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
