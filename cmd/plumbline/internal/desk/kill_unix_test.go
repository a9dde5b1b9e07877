//go:build unix

package desk_test

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/testdata/proofs"
)

// childFolder names, in the environment of a test that runs again as a child, the folder in which it answers until it is killed.
const childFolder = "PLUMBLINE_TEST_ANSWERS_IN"

func TestMain(m *testing.M) {
	if folder := os.Getenv(childFolder); folder != "" {
		answer(folder)
	}
	os.Exit(m.Run())
}

// answer answers one question after the other, and prints each once it is acknowledged.
func answer(folder string) {
	fail := func(err error) {
		if err != nil {
			fmt.Println("child:", err)
			os.Exit(3)
		}
	}
	d, err := desk.Open(folder, smallOptions())
	fail(err)
	j, err := d.Job("truck.yaml")
	fail(err)
	v, err := j.View()
	fail(err)
	for n := v.Revision; ; n++ {
		switch {
		case n%7 == 5 && v.Undo != "":
			done, err := j.Undo(v.Revision)
			fail(err)
			v = done.View
		case n%7 == 6 && v.Redo != "":
			done, err := j.Redo(v.Revision)
			fail(err)
			v = done.View
		default:
			done, err := j.Set(v.Revision, []string{"design.engine.power", "design.pump.rated_flow", "design.notes"}[n%3], fmt.Sprintf("%d %s", n%1500+2, []string{"hp", "lph", "times"}[n%3]))
			fail(err)
			v = done.View
		}
		fmt.Printf("%d %q\n", v.Revision, v.Text)
	}
}

// A program that is killed in the midst of answers has lost none that it acknowledged: each is in the file or the history of the next
// one, in order, and can be taken back one by one to the text that was there first.
func TestKilledInTheMidst(t *testing.T) {
	times := 6
	if proofs.Whole() {
		times = 100
	}
	program, err := os.Executable()
	require.NoError(t, err)
	folder := t.TempDir()
	put(t, folder, "truck.yaml", half)
	acknowledged := map[int]string{1: half}
	last := 1
	outside := 0
	for round := range times {
		child := exec.Command(program)
		child.Env = append(os.Environ(), childFolder+"="+folder)
		out, err := child.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, child.Start())
		said := make(chan string, 1<<16)
		go func() {
			defer close(said)
			for lines := bufio.NewScanner(out); lines.Scan(); {
				said <- lines.Text()
			}
		}()
		// It is killed at any moment from its first answer on.
		hear := func(line string) {
			var revision int
			var text string
			_, err := fmt.Sscanf(line, "%d %q", &revision, &text)
			require.NoError(t, err, line)
			acknowledged[revision], last = text, revision
		}
		hear(<-said)
		time.Sleep(time.Duration(rand.IntN(120_000)) * time.Microsecond)
		require.NoError(t, child.Process.Kill())
		for line := range said {
			hear(line)
		}
		_ = child.Wait()

		d, err := desk.Open(folder, smallOptions())
		require.NoError(t, err)
		j, v := job(t, d, "truck.yaml")
		// The last answer may have been made and not acknowledged; none may be gone.
		require.Contains(t, []int{last, last + 1}, v.Revision, "round %d", round)
		require.Equal(t, string(v.Text), text(t, folder, "truck.yaml"))
		acknowledged[v.Revision], last = string(v.Text), v.Revision
		for _, revision := range []int{last - 1, 1 + rand.IntN(last), 1} {
			old, err := j.At(max(revision, 1, last-1999)) // older ones can be taken back to, but not looked at
			require.NoError(t, err)
			if want, ok := acknowledged[old.Revision]; ok {
				require.Equal(t, want, string(old.Text), "round %d", round)
			}
		}
		if round%3 == 2 { // now and then somebody writes into the file while nothing runs
			put(t, folder, "truck.yaml", text(t, folder, "truck.yaml")+"# by hand\n")
			v, err = j.View()
			require.NoError(t, err)
			acknowledged[v.Revision], last = string(v.Text), v.Revision
			outside++
		}
		require.NoError(t, d.Close())
	}
	files, err := filepath.Glob(filepath.Join(folder, ".*.new"))
	require.NoError(t, err)
	assert.LessOrEqual(t, len(files), 1, "what was begun is not left lying about")
	assert.Equal(t, outside, strings.Count(text(t, folder, "truck.yaml"), "# by hand"))
	t.Logf("killed %d times in the midst of %d changes, %d of them by hand", times, last, outside)

	// All of it can be taken back.
	d := small(t, folder)
	j, v := job(t, d, "truck.yaml")
	for v.Undo != "" {
		done, err := j.Undo(v.Revision)
		require.NoError(t, err)
		v = done.View
	}
	assert.Equal(t, half, text(t, folder, "truck.yaml"))
}
