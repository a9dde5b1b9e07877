package desk

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
)

// FuzzJournal follows journals of a stranger: what holds together leads back through all its texts and forth again, the rest is refused.
func FuzzJournal(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		var lines [][]byte
		for l := range strings.Lines(text) {
			lines = append(lines, []byte(strings.TrimSuffix(l, "\n")))
		}
		h, err := read(lines)
		if err != nil || h == nil {
			return
		}
		for i := range len(h.log) + 1 {
			if _, ok := h.at(h.revision - i); !ok {
				t.Fatalf("revision %d is not to be had", h.revision-i)
			}
		}
		last, undone := string(h.text), 0
		for {
			e, ok := h.undoing()
			if !ok || undone > len(lines) {
				break
			}
			if !h.take(e) {
				t.Fatal("what can be taken back is not")
			}
			undone++
		}
		for range undone {
			e, ok := h.redoing()
			if !ok || !h.take(e) {
				t.Fatal("what was taken back is not made again")
			}
		}
		if string(h.text) != last {
			t.Fatalf("%q has become %q", last, h.text)
		}
	})
}

// A change is the stretch that differs, also between letters of several bytes, and leads both ways.
func TestChangeOf(t *testing.T) {
	for _, c := range [][2]string{{"", ""}, {"", "a"}, {"a", ""}, {"abc", "axc"}, {"aaa", "aa"}, {"ä", "ö"}, {"xäy", "xöy"}, {"abab", "ababab"}} {
		e := changeOf(edit, "", []byte(c[0]), []byte(c[1]))
		text, err := json.Marshal(e)
		require.NoError(t, err)
		var back entry
		require.NoError(t, json.Unmarshal(text, &back))
		got, ok := back.over([]byte(c[0]))
		assert.True(t, ok)
		assert.Equal(t, c[1], string(got))
		got, ok = back.back([]byte(c[1]))
		assert.True(t, ok)
		assert.Equal(t, c[0], string(got))
		_, ok = back.over([]byte("something else altogether"))
		assert.False(t, ok && len(back.Was) > 0)
	}
}

// A journal that cannot be written costs no answer that is acknowledged: the edit is refused, and what is there stays.
func TestJournalThatFails(t *testing.T) {
	pack := "pack: base\ntitle: Base\nedition: 1\npart: Fuel\nrules: []\n"
	folder := t.TempDir()
	at := filepath.Join(folder, "a.yaml")
	require.NoError(t, os.WriteFile(at, []byte("plumbline: 1\ntitle: one\n"), 0o644))
	var warned bytes.Buffer
	s := shop.New(shop.Built{Rules: fstest.MapFS{"base.yaml": {Data: []byte(pack)}}, Numbers: designs.Numbers()}, strings.NewReader(""))
	s.Warn = func(text string) { fmt.Fprintln(&warned, text) }
	d, err := Open(folder, Options{Shop: s, Now: time.Now})
	require.NoError(t, err)
	defer d.Close()
	j, err := d.Job("a.yaml")
	require.NoError(t, err)
	done, err := j.Set(1, "design.title", "two")
	require.NoError(t, err)
	require.NoError(t, j.journal.Close()) // as when the disk is gone
	_, err = j.Set(done.View.Revision, "design.title", "three")
	require.Error(t, err)
	v, err := j.View()
	require.NoError(t, err)
	assert.Equal(t, "plumbline: 1\ntitle: two\n", string(v.Text))
	// What somebody else writes is taken up all the same.
	require.NoError(t, os.WriteFile(at, []byte("plumbline: 1\ntitle: theirs\n"), 0o644))
	v, err = j.View()
	require.NoError(t, err)
	assert.Equal(t, "theirs", v.Title)
	assert.Empty(t, v.Undo)
	assert.Contains(t, warned.String(), "cannot be taken back")
	// The disk is back: it goes on, and holds together when it is opened again.
	j.journal, _, err = d.folder.OpenJournal("a.yaml")
	require.NoError(t, err)
	done, err = j.Set(v.Revision, "design.title", "four")
	require.NoError(t, err)
	done, err = j.Undo(done.View.Revision)
	require.NoError(t, err)
	assert.Equal(t, "theirs", done.View.Title)
	lines, err := d.folder.ReadJournal("a.yaml")
	require.NoError(t, err)
	h, err := read(lines)
	require.NoError(t, err)
	assert.Equal(t, done.View.Revision, h.revision)
	assert.Equal(t, string(done.View.Text), string(h.text))
}
