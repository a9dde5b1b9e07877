package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/cmd/plumbline/internal/wire"
	"plumbline/engine"
	"plumbline/engine/editor"
	"plumbline/engine/pattern"
	"plumbline/engine/report"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// desk answers an editor. The built-in library is opened once, and each shop's packs once as long as nobody changes them.
type desk struct {
	*Command
	mu    sync.Mutex
	base  *engine.Library
	shops map[string]*served
	// last are the shops by which files were looked at last.
	last map[string]*served
}

// served is what the texts of a shop are judged by.
type served struct {
	*Command
	library *engine.Library
	editor  *editor.Shop
	// faults are what is wrong with its packs, which are left out then.
	faults error
	// stands is the name of the library's own pack in whose place the file asked about is read.
	stands string
	// sum tells apart what its settings and packs held.
	sum string

	units         quantity.System
	unitsSet      bool
	noAssumptions bool
	patternDirs   []string
	usual         []*pattern.Pattern
}

// mostShops are the shops that are kept ready; each takes some 40 MB.
const mostShops = 4

// Shop is what a file is read by: what it was looked at by last, so that nobody waits for packs that are being written.
func (d *desk) Shop(file string, texts wire.Texts) *editor.Shop {
	d.mu.Lock()
	last := d.last[file]
	d.mu.Unlock()
	if last == nil {
		last = d.served(file, texts)
	}
	return last.editor
}

// served finds the settings and packs of a file, as plumbline check finds them. A pack that no settings name is read with the
// packs that lie beside it.
func (d *desk) served(file string, texts wire.Texts) *served {
	d.mu.Lock()
	defer d.mu.Unlock()
	of := *d.Command
	of.shop = d.Command.shop.Again()
	s := &served{Command: &of, units: quantity.Both}
	key, text, wrong := s.settle(file, texts)
	var folders []packFiles
	for _, dir := range of.shop.Settings.Rules {
		folder, err := packsIn(dir, texts)
		if err != nil {
			wrong = err
			continue
		}
		folders = append(folders, folder)
	}
	own := ""
	if editor.KindOf(filepath.ToSlash(file), texts[file]) == editor.Pack && !slices.ContainsFunc(folders, func(f packFiles) bool { return f[packName(file)] != nil }) {
		own = packName(file)
		key += "\n" + own
		folders = append(folders, packsBeside(file, texts))
	}
	s.sum = fmt.Sprintf("%s\n%v\n%x\n%s", text, wrong, sumOf(folders), stampOf(s.shop.ShelfDir))
	if kept := d.shops[key]; kept != nil && kept.sum == s.sum {
		d.last[file] = kept
		return kept
	}
	if len(d.shops) >= mostShops && d.shops[key] == nil {
		clear(d.shops)
		clear(d.last)
	}
	d.shops[key], d.last[file] = s, s
	d.open(s, own, folders, wrong)
	return s
}

// settle takes up the settings above a file, those in the editor before those on disk.
func (s *served) settle(file string, texts wire.Texts) (name, text string, wrong error) {
	if name = shop.SettingsAbove(filepath.Dir(file)); name == "" {
		return "", "", nil
	}
	data, err := s.shop.Read(shop.Input{Name: name, Path: name})
	if abs, absErr := filepath.Abs(name); absErr == nil && texts[abs] != "" {
		data, err = []byte(texts[abs]), nil
	}
	if err != nil {
		return name, "", err
	}
	root, err := document.Parse(name, data)
	if root == nil || err != nil {
		return name, string(data), err
	}
	x, problems := shop.SettingsIn(name, root)
	s.take(x)
	return name, string(data), problems.Err()
}

// open opens the library with the packs of folders; without them when they are wrong. Own is a pack that no settings name.
func (d *desk) open(s *served, own string, folders []packFiles, wrong error) {
	list := []fs.FS{d.Rules}
	for _, f := range folders {
		list = append(list, f)
	}
	if d.base == nil {
		d.base, s.faults = d.opened()
	}
	s.library = d.base
	if lib, err := d.openAs(s, own, list); err != nil {
		s.faults = err
	} else {
		s.library = lib
	}
	if wrong != nil {
		s.faults = wrong
	}
	failures, _ := report.ReadFailures(list...) // of a list that cannot be read nothing is told
	s.editor = editor.NewShop(s.library, failures)
	s.usual, _ = s.shop.OpenPatterns(s.patternDirs) // what is wrong with them check tells
}

// openAs opens packs beside the built-in ones; a pack of the library itself in the place of the built-in one.
func (d *desk) openAs(s *served, own string, list []fs.FS) (*engine.Library, error) {
	if len(list) == 1 {
		return d.base, nil
	}
	for _, p := range d.base.Packs() {
		if beside, is := list[len(list)-1].(packFiles); is && own != "" && strings.HasSuffix("/"+own, "/rules/"+p.Path) && beside[own] != nil {
			s.stands = p.Path
			return engine.Load(instead{d.Rules, p.Path, beside[own]})
		}
	}
	return d.opened(list[1:]...)
}

// opened is the built-in library with folders of packs.
func (d *desk) opened(folders ...fs.FS) (*engine.Library, error) {
	lib, err := d.Command.shop.OpenWith(folders...)
	if err != nil {
		return nil, err
	}
	return lib.Library, nil
}

// packFiles is a folder of packs by the names they are told by.
type packFiles map[string][]byte

