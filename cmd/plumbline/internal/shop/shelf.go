package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/document"
)

// mostEntries is how many files and folders are looked through for those of a shelf.
const mostEntries = 20_000

// Shelf returns the shelf, read when it is first asked for: the folder of --shelf or of the settings. What is wrong with it
// goes to Wrong, once.
func (s *Shop) Shelf() (*schema.Shelf, error) { return s.shelf() }

func (s *Shop) readShelf() (*schema.Shelf, error) {
	if s.ShelfDir == "" {
		return nil, errors.New("no shelf is named; say shelf: parts in plumbline.yaml or give --shelf DIR")
	}
	texts, err := shelfTexts(s.ShelfDir)
	if err != nil {
		return nil, err
	}
	shelf, err := schema.ReadShelf(texts)
	var problems document.Problems
	if !errors.As(err, &problems) {
		return shelf, err
	}
	err = fmt.Errorf("the shelf %s has %s; mend it first", s.ShelfDir, Counted(len(problems), "problem"))
	s.Wrong(&Problems{List: problems, Closing: err, Text: func(file string) []byte {
		if at := slices.IndexFunc(texts, func(t schema.ShelfText) bool { return t.Name == file }); at >= 0 {
			return texts[at].Data
		}
		return nil
	}})
	return nil, err
}

// shelfTexts reads the files of a folder and of those below it, in order. Links that lead out of it are refused: the text of a
// part is shown beside its mistakes.
func shelfTexts(dir string) ([]schema.ShelfText, error) {
	info, err := os.Stat(dir)
	switch {
	case err != nil:
		return nil, fmt.Errorf("the shelf %s cannot be read: %v", dir, Reason(err))
	case !info.IsDir():
		return nil, fmt.Errorf("the shelf %s is no folder; name the folder that holds the files of parts", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("the shelf %s cannot be read: %v", dir, Reason(err))
	}
	defer root.Close()
	var out []schema.ShelfText
	seen := 0
	err = fs.WalkDir(root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		shown := path.Join(filepath.ToSlash(dir), name)
		hidden := name != "." && strings.HasPrefix(d.Name(), ".")
		switch seen++; {
		case err != nil:
			return fmt.Errorf("%s cannot be read: %v", shown, Reason(err))
		case seen > mostEntries:
			return fmt.Errorf("the shelf %s has more than %d files and folders; name the folder of the parts alone", dir, mostEntries)
		case d.IsDir() && hidden:
			return fs.SkipDir
		case d.IsDir() || hidden || !slices.Contains([]string{".yaml", ".yml", ".json"}, strings.ToLower(path.Ext(name))):
			return nil
		case len(out) == schema.MaxShelfFiles:
			return fmt.Errorf("the shelf %s has more than %d files; put several parts in one", dir, schema.MaxShelfFiles)
		}
		data, err := readIn(root, name)
		if err != nil {
			return fmt.Errorf("%s cannot be read: %v", shown, Reason(err))
		}
		out = append(out, schema.ShelfText{Name: shown, Data: data})
		return nil
	})
	if err == nil && len(out) == 0 {
		err = fmt.Errorf("the shelf %s holds no .yaml, .yml or .json file; plumbline shelf import FILE.csv --in %s begins one", dir, dir)
	}
	return out, err
}
