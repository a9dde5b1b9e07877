package shop

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema/document"
)

// StdinName is what a design read from the standard input is called.
const StdinName = "stdin"

// Input is one design to read.
type Input struct {
	// Name is printed; Path is opened, "" for the standard input.
	Name, Path string
	// Found is true when it was found in a folder rather than named.
	Found bool
	// File and Line are where it stands when the file has a design on each line; Line is 0 for any other.
	File string
	Line int
	// Data is its text when that was read already.
	Data []byte
	// Err is why it cannot be read at all.
	Err error
}

// Inputs lists the designs that arguments name: files, - for the standard
// input, and folders with every .yaml, .yml and .json
// below. What cannot be listed stands among them with its error.
func Inputs(args []string) (list []Input) {
	seen := map[string]bool{}
	add := func(in Input) {
		if key := filepath.Clean(in.Name); !seen[key] {
			seen[key] = true
			list = append(list, in)
		}
	}
	for _, arg := range args {
		if arg == "-" {
			add(Input{Name: StdinName})
			continue
		}
		info, err := os.Stat(arg)
		switch {
		case err != nil:
			add(Input{Name: arg, Err: exit.InputError("%s cannot be read: %v", arg, Reason(err))})
		case info.IsDir():
			files, err := DesignsBelow(filepath.ToSlash(arg))
			if err != nil {
				add(Input{Name: arg, Err: exit.InputError("%s cannot be listed: %v", arg, Reason(err))})
			} else if len(files) == 0 {
				add(Input{Name: arg, Err: exit.InputError("%s holds no .yaml, .yml or .json file", arg)})
			}
			for _, f := range files {
				add(Input{Name: f, Path: f, Found: true})
			}
		default:
			add(Input{Name: arg, Path: arg})
		}
	}
	return list
}

// DesignsBelow lists the design files of a folder, sorted; it follows no
// symbolic link and leaves out names that begin with a dot and plumbline.yaml.
func DesignsBelow(root string) ([]string, error) {
	if info, err := os.Lstat(root); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		root += "/" // a folder named outright may be a link
	}
	var out []string
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != root && strings.HasPrefix(d.Name(), "."):
			return fs.SkipDir
		case d.Name() == SettingsName || name != root && strings.HasPrefix(d.Name(), "."): // a shop's or a tool's settings are no design
		case d.Type().IsRegular() && slices.Contains([]string{".yaml", ".yml", ".json"}, strings.ToLower(filepath.Ext(name))):
			out = append(out, filepath.ToSlash(name))
		}
		return nil
	})
	return out, err
}

// Read reads a design, but no more of it than a design may be long and one byte.
func (s *Shop) Read(in Input) ([]byte, error) {
	if in.Err != nil || in.Data != nil {
		return in.Data, in.Err
	}
	source := s.stdin
	if in.Path != "" {
		f, err := OpenFile(in.Path)
		if err != nil {
			return nil, exit.InputError("%s cannot be read: %v", in.Name, Reason(err))
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() && info.Size() > document.MaxBytes {
			return nil, exit.InputError("%s has %d bytes; at most %d are read", in.Name, info.Size(), document.MaxBytes)
		}
		source = f
	}
	data, err := io.ReadAll(io.LimitReader(source, document.MaxBytes+1))
	if err != nil {
		return nil, exit.InputError("%s cannot be read: %v", in.Name, Reason(err))
	}
	return data, nil
}
