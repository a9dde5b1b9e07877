package shop

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
)

// Draft is the file of a design that is being written.
type Draft struct {
	Name string
	// path is where the file is, behind a link if it is one.
	path string
	Text []byte
	// saved is what the file holds, nil when there is none yet.
	saved []byte
	// Began is true when the file was there before.
	Began bool
	mode  fs.FileMode
}

// OpenDraft reads a design to go on with, or begins one.
func OpenDraft(name string) (*Draft, error) {
	switch ext := strings.ToLower(filepath.Ext(name)); {
	case name == "-":
		return nil, exit.InputError("new needs a file to write into; the standard input holds the answers")
	case filepath.Base(name) == SettingsName:
		return nil, exit.InputError("%s is the name of a shop's settings; name the design otherwise", SettingsName)
	case ext != ".yaml" && ext != ".yml":
		return nil, exit.InputError("new writes YAML; give the file a name that ends in .yaml")
	}
	d := &Draft{Name: filepath.ToSlash(name), path: name, Text: []byte("plumbline: 1\n"), mode: 0o644}
	if path, err := filepath.EvalSymlinks(name); err == nil {
		d.path = path
	}
	info, err := os.Stat(d.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return d, nil
	case err != nil:
		return nil, exit.InputError("%s cannot be read: %v", name, Reason(err))
	case PlainFile(name, info) != nil:
		return nil, exit.InputError("%s cannot be read: %v", name, Reason(PlainFile(name, info)))
	case info.Size() > document.MaxBytes:
		return nil, exit.InputError("%s has %d bytes; at most %d are read", name, info.Size(), document.MaxBytes)
	}
	if d.saved, err = os.ReadFile(d.path); err != nil {
		return nil, exit.InputError("%s cannot be read: %v", name, Reason(err))
	}
	d.mode = info.Mode().Perm()
	if len(bytes.TrimSpace(d.saved)) > 0 { // a file with nothing in it is a new one
		d.Text, d.Began = d.saved, true
	}
	return d, nil
}

// Base writes the template into a draft that is new, as a path from the draft's folder.
func (d *Draft) Base(template string) error {
	info, err := os.Stat(template)
	if err == nil {
		err = PlainFile(template, info)
	}
	if err != nil {
		return exit.InputError("the template %s cannot be read: %v", template, Reason(err))
	}
	from, err := Relative(filepath.Dir(d.Name), template)
	if err != nil {
		return exit.InputError("the template %s cannot be named from %s: %v", template, d.Name, err)
	}
	if d.Began {
		var stated struct {
			BasedOn string `yaml:"based_on"`
		}
		if err := yaml.Unmarshal(d.Text, &stated); err != nil || stated.BasedOn != from {
			return exit.InputError("%s is there already; --from begins a new file. To change its template, write based_on: %s into it", d.Name, from)
		}
		return nil
	}
	return d.set("based_on", amend.Text(from))
}

// Relative is a file as seen from a folder, with slashes.
func Relative(folder, file string) (string, error) {
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

// Place writes the regions into the draft.
func (d *Draft) Place(regions []string) error {
	var names []*yaml.Node
	for _, r := range regions {
		names = append(names, amend.Plain(r))
	}
	return d.set("regions", amend.List(names...))
}

func (d *Draft) set(key string, value *yaml.Node) error {
	text, err := amend.Set(d.Name, d.Text, []amend.Step{{Key: key, Item: amend.Whole}}, value)
	if err != nil {
		return exit.InputError("%s: %v", d.Name, err)
	}
	d.Text = text
	return nil
}

// Save writes a text into the file, whole or not at all. It refuses when somebody else changed the file meanwhile.
func (d *Draft) Save(text []byte) error {
	if d.saved != nil && bytes.Equal(text, d.saved) {
		return nil
	}
	now, err := os.ReadFile(d.path)
	if d.saved == nil && err == nil || d.saved != nil && !bytes.Equal(now, d.saved) {
		return exit.InputError("%s was changed by somebody else; the last answer is not in it. Run plumbline new %s again to go on", d.Name, Quoted(d.Name))
	}
	if err := replace(d.path, text, d.mode); err != nil {
		return exit.InputError("%s cannot be written: %v", d.Name, Reason(err))
	}
	d.saved = slices.Clone(text)
	return nil
}

// replace puts a file of a text in the place of another.
func replace(name string, text []byte, mode fs.FileMode) error {
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return err
	}
	defer root.Close()
	return replaceIn(root, filepath.Base(name), text, mode, nil)
}

// LoadDraft reads a draft with its templates.
func (s *Shop) LoadDraft(d *Draft) (*schema.Design, Files, error) {
	read := Files{{Name: d.Name, Data: d.Text}}
	design, err := s.loader(&read).Load(d.Name, d.Text)
	return design, read, err
}

// Quoted is a file's name as a shell takes it.
func Quoted(name string) string {
	if strings.ContainsAny(name, " '\"$&;()*?<>|\\`!#~") {
		return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
	}
	return filepath.ToSlash(name)
}
