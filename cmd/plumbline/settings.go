package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"gopkg.in/yaml.v3"

	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
)

// settingsName is the file in which a shop keeps its defaults, found upward from the design.
const settingsName = "plumbline.yaml"

// settings are a shop's defaults. Flags win over them; a design's own stage and regions do too.
type settings struct {
	// file is where they stand, "" when there are none.
	file string
	// flags are the values for flags of the same name, in the order they were written.
	flags []setting
	// rules are the folders of the shop's packs.
	rules []string
	// regions and stage hold for designs that state none.
	regions []string
	stage   string
	// output is the file for the report.
	output string
}

// setting is the value of one flag.
type setting struct{ flag, value string }

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

// settle looks for the settings of what a verb is given and applies them to the flags that were not given.
func (c *Command) settle(cmd *cobra.Command, args []string) error {
	if cmd.Flags().Lookup("rules") == nil && cmd.Annotations["settings"] == "" {
		return nil
	}
	file, err := settingsOf(places(cmd, args))
	if err != nil || file == "" {
		return err
	}
	s, err := c.readSettings(file)
	if err != nil {
		return err
	}
	c.shop = *s
	given := map[string]bool{}
	for _, x := range s.flags {
		f := cmd.Flags().Lookup(x.flag)
		if f == nil || f.Changed && !given[x.flag] {
			continue
		}
		given[x.flag] = true
		if err := cmd.Flags().Set(x.flag, x.value); err != nil {
			return inputError("%s: %v", file, err)
		}
	}
	return nil
}

// places are the files and folders a verb is given; the working directory when there is none.
func places(cmd *cobra.Command, args []string) []string {
	if cmd.Name() == "explain" && len(args) == 2 {
		args = args[1:]
	}
	if cmd.Name() == "new" && len(args) == 1 {
		args = []string{filepath.Dir(args[0])} // the file may not be there yet
	}
	var out []string
	for _, a := range args {
		a = filepath.ToSlash(a)
		info, err := os.Stat(a)
		if err == nil && info.IsDir() && cmd.Name() == "check" && cmd.Parent() == cmd.Root() {
			out = append(out, foldersOf(a)...)
		} else if err == nil {
			out = append(out, a)
		}
	}
	if len(out) == 0 {
		return []string{"."}
	}
	return out
}

// foldersOf lists the folders of the designs in a folder: a shop may lie below it.
func foldersOf(dir string) []string {
	files, err := designsBelow(dir)
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

// settingsOf finds the one settings file of all places.
func settingsOf(places []string) (string, error) {
	var found []string
	for _, p := range places {
		if file := settingsAbove(p); !slices.Contains(found, file) {
			found = append(found, file)
		}
	}
	if len(found) > 1 {
		named := slices.DeleteFunc(found, func(f string) bool { return f == "" })
		if len(named) == 1 {
			return "", inputError("some of the designs belong to the shop of %s, some to none; check them apart", named[0])
		}
		return "", inputError("the designs belong to different shops, %s; check them apart", strings.Join(named, " and "))
	}
	return found[0], nil
}

// settingsAbove looks for the settings file in a place's folder and upward.
func settingsAbove(place string) string {
	dir, err := filepath.Abs(place)
	if err != nil {
		return ""
	}
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		dir = filepath.Dir(dir)
	}
	for {
		file := filepath.Join(dir, settingsName)
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

// readSettings reads the file; the error holds everything that is wrong with it.
func (c *Command) readSettings(file string) (*settings, error) {
	data, err := c.read(input{name: file, path: file})
	if err != nil {
		return nil, err
	}
	root, err := document.Parse(file, data)
	if root == nil || err != nil {
		return nil, &exitError{exitInput, err}
	}
	r := settingsReader{settings: settings{file: file}, dir: filepath.Dir(file)}
	r.read(root)
	if err := r.problems.Err(); err != nil {
		c.showProblems(r.problems, data)
		return nil, inputError("%s has %s", file, counted(len(r.problems), "problem"))
	}
	return &r.settings, nil
}

type settingsReader struct {
	settings
	dir      string
	problems document.Problems
}

func (r *settingsReader) problem(n *yaml.Node, path, message, suggest string) {
	if suggest != "" {
		message += "; did you mean " + suggest + "?"
	}
	place := schema.Place{File: r.file, Line: n.Line, Column: n.Column}
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
			r.rules = append(r.rules, r.here(dir))
			r.flags = append(r.flags, setting{"rules", r.here(dir)})
		}
		return ok
	case "patterns":
		list, ok := texts(n)
		for _, dir := range list {
			ok = ok && r.within(dir)
			r.flags = append(r.flags, setting{"patterns", r.here(dir)})
		}
		return ok
	case "regions":
		list, ok := texts(n)
		r.regions = list
		return ok
	case "stage":
		r.stage = n.Value
		return choose("stage", n.Value, "planned", "ordered", "built", "started", "handed_over") == nil
	case "units":
		r.flags = append(r.flags, setting{"units", n.Value})
		return choose("units", n.Value, "us", "metric", "both") == nil
	case "format":
		r.flags = append(r.flags, setting{"format", n.Value})
		return choose("format", n.Value, report.Formats[:]...) == nil
	case "output":
		r.output = r.here(n.Value)
		r.flags = append(r.flags, setting{"output", r.output})
		return reportName(n.Value) && n.Kind == yaml.ScalarNode && n.Tag == "!!str" && n.Value != "" && r.within(n.Value)
	}
	if n.Value == "false" {
		r.flags = append(r.flags, setting{"no-assumptions", "true"})
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
