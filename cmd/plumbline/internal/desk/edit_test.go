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
	"plumbline/engine"
)

const half = `plumbline: 1
# what the customer brought
pump:   # out of a bag
  rated_flow: 155 lph
  rated_pressure: 43 psi
engine: {displacement: 390 cu in, power: 300 hp} # said he
`

// The counter of the trials: what is said, typed and tapped, and what the screen says to it.
func TestAtTheCounter(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "truck.yaml", half)
	d := open(t, folder)
	j, v := job(t, d, "truck.yaml")
	assert.Equal(t, "planned", v.Stage)
	assert.Contains(t, v.Headline, "Not ready to order")
	require.Len(t, v.Questions(), 3)
	assert.Contains(t, v.NotLooked(), "wiring")

	// What nobody can know now is asked after the rest.
	first := v.Questions()[0].Path
	skipped, err := j.Skip(first)
	require.NoError(t, err)
	assert.NotEqual(t, first, skipped.Questions()[0].Path)
	assert.True(t, skipped.Skipped(first))
	assert.Equal(t, v.Revision, skipped.Revision, "nothing is written by that")

	done, err := j.Set(v.Revision, "design.pump.place", "in the tank")
	require.NoError(t, err)
	assert.Equal(t, "fuel pump, where the pump is: in the tank", done.Name)
	assert.Equal(t, v.Revision+1, done.View.Revision)
	assert.NotEmpty(t, done.Changed.Findings)
	require.Len(t, done.Changed.Facts, 1)
	assert.Equal(t, "in_tank", done.Changed.Facts[0].After)

	done, err = j.Line(done.View.Revision, "hose 3/8 30R7, 15 ft, the good stuff")
	require.NoError(t, err)
	assert.Equal(t, "Do not order: 1 part is wrong", done.View.Headline)
	assert.Equal(t, done.Changed.After, done.View.Headline)
	require.Len(t, done.Left, 1)
	assert.Equal(t, "good stuff", done.Left[0].Text)
	assert.Contains(t, text(t, folder, "truck.yaml"), "# not understood: good stuff\n")
	buys := done.View.BuyQuickly()
	require.NotEmpty(t, buys)
	assert.Contains(t, strings.ToLower(buys[0].Do), "hose")

	done, err = j.Set(done.View.Revision, "design.regulator.setting", "58")
	var refused *desk.Refused
	require.ErrorAs(t, err, &refused, "%v", done)
	assert.NotEmpty(t, refused.Problems)
	assert.Contains(t, refused.Offer, "58 psi")

	_, v = job(t, d, "truck.yaml")
	done, err = j.Undo(v.Revision)
	require.NoError(t, err)
	assert.Equal(t, "hose 3/8 30R7, 15 ft, the good stuff", done.View.Redo)
	assert.Equal(t, "fuel pump, where the pump is: in the tank", done.View.Undo)
	assert.Equal(t, strings.Replace(half, "43 psi\n", "43 psi\n  place: in_tank\n", 1), text(t, folder, "truck.yaml"), "remarks and order stay")
	_, err = j.Undo(v.Revision)
	assert.ErrorIs(t, err, desk.ErrStale)
	done, err = j.Clear(done.View.Revision, "design.engine.power")
	require.NoError(t, err)
	assert.Contains(t, text(t, folder, "truck.yaml"), "engine: {displacement: 390 cu in} # said he")
	assert.Empty(t, done.View.Redo)
}

// A trial changes nothing until it is kept.
func TestTry(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "truck.yaml", half)
	d := open(t, folder)
	j, v := job(t, d, "truck.yaml")
	trial, err := j.Try(v.Revision, desk.Try{Line: "regulator 58 psi\nreturn line none"})
	require.NoError(t, err)
	assert.Equal(t, half, text(t, folder, "truck.yaml"))
	assert.NotEmpty(t, trial.Changed.Findings)
	other, err := j.Try(v.Revision, desk.Try{Path: "design.pump.rated_flow", Answer: "340 lph"})
	require.NoError(t, err)
	j.Drop(other.ID)
	_, err = j.Keep(other.ID)
	assert.ErrorIs(t, err, desk.ErrStale)
	kept, err := j.Keep(trial.ID)
	require.NoError(t, err)
	assert.Equal(t, trial.View.Headline, kept.View.Headline)
	assert.Contains(t, text(t, folder, "truck.yaml"), "setting: 58 psi")
	_, err = j.Keep(trial.ID)
	assert.ErrorIs(t, err, desk.ErrStale)
}

