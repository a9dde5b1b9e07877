package desk_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// demo is a copy of a demo design in a folder of its own.
func demo(t testing.TB, name string) string {
	data, err := os.ReadFile("../../../../designs/demo/" + name + ".yaml")
	require.NoError(t, err)
	folder := t.TempDir()
	put(t, folder, "job.yaml", string(data))
	return folder
}

func reading(t testing.TB, list []sheet.ToRead, path string) sheet.ToRead {
	at := slices.IndexFunc(list, func(r sheet.ToRead) bool { return r.Path == path })
	require.GreaterOrEqual(t, at, 0, path)
	return list[at]
}

// In the bay a reading is entered as it is read, judged on its band at once, and what it points to follows.
func TestInTheBay(t *testing.T) {
	d := open(t, demo(t, "six-return"))
	j, v := job(t, d, "job.yaml")
	const path = "design.measured.idle_pressure"
	before := reading(t, v.Readings(), path)
	require.NotEmpty(t, before.Fine)
	assert.Equal(t, "fine", before.Judged)
	require.NotNil(t, before.Bar)
	done, err := j.Set(v.Revision, path, "190 kPa")
	require.NoError(t, err)
	after := reading(t, done.View.Readings(), path)
	assert.Equal(t, "STOP", after.Judged)
	assert.Equal(t, before.Fine, after.Fine, "what is expected does not follow what is measured")
	found := done.View.Diagnosis()
	require.NotEmpty(t, found.Candidates)
	assert.NotEmpty(t, found.Candidates[0].Troubles, "a sound vehicle does not show that")
	for _, next := range found.Next {
		assert.False(t, schema.IsStated(done.View.Design.FactAt(next.Fact)), "%s is measured", next.Fact)
	}
	assert.Same(t, found, done.View.Diagnosis(), "worked out once")
	assert.NotEmpty(t, d.Signs())
	assert.Same(t, found, done.View.Diagnosis("no such sign"))
	for _, k := range done.View.Papers() {
		require.NotNil(t, done.View.Paper(k.Name), k.Name)
	}
	assert.Nil(t, done.View.Paper("no such"))
	assert.Same(t, done.View.Paper("fuel"), done.View.Paper("fuel"))
}

// A slider says where the first finding turns; what is set just beyond turns it, and what is set just within does not.
func TestSlide(t *testing.T) {
	d := open(t, demo(t, "six-return"))
	j, v := job(t, d, "job.yaml")
	four := v.Slide()
	require.Len(t, four.Headlines, 4)
	assert.Empty(t, four.Rooms)
	rooms := v.Slide("design.battery.rest_voltage", "design.regulator.setting").Rooms
	require.NotEmpty(t, rooms)
	for _, r := range rooms {
		for _, reach := range []whatif.Reach{r.Down, r.Up} {
			if len(r.Facts) > 1 || reach.Next == nil {
				continue
			}
			within, err := j.Try(v.Revision, desk.Try{Path: r.Facts[0], Answer: reach.To.Text})
			require.NoError(t, err)
			beyond, err := j.Try(v.Revision, desk.Try{Path: r.Facts[0], Answer: reach.Next.Text})
			require.NoError(t, err)
			turned := func(list []whatif.FindingDiffers) bool {
				return slices.ContainsFunc(list, func(f whatif.FindingDiffers) bool { return f.Rule == reach.Turns[0].Rule && f.Worse })
			}
			assert.False(t, turned(within.Changed.Findings), "%s at %s", r.Facts[0], reach.To.Text)
			assert.True(t, turned(beyond.Changed.Findings), "%s at %s", r.Facts[0], reach.Next.Text)
		}
	}
}
