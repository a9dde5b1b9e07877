package plumbline_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/testdata/proofs"
)

var recipeBlock = regexp.MustCompile("(?s)```recipe (\\w+)\n(.*?)```")

// The recipes of DEVELOPERS.md, all applied to one copy of the tree as they are written: it builds, and each does what it says.
func TestRecipesWork(t *testing.T) {
	proofs.Only(t)
	guide, err := os.ReadFile("DEVELOPERS.md")
	require.NoError(t, err)
	recipes := recipeBlock.FindAllStringSubmatch(string(guide), -1)
	var names []string
	tree := copyOfTheTree(t)
	for _, r := range recipes {
		names = append(names, r[1])
		applyRecipe(t, tree, r[1], r[2])
	}
	require.Equal(t, []string{"fact", "value", "rule", "unit", "dimension", "region", "format"}, names)
	bin := t.TempDir()
	for _, command := range [][]string{{"generate", "./..."}, {"vet", "./..."}, {"build", "-o", bin, "./cmd/plumbline"}} {
		out, err := inTree(tree, bin, exec.Command("go", command...))
		require.NoError(t, err, "go %v: %s", command, out)
	}
	for _, r := range recipes {
		t.Run(r[1], func(t *testing.T) {
			var out string
			for line := range strings.Lines(r[2]) {
				line = strings.TrimRight(line, "\n")
				switch {
				case strings.HasPrefix(line, "$ "):
					var err error
					out, err = inTree(tree, bin, exec.Command("sh", "-c", line[2:]))
					require.NoError(t, err, "%s: %s", line, out)
				case strings.HasPrefix(line, "> "):
					assert.Contains(t, out, line[2:])
				}
			}
		})
	}
}

// copyOfTheTree copies what git knows of, as it stands.
func copyOfTheTree(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	list, err := exec.Command("git", "ls-files", "-z").Output()
	require.NoError(t, err)
	for name := range strings.SplitSeq(strings.TrimRight(string(list), "\x00"), "\x00") {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		to := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(to), 0o755))
		require.NoError(t, os.WriteFile(to, data, 0o644))
	}
	return dir
}

// inTree runs a command in a copy of the tree, with the program built from it at hand.
func inTree(tree, bin string, command *exec.Cmd) (string, error) {
	command.Dir = tree
	command.Env = append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"), "PLUMBLINE_PROOFS=")
	out, err := command.CombinedOutput()
	return string(out), err
}

// applyRecipe changes files as a recipe says. A line that ends in a colon names a file; a line after a blank is one to
// look for, a line after a minus one to take away, a line after a plus one to put there. A file that is not there yet
// consists of what is put there.
func applyRecipe(t *testing.T, tree, name, text string) {
	t.Helper()
	var file string
	var lines []string
	at := 0
	save := func() {
		if file != "" {
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
			require.NoError(t, os.WriteFile(file, []byte(strings.Join(lines, "\n")+"\n"), 0o644))
		}
	}
	find := func(line string) {
		for ; at < len(lines); at++ {
			if strings.TrimSpace(lines[at]) == strings.TrimSpace(line) {
				return
			}
		}
		require.Fail(t, "no such line", "recipe %s: %s has no line %q after those before it", name, file, line)
	}
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		switch {
		case line == "" || strings.HasPrefix(line, "$ ") || strings.HasPrefix(line, "> "):
		case line[0] == '+':
			lines = append(lines[:at:at], append([]string{line[1:]}, lines[at:]...)...)
			at++
		case line[0] == '-':
			find(line[1:])
			lines = append(lines[:at:at], lines[at+1:]...)
		case line[0] == ' ' || line[0] == '\t':
			find(line[1:])
			at++
		default:
			save()
			file, lines, at = filepath.Join(tree, strings.TrimSuffix(line, ":")), nil, 0
			if data, err := os.ReadFile(file); err == nil {
				lines = strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
			}
		}
	}
	save()
}
