package shop

import (
	"cmp"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/settings"
)

// SettingsName is the file in which a shop keeps its defaults, found upward from the design.
const SettingsName = "plumbline.yaml"

// Settings are a shop's defaults. Flags win over them; a design's own stage and regions do too.
type Settings struct {
	// File is where they stand, "" when there are none.
	File string
	// Flags are the values for flags of the same name, in the order they were written.
	Flags []Setting
	// Rules are the folders of the shop's packs.
	Rules []string
	// Regions and Stage hold for designs that state none.
	Regions []string
	Stage   string
	// Output is the file for the report.
	Output string
}

// Setting is the value of one flag.
type Setting struct{ Flag, Value string }

// settingKeys are the keys of the file and what each takes, as the JSON Schema of settings tells them.
var settingKeys = sync.OnceValue(func() map[string]string {
	var doc struct {
		Defs map[string]struct {
			Properties map[string]struct {
				Description string `json:"description"`
			} `json:"properties"`
		} `json:"$defs"`
	}
	out := map[string]string{}
	if err := json.Unmarshal(schema.SettingsSchema(), &doc); err != nil {
		return out
	}
	for key, p := range doc.Defs["File"].Properties {
		out[key] = strings.ToLower(p.Description[:1]) + strings.TrimSuffix(p.Description[1:], ".")
	}
	return out
})

// FoldersOf lists the folders of the designs in a folder: a shop may lie below it.
func FoldersOf(dir string) []string {
	files, err := DesignsBelow(dir)
	if err != nil || len(files) == 0 {
		return []string{dir}
	}
	var out []string
	for _, f := range files {
		if d := filepath.Dir(f); len(out) == 0 || out[len(out)-1] != d {
			out = append(out, d)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// SettingsOf finds the one settings file of all places.
func SettingsOf(places []string) (string, error) {
	var found []string
	for _, p := range places {
		if file := SettingsAbove(p); !slices.Contains(found, file) {
			found = append(found, file)
		}
	}
	if len(found) > 1 {
		named := slices.DeleteFunc(found, func(f string) bool { return f == "" })
		if len(named) == 1 {
			return "", exit.InputError("some of the designs belong to the shop of %s, some to none; check them apart", named[0])
		}
		return "", exit.InputError("the designs belong to different shops, %s; check them apart", strings.Join(named, " and "))
	}
	return found[0], nil
}

// SettingsAbove looks for the settings file in a place's folder and upward.
func SettingsAbove(place string) string {
	dir, err := filepath.Abs(place)
	if err != nil {
		return ""
	}
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		dir = filepath.Dir(dir)
	}
	for {
		file := filepath.Join(dir, SettingsName)
		if info, err := os.Stat(file); err == nil && info.Mode().IsRegular() {
			return near(file)
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return ""
		}
		dir = parent
	}
}

// near writes a path from the working directory, when that is shorter.
func near(file string) string {
	here, err := os.Getwd()
	if err != nil {
		return file
	}
	if rel, err := filepath.Rel(here, file); err == nil && len(rel) < len(file) {
		return filepath.ToSlash(rel)
	}
	return file
}

// ReadSettings reads the file; the error holds everything that is wrong with it.
func (s *Shop) ReadSettings(file string) (*Settings, error) {
	data, err := s.Read(Input{Name: file, Path: file})
	if err != nil {
		return nil, err
	}
	root, err := document.Parse(file, data)
	if root == nil || err != nil {
		return nil, &exit.Error{Code: exit.Input, Cause: err}
	}
	x, problems := SettingsIn(file, root)
	if len(problems) > 0 {
		return nil, &Problems{List: problems, Text: func(string) []byte { return data },
			Closing: exit.InputError("%s has %s", file, Counted(len(problems), "problem"))}
	}
	return x, nil
}

// SettingsIn reads the settings of a document.
func SettingsIn(file string, root *yaml.Node) (*Settings, document.Problems) {
	var f settings.File
	r := settingsReader{Settings: Settings{File: file}, dir: filepath.Dir(file), Reader: document.Reader{Path: file, Called: "the shop's file",
		Takes: func(key string) string { return settingKeys()[key] },
		Hints: map[string]string{"shop": ", its edition: write shop: 1 as the first line"}}}
	r.DecodeRoot(nil, root, &f)
	for i := 0; i+1 < len(root.Content); i += 2 {
		key, value, told := root.Content[i].Value, root.Content[i+1], false
		for _, p := range r.Problems {
			told = told || p.Path == key || strings.HasPrefix(p.Path, key+"[")
		}
		if !told && !r.take(key, &f) {
			r.Wrong(value, key, "")
		}
	}
	slices.SortStableFunc(r.Problems, func(a, b document.Problem) int { return a.Place.Compare(b.Place) })
	return &r.Settings, r.Problems
}

type settingsReader struct {
	Settings
	document.Reader
	dir string
}

// take takes up the value of a key; false when it is empty, or names what a shop's file may not name.
func (r *settingsReader) take(key string, f *settings.File) bool {
	folders := func(flag string, dirs ...string) bool {
		ok := len(dirs) > 0
		for _, dir := range dirs {
			ok = ok && dir != "" && r.within(dir)
			r.Flags = append(r.Flags, Setting{flag, r.here(dir)})
		}
		return ok
	}
	switch key {
	case "rules":
		for _, dir := range f.Rules {
			r.Rules = append(r.Rules, r.here(dir))
		}
		return folders(key, f.Rules...)
	case "patterns":
		return folders(key, f.Patterns...)
	case "shelf":
		return folders(key, f.Shelf)
	case "regions":
		r.Regions = f.Regions
		return len(f.Regions) > 0 && !slices.Contains(f.Regions, "")
	case "stage":
		r.Stage = f.Stage
	case "units":
		r.Flags = append(r.Flags, Setting{key, f.Units})
	case "format":
		r.Flags = append(r.Flags, Setting{key, f.Format})
	case "output":
		r.Output = r.here(f.Output)
		return folders(key, f.Output) && ReportName(f.Output)
	case "assumptions":
		if f.Assumptions != nil && !*f.Assumptions {
			r.Flags = append(r.Flags, Setting{"no-assumptions", "true"})
		}
	}
	return true
}

// here is a path of the settings file as seen from the working directory. Settings name nothing outside their own
// folder: whoever may change a shop's files must not reach the rest of the machine through them.
func (r *settingsReader) here(path string) string {
	return filepath.ToSlash(filepath.Join(r.dir, path))
}

// within reports whether a path, and what it leads to through links, lies in the settings file's own folder.
func (r *settingsReader) within(name string) bool {
	if !filepath.IsLocal(name) {
		return false
	}
	root, err := os.OpenRoot(cmp.Or(r.dir, "."))
	if err != nil {
		return false
	}
	defer root.Close()
	for ; name != "."; name = filepath.Dir(name) {
		if _, err := os.Lstat(filepath.Join(r.dir, name)); err != nil {
			continue // not there yet: what it would lie in counts
		}
		_, err := root.Stat(name)
		return err == nil
	}
	return true
}

// reportEndings are those of the names that a shop's settings may give a report.
var reportEndings = []string{".txt", ".md", ".json", ".jsonl", ".sarif", ".html"}

// ReportName reports whether settings may name a report so: whoever writes them must not reach what tools keep in hidden
// places, nor what would run.
func ReportName(name string) bool {
	for _, part := range strings.Split(filepath.ToSlash(name), "/") {
		if strings.HasPrefix(part, ".") && part != "." {
			return false
		}
	}
	return slices.Contains(reportEndings, strings.ToLower(filepath.Ext(name)))
}
