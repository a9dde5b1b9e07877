package desk_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a crash may leave between journal and file, made by hand: each is put right when the folder is opened again.
func TestWhatACrashLeaves(t *testing.T) {
	answered := strings.Replace(half, "155 lph", "190 lph", 1)
	both := strings.Replace(answered, "300 hp", "310 hp", 1)
	for name, c := range map[string]struct {
		// file is what the file holds after the crash; lines what becomes of the journal.
		file  string
		lines func([]string) []string
		want  string
		// undone is what taking the last change back gives; "" for nothing to take back.
		undone string
	}{
		"all is there":                  {answered, nil, answered, half},
		"not yet in the file":           {half, unkept, answered, half},
		"in the file, not noted":        {answered, unkept, answered, half},
		"taken back by hand afterwards": {half, nil, half, answered},
		"another fact changed by hand":  {strings.Replace(half, "300 hp", "310 hp", 1), unkept, both, answered},
		"the same fact changed by hand": {strings.Replace(half, "155 lph", "340 lph", 1), unkept, strings.Replace(half, "155 lph", "340 lph", 1), answered},
		"a line not written whole": {half, func(l []string) []string {
			l = unkept(l)
			l[len(l)-1] = l[len(l)-1][:20]
			return l
		}, half, ""},
		"nothing but a beginning": {half, func(l []string) []string { return []string{l[0][:5]} }, half, ""},
		"a damaged line": {answered, func(l []string) []string {
			l[0] = strings.Replace(l[0], "base", "bass", 1)
			return l
		}, answered, ""},
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			put(t, folder, "truck.yaml", half)
			d := small(t, folder)
			j, v := job(t, d, "truck.yaml")
			_, err := j.Set(v.Revision, "design.pump.rated_flow", "190 lph")
			require.NoError(t, err)
			require.NoError(t, d.Close())
			if c.lines != nil {
				at := filepath.Join(folder, ".plumbline", "truck.yaml.journal")
				data, err := os.ReadFile(at)
				require.NoError(t, err)
				lines := c.lines(strings.SplitAfter(strings.TrimSuffix(string(data), "\n"), "\n"))
				require.NoError(t, os.WriteFile(at, []byte(strings.Join(lines, "")), 0o644))
			}
			put(t, folder, "truck.yaml", c.file)
			d = small(t, folder)
			j, v = job(t, d, "truck.yaml")
			assert.Equal(t, c.want, string(v.Text))
			assert.Equal(t, c.want, text(t, folder, "truck.yaml"))
			if c.undone == "" {
				assert.Empty(t, v.Undo)
			} else {
				done, err := j.Undo(v.Revision)
				require.NoError(t, err)
				assert.Equal(t, c.undone, text(t, folder, "truck.yaml"))
				assert.Equal(t, c.undone, string(done.View.Text))
			}
			// It goes on from there.
			v, err = j.View()
			require.NoError(t, err)
			done, err := j.Set(v.Revision, "design.title", "on")
			require.NoError(t, err)
			require.NoError(t, d.Close())
			_, v = job(t, small(t, folder), "truck.yaml")
			assert.Equal(t, done.View.Revision, v.Revision)
			assert.Equal(t, string(done.View.Text), string(v.Text))
		})
	}
}

// unkept is a journal without the note that the last change is in the file.
func unkept(lines []string) []string {
	lines = lines[:len(lines)-1]
	return lines
}
