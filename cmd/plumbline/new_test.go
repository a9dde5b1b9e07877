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

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/rules"
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
	c := &Command{Stdin: in, Stdout: &out, Stderr: &errs, Now: today, Getenv: func(string) string { return "" }, Built: shop.Built{Rules: os.DirFS(filepath.Join(scripts, "library"))}}
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
	assert.Equal(t, exit.Clear, code, stderr)
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
	assert.Equal(t, exit.Input, code)
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
	require.Equal(t, exit.Clear, code, stderr)
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
	require.Equal(t, exit.Clear, code, stderr)
	assert.Contains(t, strings.Join(strings.Fields(stdout), " "), "The list of pump-to-engine line, pieces of the line ends with rear hose, where you stopped; if there are more, add them in the file.")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Contains(t, string(text), "feed:\n  runs:\n    - name: front hose\n      kind: hose\n    - name: rear hose\n      kind: hose\n")
}

// What is typed is repeated without what could drive a terminal; a line too long ends the answers, not the file.
func TestHostileAnswers(t *testing.T) {
	file := filepath.Join(t.TempDir(), "van.yaml")
	code, stdout, _ := runNew(t, strings.NewReader("\x1b[2J\nvan\n"), "--region", "gb", file)
	assert.Equal(t, exit.Clear, code)
	assert.NotContains(t, stdout, "\x1b")
	code, _, stderr := runNew(t, strings.NewReader(strings.Repeat("x", 2<<20)), "--region", "gb", file)
	assert.Equal(t, exit.Input, code)
	assert.Contains(t, stderr, "the answers cannot be read")
}

// A counter hand with a customer: what decides is asked first, in answers as people type them, a danger is told at once, and at
// the end the parts have their verdict. The rules and patterns are the program's own.
func TestACounterHandAnswers(t *testing.T) {
	file := filepath.Join(t.TempDir(), "truck.yaml")
	var out, errs bytes.Buffer
	c := &Command{Stdout: &out, Stderr: &errs, Now: today, Getenv: func(string) string { return "" }, Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()},
		Stdin: &typist{lines: []string{
			"about 300", "?", "hp", // a range, and its unit
			"E10",
			"frame", "back", "on the frame rail", // taken back
			"lots", "4",
			"bypass",
			"front hose 3/8 R7, 15 ft", "", // no hose for injection
			"80 lb/hr @ 43.5 psi",
			"58 psi",
			"255 lph @ 43 psi",
			"don't know",
			"stop",
		}}}
	code := c.Run([]string{"new", "--width", "100", file})
	require.Equal(t, exit.Clear, code, errs.String())
	said := strings.Join(strings.Fields(out.String()), " ")
	at := 0
	for _, want := range []string{
		"Engine, power:", "With its unit: about 300 hp or about 300 kW. The unit alone will do.",
		"Where to look: the customer knows it.", "Not known: leave the line empty.", "the injectors are large enough at full load",
		"Ethanol in the fuel:",
		"where the pump is:", "3=on the frame", "how many injectors:", "where the pump is:", "how many injectors:",
		"a whole number without unit or quotes is expected",
		"how the regulator works:", "1=with a return line",
		"pieces of the line:", "Understood: hose; bore 3/8 in (3/8 taken in inches); SAE J30 R7; length 15 ft.",
		"injector flow:", "Understood: injector flow by mass 80 lb/hr; pressure of that flow 43.5 psi.",
		"pressure it holds:", "Wrong: Danger of fire:", "SAE J30 R7 is no injection grade",
		"pump flow on the label:", "Understood: pump flow on the label 255 lph; pressure of that flow 43 psi.",
		"Do not order:", "NO front hose", "injectors (4,",
	} {
		next := strings.Index(said[at:], want)
		if !assert.GreaterOrEqual(t, next, 0, "%s is not said after\n%s", want, said[max(0, at-300):at]) {
			return
		}
		at += next + len(want)
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	for _, want := range []string{"power: about 300 hp", "ethanol: E10", "place: frame_rail", "count: 4", "style: return_style", "mark: sae_j30_r7", "length: 15 ft", "static_mass_flow: 80 lb/hr", "rated_pressure: 43 psi"} {
		assert.Contains(t, string(text), want)
	}
}
