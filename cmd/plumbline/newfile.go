package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/engine/report"
	"plumbline/schema/amend"
	"plumbline/schema/document"
)

// draft is the file of a design that is being written.
type draft struct {
	name string
	// path is where the file is, behind a link if it is one.
	path string
	text []byte
	// saved is what the file holds, nil when there is none yet.
	saved []byte
	// began is true when the file was there before.
	began bool
	mode  fs.FileMode
}

// openDraft reads a design to go on with, or begins one.
func openDraft(name string) (*draft, error) {
	switch ext := strings.ToLower(filepath.Ext(name)); {
	case name == "-":
		return nil, inputError("new needs a file to write into; the standard input holds the answers")
	case filepath.Base(name) == settingsName:
		return nil, inputError("%s is the name of a shop's settings; name the design otherwise", settingsName)
	case ext != ".yaml" && ext != ".yml":
		return nil, inputError("new writes YAML; give the file a name that ends in .yaml")
	}
	d := &draft{name: filepath.ToSlash(name), path: name, text: []byte("plumbline: 1\n"), mode: 0o644}
	if path, err := filepath.EvalSymlinks(name); err == nil {
		d.path = path
	}
	info, err := os.Stat(d.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return d, nil
	case err != nil:
		return nil, inputError("%s cannot be read: %v", name, reason(err))
	case plainFile(name, info) != nil:
		return nil, inputError("%s cannot be read: %v", name, reason(plainFile(name, info)))
	case info.Size() > document.MaxBytes:
		return nil, inputError("%s has %d bytes; at most %d are read", name, info.Size(), document.MaxBytes)
	}
	if d.saved, err = os.ReadFile(d.path); err != nil {
		return nil, inputError("%s cannot be read: %v", name, reason(err))
	}
	d.mode = info.Mode().Perm()
	if len(bytes.TrimSpace(d.saved)) > 0 { // a file with nothing in it is a new one
		d.text, d.began = d.saved, true
	}
	return d, nil
}

// base writes the template into a draft that is new, as a path from the draft's folder.
func (d *draft) base(template string) error {
	info, err := os.Stat(template)
	if err == nil {
		err = plainFile(template, info)
	}
	if err != nil {
		return inputError("the template %s cannot be read: %v", template, reason(err))
	}
	from, err := relative(filepath.Dir(d.name), template)
	if err != nil {
		return inputError("the template %s cannot be named from %s: %v", template, d.name, err)
	}
	if d.began {
		var stated struct {
			BasedOn string `yaml:"based_on"`
		}
		if err := yaml.Unmarshal(d.text, &stated); err != nil || stated.BasedOn != from {
			return inputError("%s is there already; --from begins a new file. To change its template, write based_on: %s into it", d.name, from)
		}
		return nil
	}
	return d.set("based_on", amend.Text(from))
}

// relative is a file as seen from a folder, with slashes.
func relative(folder, file string) (string, error) {
	dir, err := filepath.Abs(folder)
	if err != nil {
		return "", err
	}
	full, err := filepath.Abs(file)
	if err != nil {
		return "", err
	}
	rel, err := filepath.Rel(dir, full)
	if err != nil {
		rel = full
	}
	return filepath.ToSlash(rel), nil
}

// place writes the regions into the draft.
func (d *draft) place(regions []string) error {
	var names []*yaml.Node
	for _, r := range regions {
		names = append(names, amend.Plain(r))
	}
	return d.set("regions", amend.List(names...))
}

func (d *draft) set(key string, value *yaml.Node) error {
	text, err := amend.Set(d.name, d.text, []amend.Step{{Key: key, Item: amend.Whole}}, value)
	if err != nil {
		return inputError("%s: %v", d.name, err)
	}
	d.text = text
	return nil
}

// save writes a text into the file, whole or not at all. It refuses when somebody else changed the file meanwhile.
func (d *draft) save(text []byte) error {
	if d.saved != nil && bytes.Equal(text, d.saved) {
		return nil
	}
	now, err := os.ReadFile(d.path)
	if d.saved == nil && err == nil || d.saved != nil && !bytes.Equal(now, d.saved) {
		return inputError("%s was changed by somebody else; the last answer is not in it. Run plumbline new %s again to go on", d.name, quotedName(d.name))
	}
	if err := replace(d.path, text, d.mode); err != nil {
		return inputError("%s cannot be written: %v", d.name, reason(err))
	}
	d.saved = slices.Clone(text)
	return nil
}

// replace puts a file of a text in the place of another: beside it first, then under its name.
func replace(path string, text []byte, mode fs.FileMode) (err error) {
	temp, err := os.CreateTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(temp.Name()))
		}
	}()
	if _, err = temp.Write(text); err == nil {
		err = temp.Chmod(mode)
	}
	if err == nil {
		err = temp.Sync()
	}
	if err = errors.Join(err, temp.Close()); err != nil {
		return err
	}
	return os.Rename(temp.Name(), path)
}

// greet says what happens with the answers.
func (d *draft) greet(p *report.Printer) {
	doing := "is new"
	if d.began {
		doing = "is continued"
	}
	p.Para(0, 2, fmt.Sprintf("%s %s. Every answer is written into it at once.", d.name, doing))
	p.Para(0, 2, "Nothing typed: not known yet. none: there is none. ?: where to look, and what stays open. back: take the last answer back. stop: end, and go on another time.")
}