// A way that is tapped states how it runs, not its numbers; another one takes its place.
func TestWay(t *testing.T) {
	folder := t.TempDir()
	d := open(t, folder)
	require.NotEmpty(t, d.Patterns())
	j, _, _, err := d.Begin(desk.Beginning{Title: "Truck, 6.4 L", Pattern: "in-tank-return"})
	require.NoError(t, err)
	assert.Equal(t, "truck-6-4-l.yaml", j.Name())
	v, err := j.View()
	require.NoError(t, err)
	assert.Equal(t, "in_tank", v.Design.Pump.Place.Text())
	assert.Equal(t, "return_style", v.Design.Regulator.Style.Text())
	assert.False(t, v.Design.Regulator.Setting.Known() || v.Design.Regulator.Setting.Ranged())
	done, err := j.Way(v.Revision, "frame-return")
	require.NoError(t, err)
	assert.Equal(t, "frame_rail", done.View.Design.Pump.Place.Text())
	assert.Equal(t, "pump on the frame, return line", done.Name)
	_, err = j.Way(done.View.Revision, "no such")
	assert.Error(t, err)
}

// Lines and templates begin a job as plumbline new does.
func TestBegin(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "templates/six.yaml", "plumbline: 1\ntitle: Six\nengine: {cylinders: 6}\n")
	d := small(t, folder)
	j, heard, left, err := d.Begin(desk.Beginning{Lines: "pump 255 lph in tank, the big one", Title: "One"})
	require.NoError(t, err)
	assert.Equal(t, "one.yaml", j.Name())
	assert.Len(t, heard, 2)
	require.Len(t, left, 1)
	assert.Equal(t, "plumbline: 1\n# not understood in line 1: big one\npump:\n  place: in_tank\n  rated_flow: 255 lph\ntitle: One\n", text(t, folder, "one.yaml"))
	j, _, _, err = d.Begin(desk.Beginning{Name: "sub/two.yaml", Template: "templates/six.yaml"})
	require.NoError(t, err)
	v, err := j.View()
	require.NoError(t, err)
	assert.Equal(t, "6", v.Design.Engine.Cylinders.Text())
	_, err = j.Clear(v.Revision, "design.engine.cylinders")
	assert.ErrorContains(t, err, "templates/six.yaml")
	done, err := j.Set(v.Revision, "design.engine.cylinders", "8")
	require.NoError(t, err)
	assert.Equal(t, "8", done.View.Design.Engine.Cylinders.Text())
	j, _, _, err = d.Begin(desk.Beginning{Title: "One"})
	require.NoError(t, err)
	assert.Equal(t, "one-2.yaml", j.Name())
	for name, b := range map[string]desk.Beginning{
		"there already":    {Name: "one.yaml"},
		"nothing heard":    {Lines: "blah"},
		"two at once":      {Lines: "pump 255 lph", Pattern: "in-tank-return"},
		"no such region":   {Name: "x.yaml", Regions: []string{"zz"}},
		"no such template": {Name: "x.yaml", Template: "templates/no.yaml"},
		"template outside": {Name: "x.yaml", Template: "../x.yaml"},
		"outside":          {Name: "../x.yaml"},
		"hidden":           {Name: ".x.yaml"},
		"no design":        {Name: "plumbline.yaml"},
		"JSON":             {Name: "x.json"},
	} {
		_, _, _, err := d.Begin(b)
		assert.Error(t, err, name)
	}
	list, err := d.Jobs()
	require.NoError(t, err)
	var names []string
	for _, l := range list {
		names = append(names, l.Name)
		assert.Empty(t, l.Problems)
		assert.NotEmpty(t, l.Headline)
	}
	assert.Equal(t, []string{"one-2.yaml", "one.yaml", "sub/two.yaml", "templates/six.yaml"}, names)
}

