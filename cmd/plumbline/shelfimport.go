package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/shelfcsv"
)

// shelfVerb holds what is done with shelves.
func (c *Command) shelfVerb() *cobra.Command {
	cmd := &cobra.Command{Use: "shelf", Short: "Fill a shelf of parts from a supplier's list", Args: wants("one of: import", false)}
	cmd.AddCommand(c.shelfImportVerb())
	return cmd
}

// shelfImportVerb reads a list of parts in CSV into a shelf.
func (c *Command) shelfImportVerb() *cobra.Command {
	var dir, schemaAt string
	var o shelfcsv.Options
	cmd := &cobra.Command{
		Use:   "import FILE.csv",
		Short: "Read a supplier's list in CSV into a file of a shelf",
		Long: "Import reads a table whose first line names the columns: the part's name, price and stock, and facts as people call them, with a unit in brackets " +
			"where the cells hold numbers alone. It tells what each column was taken for and what was not understood; that stands in the file as a remark, and the exit " +
			"code is 2. A file that is there is never written over.",
		Example: "  plumbline shelf import pumps.csv --kind pump --in parts",
		Args:    wants("which list in CSV", false),
		RunE: func(_ *cobra.Command, args []string) error {
			if o.ReadOn == "" {
				o.ReadOn = c.Now().Format(time.DateOnly)
			}
			return c.importShelf(args[0], dir, schemaAt, o)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&dir, "in", "", "the folder of the shelf; without it the text is printed")
	flags.StringVar(&o.Kind, "kind", "", "what the parts are, where no column says it: pump, hose, fuse and so on")
	flags.StringVar(&o.ReadFrom, "read-from", "list", "where the facts were read: part, box, sheet, list or bench")
	flags.StringVar(&o.ReadOn, "read-on", "", "day they were read (default: today)")
	flags.StringVar(&schemaAt, "schema", "", "where the file's JSON Schema lies, for the first line that editors read")
	return cmd
}

func (c *Command) importShelf(file, dir, schemaAt string, o shelfcsv.Options) error {
	if err := choose("read-from", o.ReadFrom, "part", "box", "sheet", "list", "bench"); err != nil {
		return err
	}
	if _, err := time.Parse(time.DateOnly, o.ReadOn); err != nil {
		return exit.InputError("--read-on takes a day, such as 2026-11-20, not %s", document.Cut(o.ReadOn))
	}
	if o.Kind != "" && schema.ShelfKindNamed(o.Kind) == nil {
		var names []string
		for _, k := range schema.ShelfKinds() {
			names = append(names, k.Name)
		}
		return choose("kind", o.Kind, names...)
	}
	data, err := c.shop.Read(shop.Input{Name: file, Path: file})
	if err != nil {
		return err
	}
	out, err := shelfcsv.Read(file, data, o)
	if err != nil {
		return exit.InputError("%v", err)
	}
	for i, text := range out.Files {
		if schemaAt != "" {
			out.Files[i] = "# yaml-language-server: $schema=" + document.Cut(schemaAt) + "\n" + text
		}
	}
	for _, column := range out.Columns {
		fmt.Fprintln(c.Stderr, "column "+column)
	}
	c.showProblems(out.NotUnderstood, out.Text)
	if dir == "" {
		fmt.Fprint(c.Stdout, strings.Join(out.Files, "---\n"))
	} else if err := c.putOnShelf(file, dir, out.Files); err != nil {
		return err
	}
	fmt.Fprintf(c.Stderr, "%s read, %s not understood\n", shop.Counted(out.Parts, "part"), shop.Counted(out.Left, "thing"))
	if out.Left > 0 {
		return &exit.Error{Code: exit.Input}
	}
	return nil
}

// putOnShelf writes the files into the folder, none over one that is there.
func (c *Command) putOnShelf(file, dir string, texts []string) error {
	base := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	var names []string
	for i := range texts {
		name := filepath.Join(dir, base+".yaml")
		if i > 0 {
			name = filepath.Join(dir, fmt.Sprintf("%s-%d.yaml", base, i+1))
		}
		if _, err := os.Lstat(name); err == nil {
			return exit.InputError("%s is there already; move it away, or name the list otherwise", filepath.ToSlash(name))
		}
		names = append(names, name)
	}
	for i, name := range names {
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err == nil {
			_, err = f.WriteString(texts[i])
			err = cmp.Or(err, f.Close())
		}
		if err != nil {
			return exit.InputError("%s cannot be written: %v", filepath.ToSlash(name), shop.Reason(err))
		}
		fmt.Fprintln(c.Stdout, filepath.ToSlash(name))
	}
	return nil
}
