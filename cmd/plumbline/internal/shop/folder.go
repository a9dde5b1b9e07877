package shop

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema/document"
)

// Folder is a folder of designs that are worked on where they lie. Names are paths in it, with slashes; none leads out of it, into
// what is hidden, or through a link of a file.
type Folder struct {
	dir  string
	root *os.Root
	// home is the shop's own folder, in which templates may lie, below the way from it to the folder.
	home  *os.Root
	below string
	lock  io.Closer
}

// ErrChanged says that a file does not hold what it was thought to.
var ErrChanged = errors.New("the file was changed by somebody else")

// OpenFolder opens a folder of designs. Home is the shop's folder, the one that holds its settings; "" for none.
func OpenFolder(dir, home string) (*Folder, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, exit.InputError("the folder %s cannot be opened: %v", dir, Reason(err))
	}
	f := &Folder{dir: dir, root: root, home: root, below: "."}
	if home != "" {
		if below, err := Relative(home, dir); err == nil && filepath.IsLocal(below) {
			if outer, err := os.OpenRoot(home); err == nil {
				f.home, f.below = outer, below
			}
		}
	}
	return f, nil
}

// Close gives the folder back.
func (f *Folder) Close() error {
	var err error
	if f.lock != nil {
		err = f.lock.Close()
	}
	if f.home != f.root {
		err = errors.Join(err, f.home.Close())
	}
	return errors.Join(err, f.root.Close())
}

// mostName is the longest name of a file in a folder, in bytes.
const mostName = 200

// CheckName says what is wrong with the name of a design in a folder; nil when it may be one.
func CheckName(name string) error {
	ext := strings.ToLower(path.Ext(name))
	switch {
	case !fs.ValidPath(name) || name == "." || !filepath.IsLocal(filepath.FromSlash(name)) || strings.ContainsAny(name, `\:`):
		return exit.InputError("%s leads out of the folder, or is no name of a file", document.Cut(name))
	case len(name) > mostName:
		return exit.InputError("the name is longer than %d letters", mostName)
	case strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) || r == unicode.ReplacementChar }):
		return exit.InputError("the name holds a character that cannot be seen")
	case strings.HasPrefix(name, ".") || strings.Contains(name, "/."):
		return exit.InputError("%s is hidden; a design's name does not begin with a dot", document.Cut(name))
	case path.Base(name) == SettingsName:
		return exit.InputError("%s is the name of a shop's settings; name the design otherwise", SettingsName)
	case !slices.Contains([]string{".yaml", ".yml", ".json"}, ext):
		return exit.InputError("%s is no name of a design; it ends in .yaml", document.Cut(name))
	}
	return nil
}

// Designs lists the files of the folder that may be designs, by name.
func (f *Folder) Designs() ([]string, error) {
	files, err := DesignsBelow(filepath.ToSlash(f.dir))
	if err != nil {
		return nil, exit.InputError("%s cannot be listed: %v", f.dir, Reason(err))
	}
	var out []string
	for _, file := range files {
		if name, err := Relative(f.dir, file); err == nil && CheckName(name) == nil {
			out = append(out, name)
		}
	}
	return out, nil
}

// Read reads a file of the folder, but no more than a design may be long; the error satisfies fs.ErrNotExist where there is none.
func (f *Folder) Read(name string) ([]byte, error) {
	if err := CheckName(name); err != nil {
		return nil, err
	}
	info, err := f.root.Lstat(name)
	if err != nil {
		return nil, err
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		return nil, exit.InputError("%s is a link; open the file itself", name)
	}
	return readIn(f.root, name)
}

