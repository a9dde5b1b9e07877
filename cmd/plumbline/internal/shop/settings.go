package shop

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
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
	r := settingsReader{Settings: Settings{File: file}, dir: filepath.Dir(file)}
	r.read(root)
	return &r.Settings, r.problems
}

type settingsReader struct {
	Settings
	dir      string
	problems document.Problems
}

func (r *settingsReader) problem(n *yaml.Node, path, message, suggest string) {
	if suggest != "" {
		message += "; did you mean " + suggest + "?"
	}
	place := schema.Place{File: r.File, Line: n.Line, Column: n.Column}
	r.problems = append(r.problems, document.Problem{Place: place, Path: path, Text: document.Cut(n.Value), Message: message, Suggest: suggest})
}

func (r *settingsReader) read(root *yaml.Node) {
	var keys []string
	for k := range settingKeys() {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	stated := map[string]bool{}
	for i := 0; i+1 < len(root.Content); i += 2 {
		key, value := root.Content[i], root.Content[i+1]
		stated[key.Value] = true
		if settingKeys()[key.Value] == "" {
			r.problem(key, key.Value, fmt.Sprintf("a shop's settings have no %q; they are %s", document.Cut(key.Value), strings.Join(keys, ", ")), document.Nearest(key.Value, keys))
			continue
		}
		if !r.take(key.Value, value) {
			r.problem(value, key.Value, key.Value+" takes "+settingKeys()[key.Value], "")
		}
	}
	if !stated["shop"] {
		r.problem(root, "shop", "the edition is missing; write shop: 1 as the first line", "")
	}
}

// take takes up one value; false when it is not what the key takes.
func (r *settingsReader) take(key string, n *yaml.Node) bool {
	switch key {
	case "shop":
		return n.Value == "1"
	case "rules":
		list, ok := texts(n)
		for _, dir := range list {
			ok = ok && r.within(dir)
			r.Rules = append(r.Rules, r.here(dir))
			r.Flags = append(r.Flags, Setting{"rules", r.here(dir)})
		}
		return ok
	case "patterns":
		list, ok := texts(n)
		for _, dir := range list {
			ok = ok && r.within(dir)
			r.Flags = append(r.Flags, Setting{"patterns", r.here(dir)})
		}
		return ok
	case "shelf":
		r.Flags = append(r.Flags, Setting{"shelf", r.here(n.Value)})
		return n.Kind == yaml.ScalarNode && n.Tag == "!!str" && n.Value != "" && r.within(n.Value)
	case "regions":
		list, ok := texts(n)
		r.Regions = list
		return ok
	case "stage":
		r.Stage = n.Value
		return slices.Contains([]string{"planned", "ordered", "built", "started", "handed_over"}, n.Value)
	case "units":
		r.Flags = append(r.Flags, Setting{"units", n.Value})
		return slices.Contains([]string{"us", "metric", "both"}, n.Value)
	case "format":
		r.Flags = append(r.Flags, Setting{"format", n.Value})
		return slices.Contains(report.Formats[:], n.Value)
	case "output":
		r.Output = r.here(n.Value)
		r.Flags = append(r.Flags, Setting{"output", r.Output})
		return ReportName(n.Value) && n.Kind == yaml.ScalarNode && n.Tag == "!!str" && n.Value != "" && r.within(n.Value)
	}
	if n.Value == "false" {
		r.Flags = append(r.Flags, Setting{"no-assumptions", "true"})
	}
	return n.Tag == "!!bool"
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

// texts reads a list of texts.
func texts(n *yaml.Node) (list []string, ok bool) {
	if n.Kind != yaml.SequenceNode || len(n.Content) == 0 {
		return nil, false
	}
	for _, item := range n.Content {
		if item.Kind != yaml.ScalarNode || item.Tag != "!!str" || item.Value == "" {
			return nil, false
		}
		list = append(list, item.Value)
	}
	return list, true
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
