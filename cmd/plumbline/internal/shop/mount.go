package shop

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
)

// mounted is a folder of local packs whose files are named as the user would
// name them: shop/rules/local.yaml instead of local.yaml. Its root holds one
// entry, the folder.
type mounted struct {
	prefix string
	inside fs.FS
}

// Mount opens a folder of packs.
func Mount(dir string) (fs.FS, error) {
	info, err := os.Stat(dir)
	switch {
	case err != nil:
		return nil, exit.InputError("the rules folder %s cannot be read: %v", dir, Reason(err))
	case !info.IsDir():
		return nil, exit.InputError("%s is not a folder; --rules takes the folder that holds the packs", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, exit.InputError("the rules folder %s cannot be read: %v", dir, Reason(err))
	}
	defer root.Close()
	inside := os.DirFS(dir)
	found := false
	err = fs.WalkDir(inside, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil {
			err = packEntry(root, path.Join(filepath.ToSlash(dir), name), name, d)
		}
		found = found || !d.IsDir() && path.Ext(name) == ".yaml"
		return err
	})
	var said *exit.Error
	switch {
	case errors.As(err, &said):
		return nil, err
	case err != nil:
		return nil, exit.InputError("the rules folder %s cannot be read: %v", dir, Reason(err))
	case !found:
		return nil, exit.InputError("the rules folder %s holds no .yaml file; plumbline pack new NAME --in %s starts a pack there", dir, dir)
	}
	return &mounted{prefix: MountPrefix(dir), inside: inside}, nil
}

// packEntry refuses what would be passed over in silence, so that a pack counted on does not go missing, and links that
// lead out of the folder: a pack's text is shown beside its mistakes.
func packEntry(root *os.Root, shown, name string, d fs.DirEntry) error {
	link, ext := d.Type()&fs.ModeSymlink != 0, path.Ext(name)
	read := ext == ".yaml" || ext == ".txt"
	switch {
	case d.IsDir() || !link && !read && ext != ".yml" || d.Type().IsRegular() && read:
		return nil
	case ext == ".yml" && !strings.HasPrefix(d.Name(), "."):
		return exit.InputError("%s would not be read: packs end in .yaml; rename it", shown)
	}
	info, err := os.Stat(filepath.Join(root.Name(), name))
	switch {
	case err != nil:
		return exit.InputError("%s leads nowhere: %v", shown, Reason(err))
	case info.IsDir():
		return exit.InputError("%s is a link to a folder and would not be read; name that folder itself with --rules", shown)
	case read && PlainFile(shown, info) != nil:
		return exit.InputError("%s cannot be read: %v", shown, Reason(PlainFile(shown, info)))
	}
	if _, err := root.Stat(name); err != nil {
		return exit.InputError("%s is a link out of the rules folder; put the file itself there", shown)
	}
	return nil
}

// MountPrefix is how the names of the files of a folder begin: a path from here that is not "."; names of the built-in
// library, which has none, stay apart.
func MountPrefix(dir string) string {
	here, err := os.Getwd()
	if filepath.IsAbs(dir) && err == nil {
		if rel, err := filepath.Rel(here, dir); err == nil {
			dir = rel
		}
	}
	prefix := path.Join(".", filepath.ToSlash(dir))
	if prefix == "." {
		return path.Join("..", filepath.Base(here))
	}
	return prefix
}

// Open opens the root or something inside the folder.
func (m *mounted) Open(name string) (fs.File, error) {
	inner, ok := m.inner(name)
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return m.inside.Open(inner)
}

// ReadDir lists the root, which holds the folder, or a folder inside.
func (m *mounted) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == "." {
		info, err := fs.Stat(m.inside, ".")
		if err != nil {
			return nil, err
		}
		return []fs.DirEntry{named{fs.FileInfoToDirEntry(info), m.prefix}}, nil
	}
	inner, ok := m.inner(name)
	if !ok {
		return nil, &fs.PathError{Op: "readdir", Path: name, Err: fs.ErrNotExist}
	}
	return fs.ReadDir(m.inside, inner)
}

// inner turns a name into the name inside the folder.
func (m *mounted) inner(name string) (string, bool) {
	if name == "." || name == m.prefix {
		return ".", true
	}
	return strings.CutPrefix(name, m.prefix+"/")
}

// named is a directory entry under another name.
type named struct {
	fs.DirEntry
	name string
}

// Name returns the name.
func (n named) Name() string { return n.name }