// Template reads a template that a design of the folder rests on.
func (f *Folder) Template(name string) ([]byte, error) {
	inside := path.Join(f.below, name)
	if path.IsAbs(name) || !filepath.IsLocal(filepath.FromSlash(inside)) {
		return nil, exit.InputError("%s lies outside the shop's folder; what is worked on here rests only on templates inside it", document.Cut(name))
	}
	if slices.ContainsFunc(strings.Split(name, "/"), func(part string) bool { return strings.HasPrefix(part, ".") && part != "." && part != ".." }) {
		return nil, exit.InputError("%s is hidden; what is worked on here rests on no hidden file", document.Cut(name))
	}
	data, err := readIn(f.home, inside)
	if err != nil {
		return nil, exit.InputError("%s cannot be read: %v", document.Cut(name), Reason(err))
	}
	return data, nil
}

// readIn reads a plain file of a folder, which may be no longer than any file that is read.
func readIn(root *os.Root, name string) ([]byte, error) {
	info, err := root.Stat(name)
	if err == nil {
		err = PlainFile(name, info)
	}
	if err != nil {
		return nil, err
	}
	if info.Size() > document.MaxBytes {
		return nil, exit.InputError("%s has %d bytes; at most %d are read", name, info.Size(), document.MaxBytes)
	}
	file, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, document.MaxBytes+1))
}

// Seen is a mark of a file that is another one once the file was written again; "" for a file that is not there.
func (f *Folder) Seen(name string) string { return seen(f.root.Lstat(name)) }

// SeenTemplate is Seen of a template.
func (f *Folder) SeenTemplate(name string) string {
	return seen(f.home.Stat(path.Join(f.below, name)))
}

func seen(info fs.FileInfo, err error) string {
	if err != nil {
		return ""
	}
	return fmt.Sprint(info.Size(), info.ModTime().UnixNano(), fileID(info))
}

// Written is when a file was written last.
func (f *Folder) Written(name string) time.Time {
	info, err := f.root.Lstat(name)
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

// Save writes a text into a file, whole or not at all, and so that it is there after a crash. It is ErrChanged where the file does not
// hold what was there before, or, for nil, is there.
func (f *Folder) Save(name string, was, text []byte) error {
	if err := CheckName(name); err != nil {
		return err
	}
	mode := fs.FileMode(0o644)
	same := func() error {
		now, err := f.Read(name)
		switch {
		case errors.Is(err, fs.ErrNotExist) && was == nil:
			return nil
		case errors.Is(err, fs.ErrNotExist) || err == nil && (was == nil || !bytes.Equal(now, was)):
			return ErrChanged
		}
		return err
	}
	if err := same(); err != nil {
		return err
	}
	if info, err := f.root.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	if dir := path.Dir(name); dir != "." && was == nil {
		if err := f.root.MkdirAll(dir, 0o755); err != nil {
			return exit.InputError("%s cannot be made: %v", dir, Reason(err))
		}
	}
	// The file is looked at again when all that takes long is done.
	if err := replaceIn(f.root, name, text, mode, same); err != nil {
		if errors.Is(err, ErrChanged) {
			return err
		}
		return exit.InputError("%s cannot be written: %v", name, Reason(err))
	}
	return nil
}

// replaceIn puts a file of a text in the place of another: beside it first, then under its name, if it is still as it should be.
func replaceIn(root *os.Root, name string, text []byte, mode fs.FileMode, still func() error) (err error) {
	dir := path.Dir(name)
	beside := path.Join(dir, "."+path.Base(name)+".new")
	if err := root.Remove(beside); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	temp, err := root.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, root.Remove(beside))
		}
	}()
	if _, err = temp.Write(text); err == nil {
		err = temp.Chmod(mode)
	}
	if err == nil {
		err = temp.Sync()
	}
	if err = errors.Join(err, temp.Close()); err == nil && still != nil {
		err = still()
	}
	if err != nil {
		return err
	}
	if err = root.Rename(beside, name); err != nil {
		return err
	}
	syncDir(root, dir)
	return nil
}

// syncDir makes sure that a new name in a folder is there after a crash, where the system can.
func syncDir(root *os.Root, dir string) {
	if d, err := root.Open(dir); err == nil {
		_ = d.Sync() // some systems cannot; the file itself is written
		_ = d.Close()
	}
}