// packName is the name by which a pack is told: its path from here, which may lead upward.
func packName(file string) string {
	here, err := os.Getwd()
	if err != nil {
		return filepath.ToSlash(file)
	}
	rel, err := filepath.Rel(here, file)
	if err != nil {
		return filepath.ToSlash(file)
	}
	return filepath.ToSlash(rel)
}

// packsIn reads the packs of a folder that settings name.
func packsIn(dir string, texts wire.Texts) (packFiles, error) {
	folder, err := shop.Mount(dir)
	if err != nil {
		return nil, err
	}
	out, room := packFiles{}, int64(mostRead)
	err = fs.WalkDir(folder, ".", func(name string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && slices.Contains([]string{".yaml", ".txt"}, path.Ext(name)) {
			err = out.read(filepath.Join(dir, strings.TrimPrefix(name, shop.MountPrefix(dir))), texts, &room)
		}
		return err
	})
	return out, err
}

// mostRead bounds what is read of the packs of a shop; more than that no library takes.
const mostRead = 8 << 20

// read reads a file of the folder, the text in the editor before the one on disk.
func (f packFiles) read(file string, texts wire.Texts, room *int64) error {
	abs, err := filepath.Abs(file)
	if err != nil {
		return err
	}
	text, open := texts[abs]
	data := []byte(text)
	if !open {
		r, err := shop.OpenFile(abs)
		if err != nil {
			return err
		}
		defer r.Close()
		if data, err = io.ReadAll(io.LimitReader(r, *room+1)); err != nil {
			return err
		}
	}
	if *room -= int64(len(data)); *room < 0 {
		return fmt.Errorf("the packs beside %s are more than %d bytes", packName(abs), int64(mostRead))
	}
	f[packName(abs)] = data
	return nil
}

// packsBeside are a pack and the packs that lie in its folder, not below.
func packsBeside(file string, texts wire.Texts) packFiles {
	out, room := packFiles{packName(file): []byte(texts[file])}, int64(mostRead)
	entries, _ := os.ReadDir(filepath.Dir(file)) // a file that was never saved may have no folder
	for _, e := range entries {
		name := filepath.Join(filepath.Dir(file), e.Name())
		if e.Type().IsRegular() && filepath.Ext(name) == ".yaml" && name != file && out.read(name, texts, &room) == nil {
			if data := out[packName(name)]; editor.KindOf(e.Name(), string(data)) != editor.Pack {
				delete(out, packName(name))
			}
		}
	}
	return out
}

// stampOf tells apart how the files of a folder stood: their names, sizes and times of change.
func stampOf(dir string) string {
	if dir == "" {
		return ""
	}
	var out strings.Builder
	n := 0
	_ = filepath.WalkDir(dir, func(name string, f fs.DirEntry, err error) error {
		if n++; err != nil || n > mostStamped {
			return fs.SkipAll
		}
		if info, err := f.Info(); err == nil && !f.IsDir() {
			fmt.Fprintf(&out, "%s %d %d;", name, info.Size(), info.ModTime().UnixNano())
		}
		return nil
	})
	return out.String()
}

// mostStamped bounds the files looked at.
const mostStamped = 2000

// sumOf tells the contents of folders apart.
func sumOf(folders []packFiles) []byte {
	sum := sha256.New()
	for _, f := range folders {
		for _, name := range f.names() {
			fmt.Fprintf(sum, "%s\n%d\n", name, len(f[name]))
			sum.Write(f[name])
		}
	}
	return sum.Sum(nil)
}

func (f packFiles) names() []string {
	var out []string
	for name := range f {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Open opens a file.
func (f packFiles) Open(name string) (fs.File, error) {
	data, ok := f[name]
	if !ok && name != "." {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return opened{bytes.NewReader(data), entry{name, int64(len(data))}}, nil
}

// ReadDir lists the files, all in one folder, whatever their names.
func (f packFiles) ReadDir(string) ([]fs.DirEntry, error) {
	var out []fs.DirEntry
	for _, name := range f.names() {
		out = append(out, fs.FileInfoToDirEntry(entry{name, int64(len(f[name]))}))
	}
	return out, nil
}

// opened is an open file in memory, entry what is told of one.
type (
	opened struct {
		*bytes.Reader
		entry entry
	}
	entry struct {
		name string
		size int64
	}
)

// Stat tells of the file.
func (o opened) Stat() (fs.FileInfo, error) { return o.entry, nil }

// Close does nothing: it is in memory.
func (o opened) Close() error { return nil }

// Name is the name.
func (e entry) Name() string { return e.name }

// Size is the length in bytes.
func (e entry) Size() int64 { return e.size }

// ModTime is not known.
func (e entry) ModTime() time.Time { return time.Time{} }

// IsDir is true of the folder itself.
func (e entry) IsDir() bool { return e.name == "." }

// Sys is nothing.
func (e entry) Sys() any { return nil }

// Mode lets read.
func (e entry) Mode() fs.FileMode {
	if e.IsDir() {
		return fs.ModeDir | 0o555
	}
	return 0o444
}

// instead is a folder with one file in the place of another.
type instead struct {
	fs.FS
	name string
	data []byte
}

// Open opens a file.
func (i instead) Open(name string) (fs.File, error) {
	if name == i.name {
		return packFiles{name: i.data}.Open(name)
	}
	return i.FS.Open(name)
}
