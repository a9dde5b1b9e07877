package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Job is an open design. One lock holds it: edits come one after the other, in the order they are made.
type Job struct {
	desk *Desk
	name string
	// used is when it was used last, by a count of the uses of all jobs; 0 while it sleeps.
	used atomic.Int64

	mu      sync.Mutex
	history *history
	// journal is open once something was changed; anew is set where it does not hold all of the history, and begins anew with the next
	// change.
	journal *shop.Journal
	anew    bool
	// session is the state of the last text that could be read.
	session *interview.Session
	view    *View
	// rests are what the last text that was read rests on.
	rests templates
	// seen marks the file as it was read last, wrong says why it cannot be read, and wrongText is what it holds then.
	seen      string
	wrong     document.Problems
	wrongText []byte
	// skipped are the questions nobody can answer now; they outlast sleep.
	skipped  []string
	trials   map[string]*trial
	tried    int
	watchers map[chan struct{}]struct{}
}

// uses counts the uses of all jobs.
var uses atomic.Int64

// Name is the file of the job in the folder.
func (j *Job) Name() string { return j.name }

// View is the job as it stands, with what other programs wrote into its file.
func (j *Job) View() (*View, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.wake(); err != nil {
		return nil, err
	}
	return j.now()
}

// At is the view of an earlier revision; ErrStale where that is not kept.
func (j *Job) At(revision int) (*View, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.wake(); err != nil {
		return nil, err
	}
	if revision == j.history.revision {
		return j.now()
	}
	text, ok := j.history.at(revision)
	if !ok {
		return nil, ErrStale
	}
	s := j.session.Clone()
	if err := s.Put(text); err != nil {
		return nil, &Unreadable{Problems: problemsOf(j.name, err), Text: text}
	}
	v := j.viewOf(s)
	v.Revision, v.ReadOnly = revision, true
	return v, nil
}

// Watch returns a channel that gets a value when the job looks otherwise, whoever changed it, and what ends that. A reader that is
// slow gets one value for several changes.
func (j *Job) Watch() (changed <-chan struct{}, stop func()) {
	c := make(chan struct{}, 1)
	j.mu.Lock()
	defer j.mu.Unlock()
	j.watchers[c] = struct{}{}
	return c, func() {
		j.mu.Lock()
		defer j.mu.Unlock()
		delete(j.watchers, c)
	}
}

func (j *Job) tell() {
	for c := range j.watchers {
		select {
		case c <- struct{}{}:
		default:
		}
	}
}

// now is the view of the job as it stands; what was read must be up to date.
func (j *Job) now() (*View, error) {
	if j.session == nil {
		return nil, &Unreadable{Problems: j.wrong, Text: j.wrongText}
	}
	if j.view == nil {
		v := j.viewOf(j.session)
		v.Revision, v.Problems, v.ReadOnly = j.history.revision, j.wrong, j.readOnly()
		if e, ok := j.history.undoing(); ok {
			v.Undo = e.Name
		}
		if e, ok := j.history.redoing(); ok {
			v.Redo = e.Name
		}
		j.view = v
	}
	return j.view, nil
}

func (j *Job) readOnly() bool {
	return strings.ToLower(path.Ext(j.name)) == ".json" || j.desk.shut != nil
}

// wake reads the job where it sleeps, and takes up what other programs wrote.
func (j *Job) wake() error {
	if j.desk.isClosed() {
		return ErrClosed
	}
	first := j.used.Swap(uses.Add(1)) == 0
	if first {
		j.desk.rest(j)
		if err := j.begin(); err != nil {
			j.used.Store(0)
			return err
		}
	}
	return j.refresh()
}

// sleep forgets all that can be read again.
func (j *Job) sleep() error {
	var err error
	if j.journal != nil {
		err = j.journal.Close()
	}
	j.history, j.journal, j.anew, j.session, j.view, j.rests, j.seen, j.wrong, j.wrongText = nil, nil, false, nil, nil, nil, "", nil, nil
	clear(j.trials)
	j.used.Store(0)
	return err
}