// A part of the shelf takes the place of what its label says.
func TestPart(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "plumbline.yaml", "shop: 1\nshelf: parts\n")
	put(t, folder, "parts/pumps.yaml", "shelf: 1\nparts:\n  - name: tank-340\n    read_from: box\n    read_on: 2026-11-20\n    pump: {rated_flow: 340 L/h, rated_pressure: 3 bar}\n  - name: hose-8\n    read_from: box\n    read_on: 2026-11-20\n    hose: {bore: 8 mm}\n")
	put(t, folder, "truck.yaml", half)
	d := open(t, folder)
	j, v := job(t, d, "truck.yaml")
	parts, err := d.ShelfParts("design.pump")
	require.NoError(t, err)
	require.Len(t, parts, 1)
	trial, err := j.Try(v.Revision, desk.Try{Path: "design.pump", Part: "tank-340"})
	require.NoError(t, err)
	assert.Equal(t, "340 L/h", trial.View.Design.Pump.RatedFlow.Text())
	done, err := j.Keep(trial.ID)
	require.NoError(t, err)
	assert.Equal(t, "340 L/h", done.View.Design.Pump.RatedFlow.Text())
	assert.Contains(t, text(t, folder, "truck.yaml"), "pump:   # out of a bag\n  part: tank-340\n")
	_, err = j.Part(done.View.Revision, "design.pump", "hose-8")
	assert.ErrorContains(t, err, "does not go there")
	_, err = j.Part(done.View.Revision, "design.pump", "none such")
	assert.ErrorContains(t, err, "no part")
	hoses, err := d.ShelfParts("design.feed.runs[]")
	require.NoError(t, err)
	require.Len(t, hoses, 1)
	done, err = j.Part(done.View.Revision, "design.feed.runs[]", "hose-8")
	require.NoError(t, err)
	require.Len(t, done.View.Design.Feed.Runs.Items, 1)
	assert.Equal(t, "8 mm", done.View.Design.Feed.Runs.Items[0].Bore.Text())
	assert.Equal(t, "hose", done.View.Design.Feed.Runs.Items[0].Kind.Text())
	list, err := d.Jobs()
	require.NoError(t, err)
	require.Len(t, list, 1, "files of the shelf are no jobs")
}

// What somebody else writes into the file is taken up, put together with what is answered, or asked about.
func TestSomebodyElse(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "truck.yaml", half)
	d := small(t, folder)
	j, v := job(t, d, "truck.yaml")
	changed, stop := j.Watch()
	defer stop()

	// Another program writes while a page shows the first revision: noticed without being asked.
	theirs := strings.Replace(half, "power: 300 hp", "power: 310 hp", 1) + "# theirs\n"
	put(t, folder, "truck.yaml", theirs)
	select {
	case <-changed:
	case <-time.After(20 * time.Second):
		t.Fatal("nobody noticed")
	}
	// An answer to another fact on the first revision: both stand, theirs with its remark.
	done, err := j.Set(v.Revision, "design.pump.rated_flow", "190 lph")
	require.NoError(t, err)
	assert.True(t, done.Merged)
	assert.Equal(t, strings.Replace(theirs, "155 lph", "190 lph", 1), text(t, folder, "truck.yaml"))
	past, err := j.History()
	require.NoError(t, err)
	require.Len(t, past, 2)
	assert.True(t, past[0].Outside)
	assert.Contains(t, past[0].Name, "changed by another program: engine")

	// An answer to the same fact is asked about, and nothing is written.
	_, err = j.Set(v.Revision, "design.engine.power", "280 hp")
	var conflict *desk.Conflict
	require.ErrorAs(t, err, &conflict)
	assert.Equal(t, []desk.ConflictingFact{{Path: "design.engine.power", Base: "300 hp", Mine: "280 hp", Theirs: "310 hp"}}, conflict.Facts)
	assert.Contains(t, string(conflict.Mine), "280 hp")
	assert.Equal(t, text(t, folder, "truck.yaml"), string(conflict.Theirs))
	// Said again on what stands, it takes its place.
	done, err = j.Set(conflict.Now.Revision, "design.engine.power", "280 hp")
	require.NoError(t, err)
	assert.False(t, done.Merged)

	// Written between looking and saving: the edit finds it without being told.
	put(t, folder, "truck.yaml", strings.Replace(text(t, folder, "truck.yaml"), "390 cu in", "400 cu in", 1))
	done, err = j.Set(done.View.Revision, "design.pump.rated_pressure", "3 bar")
	require.NoError(t, err)
	assert.Contains(t, text(t, folder, "truck.yaml"), "400 cu in")
	assert.Contains(t, text(t, folder, "truck.yaml"), "rated_pressure: 3 bar")

	// A file that cannot be read any more is told with its problems, and nothing is written over it.
	broken := text(t, folder, "truck.yaml") + "pump: twice\n"
	put(t, folder, "truck.yaml", broken)
	v, err = j.View()
	require.NoError(t, err)
	require.NotEmpty(t, v.Problems)
	assert.Contains(t, v.Problems[0].Message, "pump")
	assert.Equal(t, done.View.Report.Findings[0].Outcome, v.Report.Findings[0].Outcome, "what it was before is shown")
	var unreadable *desk.Unreadable
	_, err = j.Set(v.Revision, "design.pump.rated_pressure", "4 bar")
	require.ErrorAs(t, err, &unreadable)
	assert.Equal(t, broken, string(unreadable.Text))
	_, err = j.Undo(v.Revision)
	require.ErrorAs(t, err, &unreadable)
	assert.Equal(t, broken, text(t, folder, "truck.yaml"))
	list, err := d.Jobs()
	require.NoError(t, err)
	require.Len(t, list, 1)
	assert.NotEmpty(t, list[0].Problems)

	// Mended, it goes on; gone, it is said to be.
	put(t, folder, "truck.yaml", strings.TrimSuffix(broken, "pump: twice\n"))
	v, err = j.View()
	require.NoError(t, err)
	assert.Empty(t, v.Problems)
	require.NoError(t, os.Remove(filepath.Join(folder, "truck.yaml")))
	v, err = j.View()
	require.NoError(t, err)
	require.NotEmpty(t, v.Problems)
	assert.Contains(t, v.Problems[0].Message, "gone")
	_, err = j.Set(v.Revision, "design.pump.rated_pressure", "4 bar")
	require.ErrorAs(t, err, &unreadable)
	assert.NoFileExists(t, filepath.Join(folder, "truck.yaml"))
}

