package shop

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

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/words"
)

// Library is the built-in library with the folders of local packs.
type Library struct {
	*engine.Library
	Folders []fs.FS
}

// Open opens the built-in library, by its image, with local packs: to judge by. What is wrong with the packs is a *Problems.
func (s *Shop) Open(dirs []string) (*Library, error) { return s.openFolders(s.Image, dirs) }

// OpenToProve is Open with the cases of the built-in rules too.
func (s *Shop) OpenToProve(dirs []string) (*Library, error) { return s.openFolders(nil, dirs) }

// OpenToExplain is OpenToProve; of packs that are wrong it only says so and takes the built-in library alone, since names are
// looked up to mend them.
func (s *Shop) OpenToExplain(dirs []string) (*Library, error) {
	lib, err := s.OpenToProve(dirs)
	var wrong *Problems
	if !errors.As(err, &wrong) || len(dirs) == 0 {
		return lib, err
	}
	s.Warn(fmt.Sprintf("the packs of %s have %s and are left out: plumbline pack check tells them", strings.Join(dirs, ", "), Counted(len(wrong.List), "problem")))
	return s.OpenToProve(nil)
}

// OpenBeside opens the library with the packs of one more folder, or without them where they do not load.
func (s *Shop) OpenBeside(dir string) (*Library, error) {
	if folder, err := Mount(dir); err == nil {
		if lib, err := s.OpenWith(folder); err == nil {
			return lib, nil
		}
	}
	return s.Open(nil)
}

// OpenWith opens the built-in library, by its image, with these folders of packs.
func (s *Shop) OpenWith(folders ...fs.FS) (*Library, error) {
	return s.open(s.Image, append([]fs.FS{s.Rules}, folders...))
}

func (s *Shop) openFolders(image []byte, dirs []string) (*Library, error) {
	folders := []fs.FS{s.Rules}
	for _, dir := range dirs {
		folder, err := Mount(dir)
		if err != nil && slices.Contains(s.Settings.Rules, dir) {
			return nil, exit.InputError("%s: %w", s.Settings.File, err)
		}
		if err != nil {
			return nil, err
		}
		folders = append(folders, folder)
	}
	lib, err := s.open(image, folders)
	var problems document.Problems
	switch {
	case err == nil:
		s.declared = lib.Declared()
		return lib, nil
	case errors.As(err, &problems):
		return nil, wrongPacks("the packs", problems, folders)
	}
	return nil, exit.Failure(err)
}

// open opens the built-in library by its image, if there is one and it belongs to the packs, as it does in every program
// that was built after go generate.
func (s *Shop) open(image []byte, folders []fs.FS) (*Library, error) {
	if image != nil {
		lib, err := engine.OpenImage(folders[0], image, folders[1:]...)
		if !errors.Is(err, engine.ErrImage) {
			return &Library{lib, folders}, err
		}
		s.Warn(err.Error() + "; the packs are compiled instead")
	}
	lib, err := engine.Load(folders...)
	return &Library{lib, folders}, err
}

// Text returns the text of a pack file, nil when it cannot be read.
func (l *Library) Text(file string) []byte { return textIn(l.Folders, file) }

func textIn(folders []fs.FS, name string) []byte {
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

// Digest is the SHA-256 over the base names and bytes of all pack files, in order; it does not depend on where they lie.
func Digest(folders ...fs.FS) (string, error) {
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

// OpenPatterns reads the built-in patterns and those of folders.
func (s *Shop) OpenPatterns(dirs []string) ([]*pattern.Pattern, error) {
	var folders []fs.FS
	if s.Patterns != nil {
		folders = append(folders, s.Patterns)
	}
	for _, dir := range dirs {
		folder, err := Mount(dir)
		if err != nil {
			return nil, err
		}
		folders = append(folders, folder)
	}
	list, err := pattern.Read(folders...)
	var problems document.Problems
	switch {
	case errors.As(err, &problems):
		return nil, wrongPacks("the patterns", problems, folders)
	case err != nil:
		return nil, exit.Failure(err)
	}
	return list, nil
}

// OpenSeries reads the sizes that things are made in; none without the file of them.
func (s *Shop) OpenSeries() ([]whatif.Series, error) {
	if len(s.Series) == 0 {
		return nil, nil
	}
	series, err := whatif.ReadSeries("series.yaml", s.Series)
	if err != nil {
		return nil, exit.Failure(err)
	}
	return series, nil
}

// CheckRegions checks the regions of the shop's settings and those that were asked for, and returns the latter.
func (s *Shop) CheckRegions(lib *engine.Library, names []string) ([]string, error) {
	if err := CheckRegions(lib, s.Settings.Regions); err != nil {
		return nil, exit.InputError("%s: %w", s.Settings.File, err)
	}
	return names, CheckRegions(lib, names)
}

// CheckRegions checks the names of regions: each is declared by a pack, or lies in one that is.
func CheckRegions(lib *engine.Library, names []string) error {
	known := RegionNames(lib)
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
		return exit.InputError("there are no rules for the region %q%s", document.Cut(name), hint)
	}
	return nil
}

// RegionNames are the regions that packs declare.
func RegionNames(lib *engine.Library) []string {
	var known []string
	for _, r := range lib.Regions() {
		known = append(known, r.Name)
	}
	return known
}

// Defaults fills in the shop's region and stage where the design states none.
func (s *Shop) Defaults(d *schema.Design, o engine.Options) engine.Options {
	if len(o.Regions) == 0 && !d.Regions.Known() {
		o.Regions = s.Settings.Regions
	}
	if _, stated := d.Stage.Get(); o.Stage == "" && !stated {
		o.Stage = s.Settings.Stage
	}
	return o
}