// begin reads the journal, and puts right what a crash left between it and the file.
func (j *Job) begin() error {
	lines, err := j.desk.folder.ReadJournal(j.name)
	if err == nil {
		j.history, err = read(lines)
	}
	if err != nil { // a journal that is damaged is put aside when something is changed; the file is the design
		j.desk.work.Warn(fmt.Sprintf("what was done to %s before cannot be taken back: %v", j.name, err))
		j.history = nil
	}
	if j.history == nil || j.history.kept || j.desk.shut != nil {
		return nil
	}
	text, err := j.desk.folder.Read(j.name)
	before, ok := j.history.before()
	if err != nil || !ok || bytes.Equal(text, j.history.text) {
		return nil // what the file is now is told by refresh
	}
	if bytes.Equal(text, before) { // written into the journal, and not yet into the file
		if err := j.desk.folder.Save(j.name, before, j.history.text); err != nil {
			return err
		}
		j.history.kept = true
		return nil
	}
	// Somebody else wrote into the file: both, where they touch different facts; else the file's, and ours is in the history.
	merged, clashes, err := amend.Merge(j.name, before, j.history.text, text)
	if err != nil || len(clashes) > 0 || bytes.Equal(merged, text) {
		return nil
	}
	if _, err := j.desk.work.LoadText(j.name, merged); err != nil {
		return nil
	}
	if err := j.desk.folder.Save(j.name, text, merged); err != nil && !errors.Is(err, shop.ErrChanged) {
		return err
	}
	return nil
}

// refresh takes up what the file holds now.
func (j *Job) refresh() error {
	seen := j.desk.folder.Seen(j.name)
	text, err := j.desk.folder.Read(j.name)
	switch {
	case errors.Is(err, fs.ErrNotExist) && j.history == nil:
		return ErrNoJob
	case errors.Is(err, fs.ErrNotExist):
		err = errors.New("the file is gone; put it back, or take its last text from here")
	}
	changed := seen != j.seen
	j.seen = seen
	if err != nil {
		j.broken(problemsOf(j.name, err), nil)
		return nil
	}
	if j.wrong != nil && !changed && bytes.Equal(text, j.wrongText) && j.desk.still(j.rests) {
		return nil
	}
	if j.session != nil && bytes.Equal(text, j.history.text) && j.desk.still(j.rests) {
		if j.wrong != nil {
			j.wrong, j.wrongText, j.view = nil, nil, nil
			j.tell()
		}
		return nil
	}
	return j.take(text)
}

// broken notes that the file cannot be read.
func (j *Job) broken(problems document.Problems, text []byte) {
	if j.wrong.Error() == problems.Error() && bytes.Equal(text, j.wrongText) {
		return
	}
	j.wrong, j.wrongText, j.view = problems, text, nil
	j.tell()
	if j.history != nil && j.session == nil { // what it was before can be shown
		if s, err := j.interview(j.history.text); err == nil {
			j.session = s
		}
	}
}

// take makes a text of the file the state of the job, as a change of somebody else where it was another before.
func (j *Job) take(text []byte) error {
	s, err := j.readAgain(text)
	if err != nil {
		j.broken(problemsOf(j.name, err), text)
		return nil
	}
	switch {
	case j.history == nil:
		j.history = begun(text, 1)
	case !bytes.Equal(text, j.history.text):
		e := changeOf(outside, j.outsideName(text), j.history.text, text)
		if err := j.write(e, true); err != nil { // the file is the design; taking back begins anew here
			j.desk.work.Warn(fmt.Sprintf("what was done to %s before cannot be taken back: %v", j.name, err))
			j.history, j.anew = begun(text, j.history.revision+1), true
		} else {
			j.write1(kept)
		}
	}
	j.session, j.view, j.wrong, j.wrongText = s, nil, nil, nil
	j.tell()
	return nil
}

// readAgain is the state of the job with another text.
func (j *Job) readAgain(text []byte) (*interview.Session, error) {
	if j.session == nil {
		return j.interview(text)
	}
	s := j.session.Clone()
	return s, s.Put(text)
}

// interview begins the state of the job with a text.
func (j *Job) interview(text []byte) (*interview.Session, error) {
	o := j.asked()
	o.Text = text
	s, err := interview.Begin(o)
	if err != nil {
		return nil, err
	}
	for _, path := range j.skipped {
		s.Skip(path)
	}
	return s, nil
}

// asked is how the design is asked about and judged.
func (j *Job) asked() interview.Options {
	work := j.desk.work
	units := quantity.Both // both are printed on parts, so both are given as examples
	if j.desk.o.Units != nil {
		units = *j.desk.o.Units
	}
	o := work.Interview(work.Library.Library, engine.Options{Units: units})
	o.File, o.Judge = j.name, j.judge
	o.Load = func(file string, text []byte) (*schema.Design, error) {
		design, rests, err := j.desk.load(file, text)
		j.rests = rests
		return design, err
	}
	return o
}

