package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// typist types its lines one at a time and does something before one of them.
type typist struct {
	lines  []string
	before map[int]func()
	at     int
}

func (p *typist) Read(b []byte) (int, error) {
	if do := p.before[p.at]; do != nil {
		do()
	}
	if p.at == len(p.lines) {
		return 0, io.EOF
	}
	p.at++
	return copy(b, p.lines[p.at-1]+"\n"), nil
}

// runNew runs the verb with the library of the scripts.
func runNew(t *testing.T, in io.Reader, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	c := &Command{Stdin: in, Stdout: &out, Stderr: &errs, Now: today, Getenv: func(string) string { return "" }, Rules: os.DirFS(filepath.Join(scripts, "library"))}
	code = c.Run(append([]string{"new"}, args...))
	return code, out.String(), errs.String()
}

func TestEveryAnswerIsSavedBeforeTheNextQuestion(t *testing.T) {
	file := filepath.Join(t.TempDir(), "van.yaml")
	holds := func(want string) func() {
		return func() {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, want, string(text))
		}
	}
	begun := "plumbline: 1\nregions:\n  - gb\n"
	code, _, stderr := runNew(t, &typist{
		lines:  []string{"van", "planned", "back", "ordered"},
		before: map[int]func(){0: holds(begun), 1: holds(begun + "title: van\n"), 2: holds(begun + "title: van\nstage: planned\n"), 3: holds(begun + "title: van\n"), 4: holds(begun + "title: van\nstage: ordered\n")},
	}, "--region", "gb", file)
	assert.Equal(t, exitClear, code, stderr)
	left, err := os.ReadDir(filepath.Dir(file))
	require.NoError(t, err)
	assert.Len(t, left, 1, "no file is left beside it")
}

func TestAFileChangedMeanwhileIsNotWrittenOver(t *testing.T) {
	file := filepath.Join(t.TempDir(), "van.yaml")
	other := "plumbline: 1\ntitle: by hand\n"
	code, stdout, stderr := runNew(t, &typist{
		lines:  []string{"van", "planned"},
		before: map[int]func(){1: func() { require.NoError(t, os.WriteFile(file, []byte(other), 0o644)) }},
	}, "--region", "gb", file)
	assert.Equal(t, exitInput, code)
	assert.Contains(t, stderr, "was changed by somebody else")
	assert.NotContains(t, stdout, "All of it")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, other, string(text))
}

func TestALinkAndItsModeStay(t *testing.T) {
	dir := t.TempDir()
	file, link := filepath.Join(dir, "van.yaml"), filepath.Join(dir, "link.yaml")
	require.NoError(t, os.WriteFile(file, []byte("plumbline: 1\nregions: [gb]\n"), 0o600))
	require.NoError(t, os.Symlink("van.yaml", link))
	code, _, stderr := runNew(t, strings.NewReader("van\n"), link)
	require.Equal(t, exitClear, code, stderr)
	info, err := os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink)
	info, err = os.Stat(file)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "plumbline: 1\nregions: [gb]\ntitle: van\n", string(text))
}

func TestAListThatIsCutOff(t *testing.T) {
	file := filepath.Join(t.TempDir(), "van.yaml")
	require.NoError(t, os.WriteFile(file, []byte("plumbline: 1\ntitle: van\nregions: none\nstage: built\npump: {stop_control: controller_speed_signal}\n"), 0o644))
	code, stdout, stderr := runNew(t, strings.NewReader("front hose\nrear hose\nstop\n"), file)
	require.Equal(t, exitClear, code, stderr)
	assert.Contains(t, strings.Join(strings.Fields(stdout), " "), "The list of pump-to-engine line, pieces of the line ends with rear hose, where you stopped; if there are more, add them in the file.")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Contains(t, string(text), "feed:\n  runs:\n    - name: front hose\n      kind: hose\n    - name: rear hose\n      kind: hose\n")
}

// What is typed is repeated without what could drive a terminal; a line too long ends the answers, not the file.
func TestHostileAnswers(t *testing.T) {
	file := filepath.Join(t.TempDir(), "van.yaml")
	code, stdout, _ := runNew(t, strings.NewReader("\x1b[2J\nvan\n"), "--region", "gb", file)
	assert.Equal(t, exitClear, code)
	assert.NotContains(t, stdout, "\x1b")
	code, _, stderr := runNew(t, strings.NewReader(strings.Repeat("x", 2<<20)), "--region", "gb", file)
	assert.Equal(t, exitInput, code)
	assert.Contains(t, stderr, "the answers cannot be read")
}
