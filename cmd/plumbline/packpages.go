package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine/reference"
	"plumbline/engine/report"
)

// packPagesVerb writes the pages of reference into rules; it is for those who work on the library.
func (c *Command) packPagesVerb() *cobra.Command {
	return &cobra.Command{
		Use:    "pages DIR",
		Short:  "Write the pages of reference of the built-in library into a folder, in Markdown",
		Args:   wants("one folder", false),
		Hidden: true,
		RunE:   func(_ *cobra.Command, args []string) error { return c.packPages(args[0]) },
	}
}

// packPages writes an index, README.md, and the folder of pages it leads to; pages of before that are there no more go.
func (c *Command) packPages(dir string) error {
	lib, err := c.shop.OpenToProve(nil)
	if err != nil {
		return err
	}
	failures, err := report.ReadFailures(lib.Folders...)
	if err != nil {
		return exit.Failure(err)
	}
	if err := removePages(filepath.Join(dir, reference.Folder)); err != nil {
		return exit.Failure(err)
	}
	for name, text := range reference.Pages(lib.Library, failures) {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return exit.Failure(err)
		}
		if err := os.WriteFile(file, text, 0o644); err != nil {
			return exit.Failure(err)
		}
	}
	return nil
}

// removePages takes away the pages that were written into a folder before; what is none stays.
func removePages(dir string) error {
	return filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".md" {
			return ignoreMissing(err)
		}
		text, err := os.ReadFile(name)
		if err != nil || !strings.Contains(string(text), reference.Mark) {
			return err
		}
		return os.Remove(name)
	})
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
