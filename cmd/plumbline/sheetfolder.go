package main

import (
	"bufio"
	"cmp"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/plain"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
)

// papersList is the file of a folder of papers that names them: what is in the folder beside is not ours.
const papersList = "papers.txt"

// allSheets makes every paper of a design into a folder. It is written beside and takes the place of an earlier one, if there is
// nothing in that but papers.
func (c *Command) allSheets(job *sheet.Job, f sheetFlags) error {
	if f.output == "" {
		return exit.InputError("sheet all makes a folder of papers; name it: --output papers")
	}
	folder := filepath.Clean(f.output)
	earlier, err := papersIn(folder)
	if err != nil {
		return err
	}
	beside, err := os.MkdirTemp(filepath.Dir(folder), "."+filepath.Base(folder)+"-*")
	if err != nil {
		return exit.InputError("%s cannot be written: %v", folder, shop.Reason(err))
	}
	defer os.RemoveAll(beside) // what is left of it
	if err := cmp.Or(os.Chmod(beside, 0o755), c.papersInto(beside, job, f)); err != nil {
		return err
	}
	if earlier {
		if err := os.RemoveAll(folder); err != nil {
			return exit.Failure(fmt.Errorf("%s cannot be replaced: %w", folder, shop.Reason(err)))
		}
	}
	if err := os.Rename(beside, folder); err != nil {
		return exit.Failure(fmt.Errorf("%s cannot be written: %w", folder, shop.Reason(err)))
	}
	return nil
}

// papersIn reports whether there is a folder of papers; one with anything else in it is not touched.
func papersIn(folder string) (there bool, err error) {
	info, err := os.Lstat(folder)
	switch {
	case os.IsNotExist(err):
		return false, nil
	case err != nil:
		return false, exit.InputError("%s cannot be read: %v", folder, shop.Reason(err))
	case !info.IsDir():
		return false, exit.InputError("%s is no folder; name a new one for the papers", folder)
	}
	list, err := os.ReadFile(filepath.Join(folder, papersList))
	if err != nil && !os.IsNotExist(err) {
		return false, exit.InputError("%s cannot be read: %v", folder, shop.Reason(err))
	}
	ours := strings.Fields(string(list))
	entries, err := os.ReadDir(folder)
	if err != nil {
		return false, exit.InputError("%s cannot be read: %v", folder, shop.Reason(err))
	}
	for _, e := range entries {
		if e.Type() != 0 || e.Name() != papersList && !slices.Contains(ours, e.Name()) {
			return false, exit.InputError("%s holds %s, which is none of our papers; name another folder", folder, e.Name())
		}
	}
	return true, nil
}

// papersInto writes every paper, and the list of them.
func (c *Command) papersInto(folder string, job *sheet.Job, f sheetFlags) error {
	extension, known := map[string]string{"text": "txt", "markdown": "md", "html": "html", "csv": "csv", "svg": "svg"}[f.format]
	if !known {
		extension = f.format
	}
	var names []string
	for _, k := range sheet.Kinds() {
		paper := f.paper(k.Name, job)
		if f.format == "svg" && !report.HasDrawing(paper) {
			continue
		}
		name := k.Name + "." + extension
		names = append(names, name)
		if err := c.paperFile(filepath.Join(folder, name), paper, f); err != nil {
			return exit.Failure(fmt.Errorf("%s cannot be written: %w", name, shop.Reason(err)))
		}
	}
	return os.WriteFile(filepath.Join(folder, papersList), []byte(strings.Join(names, "\n")+"\n"), fs.FileMode(0o644))
}

func (c *Command) paperFile(name string, paper *sheet.Paper, f sheetFlags) error {
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	b := bufio.NewWriter(plain.New(file, &c.mode))
	return cmp.Or(report.Paper(b, paper, f.format, report.TextOptions{Width: c.width(f.width)}), b.Flush(), file.Close())
}