// judge judges the design as every command does.
func (j *Job) judge(d *schema.Design) *engine.Report {
	r := j.desk.work.Library.Judge(d, j.desk.work.Options(d, j.desk.o.Units))
	r.File = j.name
	return r
}

// outsideName says what somebody else changed.
func (j *Job) outsideName(text []byte) string {
	const by = "changed by another program"
	was, err := document.Parse(j.name, j.history.text)
	is, err2 := document.Parse(j.name, text)
	if err != nil || err2 != nil {
		return by
	}
	var parts []string
	for _, c := range amend.Diff(was, is) {
		label := c.Path[0].Key
		if s := j.session; s != nil {
			if l := s.Label("design." + label); len(l) > 0 {
				label = l[0]
			}
		}
		if !slices.Contains(parts, label) {
			parts = append(parts, label)
		}
	}
	switch {
	case len(parts) == 0:
		return by + ": remarks or layout"
	case len(parts) > 3:
		return fmt.Sprintf("%s: %s and %d more", by, strings.Join(parts[:3], ", "), len(parts)-3)
	}
	return by + ": " + strings.Join(parts, ", ")
}

// write puts a change into the journal and the history.
func (j *Job) write(e entry, sure bool) error {
	if j.readOnly() {
		if !j.history.take(e) {
			return fmt.Errorf("the history of %s does not hold together", j.name)
		}
		return nil
	}
	if j.journal == nil {
		journal, fresh, err := j.desk.folder.OpenJournal(j.name)
		if err != nil {
			return err
		}
		j.journal = journal
		j.anew = j.anew || fresh
	}
	if j.anew {
		if e.Kind == undo || e.Kind == redo {
			return ErrNothing
		}
		j.history = begun(j.history.text, j.history.revision)
		if err := j.line(entry{Kind: base, Is: j.history.text, Revision: j.history.revision}, true); err != nil {
			return err
		}
		j.anew = false
	}
	if err := j.line(e, sure); err != nil {
		return err
	}
	if !j.history.take(e) {
		return fmt.Errorf("the history of %s does not hold together", j.name)
	}
	return nil
}

// write1 notes what became of the last change; one that is not noted is looked into when the job is opened again.
func (j *Job) write1(k kind) {
	e := entry{Kind: k}
	if !j.history.take(e) || j.journal == nil {
		return
	}
	if err := j.line(e, k == void); err != nil {
		j.desk.work.Warn(err.Error())
		j.anew = k == void
	}
}

func (j *Job) line(e entry, sure bool) error {
	text, err := json.Marshal(e)
	if err != nil {
		return err
	}
	return j.journal.Append(text, sure)
}

// look takes up what somebody else wrote, where the job is awake and the file another one.
func (j *Job) look() {
	if j.used.Load() == 0 || !j.mu.TryLock() {
		return
	}
	defer j.mu.Unlock()
	if j.used.Load() == 0 || j.desk.folder.Seen(j.name) == j.seen && j.desk.still(j.rests) {
		return
	}
	if err := j.refresh(); err != nil {
		j.desk.work.Warn(err.Error())
	}
}

// Skip notes that nobody can know a fact now: it is asked after the others until the desk is closed.
func (j *Job) Skip(path string) (*View, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.wake(); err != nil {
		return nil, err
	}
	if j.session == nil {
		return j.now()
	}
	if !slices.Contains(j.skipped, path) && j.session.About(path) != nil {
		j.skipped = append(j.skipped, path)
		j.session = j.session.Clone()
		j.session.Skip(path)
		j.view = nil
		j.tell()
	}
	return j.now()
}

// Past is one change of the history.
type Past struct {
	Name string
	// Undone is set for one that was taken back and can be made again.
	Undone bool
	// Outside is set for one that another program made.
	Outside bool
}

// History are the changes that can be taken back or made again, the first first.
func (j *Job) History() ([]Past, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.wake(); err != nil || j.history == nil {
		return nil, err
	}
	var out []Past
	for _, at := range j.history.past {
		out = append(out, Past{Name: j.history.log[at].Name, Outside: j.history.log[at].Kind == outside})
	}
	for _, at := range slices.Backward(j.history.undone) {
		out = append(out, Past{Name: j.history.log[at].Name, Undone: true, Outside: j.history.log[at].Kind == outside})
	}
	return out, nil
}
