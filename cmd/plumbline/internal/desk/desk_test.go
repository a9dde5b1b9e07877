package desk_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/rules"
)

// day is the day of all tests.
var day = time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)

// open opens a folder with what the program brings along.
func open(t testing.TB, folder string) *desk.Desk {
	d, err := desk.Open(folder, options(folder))
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, d.Close()) })
	return d
}

func options(folder string) desk.Options {
	s := shop.New(shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()}, strings.NewReader(""))
	if file := shop.SettingsAbove(folder); strings.HasPrefix(file, folder) {
		settings, err := s.ReadSettings(file)
		if err != nil {
			panic(err)
		}
		s.Settings = *settings
		for _, x := range settings.Flags {
			if x.Flag == "shelf" {
				s.ShelfDir = x.Value
			}
		}
	}
	return desk.Options{Shop: s, Now: func() time.Time { return day }}
}

// put writes a file of a test.
func put(t testing.TB, folder, name, text string) {
	at := filepath.Join(folder, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o755))
	require.NoError(t, os.WriteFile(at, []byte(text), 0o644))
}

func text(t testing.TB, folder, name string) string {
	data, err := os.ReadFile(filepath.Join(folder, name))
	require.NoError(t, err)
	return string(data)
}

// job opens a job with its view.
func job(t testing.TB, d *desk.Desk, name string) (*desk.Job, *desk.View) {
	j, err := d.Job(name)
	require.NoError(t, err)
	v, err := j.View()
	require.NoError(t, err)
	return j, v
}

const half = `plumbline: 1
# what the customer brought
pump:   # out of a bag
  rated_flow: 155 lph
  rated_pressure: 43 psi
engine: {displacement: 390 cu in, power: 300 hp} # said he
`

func TestThreeMinutesAtTheCounter(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "truck.yaml", half)
	d := open(t, folder)
	j, v := job(t, d, "truck.yaml")
	t.Log(v.Headline)
	for _, q := range v.Questions() {
		t.Log(q.Label, q.Path)
	}
	done, err := j.Set(v.Revision, "design.pump.place", "in the tank")
	require.NoError(t, err)
	t.Log(done.Name, done.Changed.Before, done.Changed.After, len(done.Changed.Findings), len(done.Changed.Values))
	done, err = j.Line(done.View.Revision, "hose 3/8 30R7, 15 ft, the good stuff")
	require.NoError(t, err)
	t.Log(done.Name, done.Heard, done.Left, done.View.Headline)
	done, err = j.Undo(done.View.Revision)
	require.NoError(t, err)
	t.Log(done.Name, done.View.Redo, done.View.Undo)
	t.Log(text(t, folder, "truck.yaml"))
	for _, b := range done.View.Buy() {
		t.Log(b)
	}
	list, err := d.Jobs()
	require.NoError(t, err)
	t.Log(list)
}
