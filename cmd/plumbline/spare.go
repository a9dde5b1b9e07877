package main

import (
	"cmp"
	"io"
	"os"
	"path/filepath"
	"regexp"

	"gopkg.in/yaml.v3"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/schema/document"
)

// spare refuses to write the report over a design that is judged.
func spare(output string, list []shop.Input) error {
	out, err := os.Stat(output)
	if output == "" || err != nil {
		return nil
	}
	for _, in := range list {
		if info, err := os.Stat(in.Path); err == nil && os.SameFile(out, info) {
			return exit.InputError("the report would be written over the design %s; write it elsewhere", in.Name)
		}
	}
	return nil
}

// spareWork refuses to write the report over a file that somebody wrote by hand: a design that is not judged now, a
// pack, a shop's settings.
func (c *Command) spareWork(output string) error {
	if output == "" {
		return nil
	}
	info, err := os.Stat(output)
	if err != nil || !info.Mode().IsRegular() || info.Size() == 0 {
		return nil
	}
	if filepath.Base(output) == shop.SettingsName {
		return exit.InputError("the report would be written over the settings %s; write it elsewhere", output)
	}
	data, err := c.shop.Read(shop.Input{Name: output, Path: output})
	if err != nil {
		return nil // longer than any of them
	}
	root, _ := document.Parse(output, data)
	if root == nil {
		return nil
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		if key := root.Content[i]; key.Kind == yaml.ScalarNode {
			switch key.Value {
			case "plumbline":
				return exit.InputError("the report would be written over the design %s; write it elsewhere", output)
			case "pack", "sources", "catalogue", "shelf":
				return exit.InputError("the report would be written over the %s %s; write it elsewhere", key.Value, output)
			}
		}
	}
	return nil
}

// spareOthers refuses to write a report that settings name over anything but an earlier report.
func (c *Command) spareOthers(output string) error {
	if output == "" || output != c.shop.Settings.Output {
		return nil
	}
	if !c.inTheOpen(output) {
		return exit.InputError("%s: the output %s leads into a hidden folder; name another file", c.shop.Settings.File, output)
	}
	info, err := os.Lstat(output)
	if err != nil || info.Mode().IsRegular() && (info.Size() == 0 || isReport(output) || isTextReport(output)) {
		return nil
	}
	return exit.InputError("%s: the output %s is there and is no report of this program; move it away, or name another file", c.shop.Settings.File, output)
}

// inTheOpen reports whether the folder of a file, wherever links lead, is below none that is hidden.
func (c *Command) inTheOpen(output string) bool {
	root, err := filepath.EvalSymlinks(cmp.Or(filepath.Dir(c.shop.Settings.File), "."))
	if err != nil {
		return false
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(output))
	if err != nil {
		return true // not there: writing will say so
	}
	rel, err := shop.Relative(root, filepath.Join(folder, filepath.Base(output)))
	return err == nil && shop.ReportName(rel)
}

// isTextReport tells an earlier report in any other format by its beginning or its end.
func isTextReport(name string) bool {
	f, err := shop.OpenFile(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head, tail := make([]byte, 4096), make([]byte, 512)
	n, _ := io.ReadFull(f, head)
	head = head[:n]
	if end, err := f.Seek(0, io.SeekEnd); err == nil {
		_, _ = f.Seek(max(0, end-int64(len(tail))), io.SeekStart)
	}
	n, _ = io.ReadFull(f, tail)
	return otherHead.Match(head) || textTail.Match(tail[:n])
}

// otherHead begins a report in SARIF, Markdown, lines, or a comparison in text; textTail ends one in text.
var (
	otherHead = regexp.MustCompile(`^(\{\n"\$schema": "[^"\n]*/sarif-schema-2\.1\.0\.json",\n"version": "2\.1\.0",\n"runs": \[\{\n"|## Conversion designs( since [^\n]+)?\n|\{"design":"[^\n]*"counts":\{"pass":|(Nothing is|[0-9]+ findings? (is|are)) new since )`)
	textTail  = regexp.MustCompile(`\nTo mend: [0-9]+; doubtful: [0-9]+; not judged yet: [0-9]+; in order: [0-9]+; not for this vehicle: [0-9]+\.\n$`)
)

// storedKind is the kind of a report that check wrote as JSON.
const storedKind = "stored report"

var reportHead = regexp.MustCompile(`^\s*\{\s*"format":\s*[0-9]+,\s*"program":\s*\{\s*"name":\s*"Plumbline"`)

// isReport tells a stored report by its beginning; a report may be longer than a design may be.
func isReport(name string) bool {
	f, err := shop.OpenFile(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 512)
	n, _ := io.ReadFull(f, head)
	return reportHead.Match(head[:n])
}
