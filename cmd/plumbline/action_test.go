package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
	"gopkg.in/yaml.v3"
)

// ciFolder holds the files a shop's CI uses.
const ciFolder = "../../designs/ci"

// action runs the steps of the composite action as a CI runner would: action CODE NAME=VALUE..., with the action's
// inputs. Expressions of inputs and of the action's own folder are filled in; any other is refused.
func action(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: action CODE NAME=VALUE...")
	}
	folder := ts.Getenv("CI_FOLDER")
	data, err := os.ReadFile(filepath.Join(folder, "action.yml"))
	ts.Check(err)
	var file struct {
		Inputs map[string]struct {
			Default string `yaml:"default"`
		} `yaml:"inputs"`
		Runs struct {
			Using string `yaml:"using"`
			Steps []struct {
				Shell string            `yaml:"shell"`
				Env   map[string]string `yaml:"env"`
				Run   string            `yaml:"run"`
			} `yaml:"steps"`
		} `yaml:"runs"`
	}
	ts.Check(yaml.Unmarshal(data, &file))
	values := map[string]string{"github.action_path": folder}
	for name, in := range file.Inputs {
		values["inputs."+name] = in.Default
	}
	for _, a := range args[1:] {
		name, value, _ := strings.Cut(a, "=")
		if _, known := values["inputs."+name]; !known {
			ts.Fatalf("the action has no input %s", name)
		}
		values["inputs."+name] = value
	}
	if file.Runs.Using != "composite" || len(file.Runs.Steps) == 0 {
		ts.Fatalf("the action is not composite")
	}
	for _, step := range file.Runs.Steps {
		if step.Shell != "bash" {
			ts.Fatalf("the step's shell is %q", step.Shell)
		}
		for name, text := range step.Env {
			ts.Setenv(name, filled(ts, text, values))
		}
		runs(ts, args[0], "bash", "-c", filled(ts, step.Run, values))
	}
}

var ciExpression = regexp.MustCompile(`\$\{\{\s*([^} ]+)\s*\}\}`)

func filled(ts *testscript.TestScript, text string, values map[string]string) string {
	return ciExpression.ReplaceAllStringFunc(text, func(e string) string {
		name := ciExpression.FindStringSubmatch(e)[1]
		v, ok := values[name]
		if !ok {
			ts.Fatalf("the runner would not know %s", name)
		}
		return v
	})
}

// hook runs the entry of a commit hook as a hook runner would: hook CODE ID.
func hook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: hook CODE ID")
	}
	data, err := os.ReadFile(filepath.Join(ts.Getenv("CI_FOLDER"), ".pre-commit-hooks.yaml"))
	ts.Check(err)
	var hooks []struct {
		ID            string `yaml:"id"`
		Entry         string `yaml:"entry"`
		Files         string `yaml:"files"`
		PassFilenames bool   `yaml:"pass_filenames"`
	}
	ts.Check(yaml.Unmarshal(data, &hooks))
	for _, h := range hooks {
		if h.ID == args[1] {
			if _, err := regexp.Compile(h.Files); err != nil || h.PassFilenames {
				ts.Fatalf("hook %s: files %q", h.ID, h.Files)
			}
			words := strings.Fields(h.Entry)
			runs(ts, args[0], words[0], words[1:]...)
			return
		}
	}
	ts.Fatalf("there is no hook %s", args[1])
}
