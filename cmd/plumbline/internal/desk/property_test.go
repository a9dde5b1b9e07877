package desk_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/testdata/proofs"
)

// answers are facts with what may be answered to each.
var answers = map[string][]string{
	"design.title":              {"One", "two: the second", "# three", "4"},
	"design.engine.power":       {"300 hp", "280..320 hp", "90 kW"},
	"design.pump.place":         {"in_tank", "frame rail"},
	"design.pump.rated_flow":    {"255 lph @ 43 psi", "190 L/h"},
	"design.regulator.setting":  {"3 bar", "58 psi"},
	"design.return_line":        {"none", "yes"},
	"design.return_line.rise":   {"-400 mm", "1 ft"},
	"design.feed.runs[]":        {"hose 3/8 R9 15 ft", "tank tube", "it's a hose"},
	"design.feed.runs[0].bore":  {"8 mm", "5/16 in"},
	"design.notes":              {"a\u00e4\u03a9 \"quoted\" 'it' {x}", "1972-01-01"},
	"design.vehicle.model_year": {"1969", "1972"},
}

// By whatever answers, lines, takings away, changes of another program, closings and openings again a design is led, the history leads
// back through every text it had to the first one, and forth again to the last; the file is always what was acknowledged.
func TestUndoAndRedoWithoutEnd(t *testing.T) {
	proofs.Fewer(t, 5)
	rapid.Check(t, func(t *rapid.T) {
		folder, err := os.MkdirTemp("", "desk-*")
		require.NoError(t, err)
		defer os.RemoveAll(folder)
		at := filepath.Join(folder, "truck.yaml")
		require.NoError(t, os.WriteFile(at, []byte(half), 0o644))
		open := func() (*desk.Desk, *desk.Job, *desk.View) {
			d, err := desk.Open(folder, smallOptions())
			require.NoError(t, err)
			j, err := d.Job("truck.yaml")
			require.NoError(t, err)
			v, err := j.View()
			require.NoError(t, err)
			return d, j, v
		}
		d, j, v := open()
		defer func() { require.NoError(t, d.Close()) }()
		// What can be taken back, and made again, by a stack of texts as a child would keep them.
		past, undone := []string{half}, []string(nil)
		did := func(now string) {
			if now != past[len(past)-1] {
				past, undone = append(past, now), nil
			}
		}
		paths := make([]string, 0, len(answers))
		for p := range answers {
			paths = append(paths, p)
		}
		path := rapid.SampledFrom(sorted(paths))
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			var done *desk.Done
			switch what := rapid.SampledFrom([]string{"set", "set", "set", "clear", "line", "undo", "undo", "redo", "redo", "outside", "again"}).Draw(t, "what"); what {
			case "set":
				p := path.Draw(t, "path")
				done, err = j.Set(v.Revision, p, rapid.SampledFrom(answers[p]).Draw(t, "answer"))
			case "clear":
				done, err = j.Clear(v.Revision, path.Draw(t, "path"))
			case "line":
				done, err = j.Line(v.Revision, rapid.SampledFrom([]string{"pump 340 lph in tank", "no return", "hose 5/16 9 ft what", "regulator 43 psi"}).Draw(t, "line"))
			case "undo":
				done, err = j.Undo(v.Revision)
				if len(past) == 1 {
					require.ErrorIs(t, err, desk.ErrNothing)
				} else {
					require.NoError(t, err)
					undone, past = append(undone, past[len(past)-1]), past[:len(past)-1]
				}
			case "redo":
				done, err = j.Redo(v.Revision)
				if len(undone) == 0 {
					require.ErrorIs(t, err, desk.ErrNothing)
				} else {
					require.NoError(t, err)
					past, undone = append(past, undone[len(undone)-1]), undone[:len(undone)-1]
				}
			case "outside":
				require.NoError(t, os.WriteFile(at, fmt.Appendf(v.Text[:len(v.Text):len(v.Text)], "# %d by hand\n", len(past)), 0o644))
				v, err = j.View()
				require.NoError(t, err)
				did(string(v.Text))
			case "again":
				require.NoError(t, d.Close())
				d, j, v = open()
			}
			if done == nil && err != nil && !errors.Is(err, desk.ErrNothing) {
				var refused *desk.Refused
				require.ErrorAs(t, err, &refused)
			}
			if done != nil {
				v = done.View
				did(string(v.Text))
			}
			data, err := os.ReadFile(at)
			require.NoError(t, err)
			require.Equal(t, string(v.Text), string(data))
			require.Equal(t, past[len(past)-1], string(data))
			require.Equal(t, len(past) > 1, v.Undo != "")
			require.Equal(t, len(undone) > 0, v.Redo != "")
		}
		all := len(past)
		for v.Undo != "" {
			done, err := j.Undo(v.Revision)
			require.NoError(t, err)
			v, past, undone = done.View, past[:len(past)-1], append(undone, past[len(past)-1])
			require.Equal(t, past[len(past)-1], string(v.Text))
		}
		require.Equal(t, half, string(v.Text))
		for v.Redo != "" {
			done, err := j.Redo(v.Revision)
			require.NoError(t, err)
			v, past, undone = done.View, append(past, undone[len(undone)-1]), undone[:len(undone)-1]
			require.Equal(t, past[len(past)-1], string(v.Text))
		}
		require.GreaterOrEqual(t, len(past), all)
	})
}