// A template that is changed is taken up by what rests on it, and by the list.
func TestTemplateChanges(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "templates/six.yaml", "plumbline: 1\nregulator: {setting: 43 psi}\n")
	put(t, folder, "truck.yaml", "plumbline: 1\nbased_on: templates/six.yaml\n")
	d := small(t, folder)
	j, v := job(t, d, "truck.yaml")
	assert.Equal(t, engine.Pass, v.Report.Findings[0].Outcome)
	before, err := d.Jobs()
	require.NoError(t, err)
	changed, stop := j.Watch()
	defer stop()
	put(t, folder, "templates/six.yaml", "plumbline: 1\nregulator: {setting: 100 psi}\n")
	select {
	case <-changed:
	case <-time.After(20 * time.Second):
		t.Fatal("nobody noticed")
	}
	v, err = j.View()
	require.NoError(t, err)
	assert.Equal(t, engine.Fail, v.Report.Findings[0].Outcome)
	after, err := d.Jobs()
	require.NoError(t, err)
	assert.NotEqual(t, before[1].Headline, after[1].Headline)
	put(t, folder, "templates/six.yaml", "plumbline: 1\nregulator: {setting: 430}\n")
	v, err = j.View()
	require.NoError(t, err)
	require.NotEmpty(t, v.Problems)
	assert.Equal(t, "templates/six.yaml", v.Problems[0].Place.File)
	again, err := j.View()
	require.NoError(t, err)
	assert.Equal(t, v.Problems, again.Problems)
	require.NoError(t, os.Remove(filepath.Join(folder, "templates", "six.yaml")))
	_, err = j.Set(v.Revision, "design.title", "x")
	assert.Error(t, err)
	put(t, folder, "templates/six.yaml", "plumbline: 1\nregulator: {setting: 43 psi}\n")
	done, err := j.Set(v.Revision, "design.title", "x")
	require.NoError(t, err)
	assert.Equal(t, engine.Pass, done.View.Report.Findings[0].Outcome)
}

// Two people at one job: what touches different facts stands, the same fact is asked about; none of it is lost.
func TestTwoAtOnce(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, "truck.yaml", half)
	d := small(t, folder)
	j, v := job(t, d, "truck.yaml")
	one, err := j.Set(v.Revision, "design.pump.place", "in_tank")
	require.NoError(t, err)
	two, err := j.Set(v.Revision, "design.regulator.setting", "43 psi")
	require.NoError(t, err)
	assert.True(t, two.Merged)
	assert.Equal(t, engine.Pass, two.View.Report.Findings[0].Outcome)
	_, err = j.Set(v.Revision, "design.regulator.setting", "58 psi")
	var conflict *desk.Conflict
	require.ErrorAs(t, err, &conflict)
	same, err := j.Set(v.Revision, "design.regulator.setting", "43 psi")
	require.NoError(t, err)
	assert.Empty(t, same.Name, "both said the same")
	_, err = j.Undo(one.View.Revision)
	assert.ErrorIs(t, err, desk.ErrStale)
	old, err := j.At(v.Revision)
	require.NoError(t, err)
	assert.Equal(t, half, string(old.Text))
	_, err = j.Set(v.Revision+99, "design.pump.place", "in_tank")
	assert.ErrorIs(t, err, desk.ErrStale)

	second, err := desk.Open(folder, smallOptions())
	require.Error(t, err, "two programs do not work in one folder: %v", second)
}
