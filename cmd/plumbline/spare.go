package main

import (
	"io"
	"os"
	"path/filepath"
	"regexp"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// spare refuses to write the report over a design that is judged.
func spare(output string, list []input) error {
	out, err := os.Stat(output)
	if output == "" || err != nil {
		return nil
	}
	for _, in := range list {
		if info, err := os.Stat(in.path); err == nil && os.SameFile(out, info) {
			return inputError("the report would be written over the design %s; write it elsewhere", in.name)
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
	if filepath.Base(output) == settingsName {
		return inputError("the report would be written over the settings %s; write it elsewhere", output)
	}
	data, err := c.read(input{name: output, path: output})
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
				return inputError("the report would be written over the design %s; write it elsewhere", output)
			case "pack", "sources", "catalogue":
				return inputError("the report would be written over the %s %s; write it elsewhere", key.Value, output)
			}
		}
	}
	return nil
}

// storedKind is the kind of a report that check wrote as JSON.
const storedKind = "stored report"

var reportHead = regexp.MustCompile(`^\s*\{\s*"format":\s*[0-9]+,\s*"program":\s*\{\s*"name":\s*"Plumbline"`)

// isReport tells a stored report by its beginning; a report may be longer than a design may be.
func isReport(name string) bool {
	f, err := os.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 512)
	n, _ := io.ReadFull(f, head)
	return reportHead.Match(head[:n])
}
