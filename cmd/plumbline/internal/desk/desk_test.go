package desk_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
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
func open(t testing.TB, folder string) *desk.Desk { return opened(t, folder, options(folder)) }

// small opens a folder with a library of one rule, for what does not hang on judging.
func small(t testing.TB, folder string) *desk.Desk { return opened(t, folder, smallOptions()) }

func smallOptions() desk.Options {
	pack := `pack: base
title: Base
edition: 1
part: Fuel
rules:
  - id: setting-low
    title: regulator is set low
    danger: fire
    due: ordered
    about: design.regulator
    must: {at_most: psi(60)}
    measure: design.regulator.setting
    say: "The regulator is set to {design.regulator.setting}."
    met: "The regulator is set to {design.regulator.setting}."
    mend: Set it lower.
    because: [{practice: for the tests}]
`
	built := shop.Built{Rules: fstest.MapFS{"base.yaml": {Data: []byte(pack)}}, Numbers: designs.Numbers()}
	return desk.Options{Shop: shop.New(built, strings.NewReader("")), Now: func() time.Time { return day }}
}

func opened(t testing.TB, folder string, o desk.Options) *desk.Desk {
	d, err := desk.Open(folder, o)
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

func sorted(list []string) []string {
	slices.Sort(list)
	return list
}
