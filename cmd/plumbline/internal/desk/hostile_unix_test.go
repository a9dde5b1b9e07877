//go:build unix

package desk_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/schema/document"
)

// Names and files of a stranger lead nowhere outside the folder, stop nothing, and break nothing.
func TestHostileFolder(t *testing.T) {
	outer := t.TempDir()
	folder := filepath.Join(outer, "jobs")
	put(t, outer, "secret.yaml", "plumbline: 1\ntitle: secret\n")
	put(t, outer, "jobs/ok.yaml", half)
	put(t, outer, "jobs/.hidden/x.yaml", half)
	put(t, outer, "jobs/.x.yaml", half)
	put(t, outer, "jobs/folder.yaml/inside.yaml", half)
	put(t, outer, "jobs/steals.yaml", "plumbline: 1\nbased_on: ../secret.yaml\n")
	put(t, outer, "jobs/steals2.yaml", "plumbline: 1\nbased_on: "+filepath.Join(outer, "secret.yaml")+"\n")
	put(t, outer, "jobs/through.yaml", "plumbline: 1\nbased_on: link.yaml\n")
	put(t, outer, "jobs/pipes.yaml", "plumbline: 1\nbased_on: pipe.yaml\n")
	put(t, outer, "jobs/loop.yaml", "plumbline: 1\nbased_on: loop.yaml\n")
	put(t, outer, "jobs/empty.yaml", "")
	put(t, outer, "jobs/list.yaml", "- a\n")
	put(t, outer, "jobs/long.yaml", "plumbline: 1\nnotes: "+strings.Repeat("x", document.MaxBytes)+"\n")
	put(t, outer, "jobs/bad\x1b[31m.yaml", half)
	put(t, outer, "jobs/pack.yaml", "pack: a\n")
	put(t, outer, "jobs/esc.yaml", "plumbline: 1\ntitle: \"\\e[31m<script>alert(1)</script>\"\n")
	require.NoError(t, os.Symlink("../secret.yaml", filepath.Join(folder, "link.yaml")))
	require.NoError(t, os.Symlink("..", filepath.Join(folder, "up")))
	require.NoError(t, syscall.Mkfifo(filepath.Join(folder, "pipe.yaml"), 0o600))
	d := small(t, folder)

	list, err := d.Jobs()
	require.NoError(t, err)
	var fine, wrong []string
	for _, l := range list {
		if len(l.Problems) == 0 {
			fine = append(fine, l.Name)
			assert.NotContains(t, l.Title, "secret")
		} else {
			wrong = append(wrong, l.Name)
			assert.NotContains(t, l.Problems.Error(), "title: secret")
		}
	}
	assert.Equal(t, []string{"esc.yaml", "folder.yaml/inside.yaml", "ok.yaml"}, fine)
	assert.Equal(t, []string{"empty.yaml", "list.yaml", "long.yaml", "loop.yaml", "pipes.yaml", "steals.yaml", "steals2.yaml", "through.yaml"}, wrong)

	for _, name := range []string{"", ".", "/", "..", "../secret.yaml", "jobs/../../secret.yaml", filepath.Join(outer, "secret.yaml"), "up/secret.yaml", "link.yaml", "pipe.yaml", ".x.yaml", ".hidden/x.yaml",
		"ok.yaml/", "ok.yaml\x00", "OK.yaml\n", "..\\secret.yaml", "c:secret.yaml", "folder.yaml", ".plumbline/ok.yaml.journal", ".plumbline/lock", "plumbline.yaml", "none.yaml", strings.Repeat("a", 300) + ".yaml", "ok.yaml.journal"} {
		j, err := d.Job(name)
		if err == nil {
			_, err = j.View()
		}
		assert.Error(t, err, "%q", name)
	}
	for _, name := range []string{"../new.yaml", "up/new.yaml", ".plumbline/new.yaml", "ok.yaml", "link.yaml", "pipe.yaml", "folder.yaml", "a/../../b.yaml", "ok.yaml/x.yaml"} {
		_, _, _, err := d.Begin(desk.Beginning{Name: name})
		assert.Error(t, err, "%q", name)
	}
	for _, title := range []string{"../../etc", "...", "\x00", "<script>", strings.Repeat("x/", 200), "con", ".hidden"} {
		j, _, _, err := d.Begin(desk.Beginning{Title: title})
		if err == nil {
			assert.NotContains(t, j.Name(), "/", title)
			assert.NotContains(t, j.Name(), "..", title)
		}
	}
	outside, err := os.ReadDir(outer)
	require.NoError(t, err)
	require.Len(t, outside, 2, "nothing was made outside the folder")
	assert.Equal(t, "plumbline: 1\ntitle: secret\n", text(t, outer, "secret.yaml"))

	// Answers of a stranger.
	j, v := job(t, d, "ok.yaml")
	for _, a := range [][2]string{{"design.title", strings.Repeat("x", 1<<20)}, {"design.title", "a\x00b"}, {"design.title", "\u202eevil"}, {"design.title", "a\nplumbline: 2"}, {"design.based_on", "../secret.yaml"}, {"design.plumbline", "2"},
		{"design", "x"}, {"", "x"}, {"design.feed.runs[99999999999999999999].bore", "8 mm"}, {"design.feed.runs[-1].bore", "8 mm"}, {"design.pump.place", strings.Repeat("[", 5000)}, {"design.own.x.y", "1"}, {"xyz.title", "1"}} {
		_, err := j.Set(v.Revision, a[0], a[1])
		assert.Error(t, err, "%.60q", a)
	}
	for _, line := range []string{strings.Repeat("pump 255 lph\n", 10_000), "", "\x00\x01", "# [ { \" '"} {
		_, err := j.Line(v.Revision, line)
		assert.Error(t, err, "%.60q", line)
	}
	for _, path := range []string{"", "design", "design.no", "design.feed.runs[5]", "design.pump[0]", "..", "design.pump.rated_flow[]"} {
		_, err := j.Clear(v.Revision, path)
		assert.Error(t, err, path)
		assert.Nil(t, v.Question(path), path)
	}
	assert.Equal(t, half, text(t, folder, "ok.yaml"))

	// A journal that is a link, or a folder of journals that is one, leads nowhere either.
	put(t, folder, "linked.yaml", half)
	require.NoError(t, os.Symlink("../../secret.yaml", filepath.Join(folder, ".plumbline", "linked.yaml.journal")))
	j, v = job(t, d, "linked.yaml")
	_, err = j.Set(v.Revision, "design.title", "x")
	require.NoError(t, err)
	assert.Equal(t, "plumbline: 1\ntitle: secret\n", text(t, outer, "secret.yaml"))
	elsewhere := t.TempDir()
	bad := t.TempDir()
	put(t, bad, "ok.yaml", half)
	require.NoError(t, os.Symlink(elsewhere, filepath.Join(bad, ".plumbline")))
	other := small(t, bad)
	j, v = job(t, other, "ok.yaml")
	assert.True(t, v.ReadOnly)
	_, err = j.Set(v.Revision, "design.title", "x")
	assert.ErrorContains(t, err, "no folder")
	made, err := os.ReadDir(elsewhere)
	require.NoError(t, err)
	assert.Empty(t, made)
}

// A folder that cannot be written is shown, and says why nothing is changed.
func TestFolderThatIsOnlyRead(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("who is root may write everywhere")
	}
	folder := t.TempDir()
	put(t, folder, "ok.yaml", half)
	require.NoError(t, os.Chmod(folder, 0o555))
	defer func() { require.NoError(t, os.Chmod(folder, 0o755)) }()
	d := small(t, folder)
	j, v := job(t, d, "ok.yaml")
	assert.True(t, v.ReadOnly)
	_, err := j.Set(v.Revision, "design.title", "x")
	assert.Error(t, err)
}
