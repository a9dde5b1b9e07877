package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"plumbline/schema/document"
)

// stdinName is what a design read from the standard input is called.
const stdinName = "stdin"

// input is one design to read.
type input struct {
	// name is printed; path is opened, "" for the standard input.
	name, path string
	// found is true when it was found in a folder rather than named.
	found bool
	// file and line are where it stands when the file has a design on each line; line is 0 for any other.
	file string
	line int
	// data is its text when that was read already.
	data []byte
	// err is why it cannot be read at all.
	err error
}

// inputs lists the designs that arguments name: files, - for the standard
// input, and folders with every .yaml, .yml and .json
// below. What cannot be listed stands among them with its error.
func inputs(args []string) (list []input) {
	seen := map[string]bool{}
	add := func(in input) {
		if key := filepath.Clean(in.name); !seen[key] {
			seen[key] = true
			list = append(list, in)
		}
	}
	for _, arg := range args {
		if arg == "-" {
			add(input{name: stdinName})
			continue
		}
		info, err := os.Stat(arg)
		switch {
		case err != nil:
			add(input{name: arg, err: inputError("%s cannot be read: %v", arg, reason(err))})
		case info.IsDir():
			files, err := designsBelow(filepath.ToSlash(arg))
			if err != nil {
				add(input{name: arg, err: inputError("%s cannot be listed: %v", arg, reason(err))})
			} else if len(files) == 0 {
				add(input{name: arg, err: inputError("%s holds no .yaml, .yml or .json file", arg)})
			}
			for _, f := range files {
				add(input{name: f, path: f, found: true})
			}
		default:
			add(input{name: arg, path: arg})
		}
	}
	return list
}

// designsBelow lists the design files of a folder, sorted; it follows no
// symbolic link and leaves out names that begin with a dot and plumbline.yaml.
func designsBelow(root string) ([]string, error) {
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
		case d.Name() == settingsName || name != root && strings.HasPrefix(d.Name(), "."): // a shop's or a tool's settings are no design
		case d.Type().IsRegular() && slices.Contains([]string{".yaml", ".yml", ".json"}, strings.ToLower(filepath.Ext(name))):
			out = append(out, filepath.ToSlash(name))
		}
		return nil
	})
	return out, err
}

// read reads a design, but no more of it than a design may be long and one byte.
func (c *Command) read(in input) ([]byte, error) {
	if in.err != nil || in.data != nil {
		return in.data, in.err
	}
	source := c.Stdin
	if in.path != "" {
		f, err := openFile(in.path)
		if err != nil {
			return nil, inputError("%s cannot be read: %v", in.name, reason(err))
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() && info.Size() > document.MaxBytes {
			return nil, inputError("%s has %d bytes; at most %d are read", in.name, info.Size(), document.MaxBytes)
		}
		source = f
	}
	data, err := io.ReadAll(io.LimitReader(source, document.MaxBytes+1))
	if err != nil {
		return nil, inputError("%s cannot be read: %v", in.name, reason(err))
	}
	return data, nil
}

// reason is the system's reason without the operation and the name.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
