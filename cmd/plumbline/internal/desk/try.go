package desk

import (
	"fmt"
	"strconv"

	"plumbline/engine/interview"
)

// Try is a change that is only looked at: an answer or a part of the shelf at a path, or else plain lines, or a usual way.
type Try struct{ Path, Answer, Part, Line, Way string }

// Trial is a job with a change that is not kept yet.
type Trial struct {
	// ID keeps or drops it.
	ID string
	// Before is the job, Done what the change would lead to; its view has the revision of Before.
	Before *View
	Done
}

// trial is a change that was tried.
type trial struct {
	revision int
	make     making
	made     *made
	number   int
}

// Try looks at a change without making it.
func (j *Job) Try(revision int, t Try) (*Trial, error) {
	make := reading(t.Line)
	switch {
	case t.Part != "":
		make = j.fitting(t.Path, t.Part)
	case t.Way != "":
		make = j.going(t.Way)
	case t.Path != "":
		make = setting(t.Path, t.Answer)
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.ready(); err != nil {
		return nil, err
	}
	before, err := j.now()
	if err != nil {
		return nil, err
	}
	m, err := j.made(revision, make)
	if err != nil {
		return nil, err
	}
	after := j.viewOf(m.session)
	after.Revision, after.ReadOnly = before.Revision, true
	j.tried++
	id := strconv.Itoa(j.tried)
	j.trials[id] = &trial{before.Revision, make, m, j.tried}
	for other, t := range j.trials {
		if t.number <= j.tried-mostTrials {
			delete(j.trials, other)
		}
	}
	return &Trial{ID: id, Before: before, Done: Done{View: after, Name: m.name, Heard: m.reply.Heard, Left: m.reply.Left, Merged: m.merged, Changed: j.desk.changed(before, after)}}, nil
}

// Keep makes the change of a trial, as an edit at the revision it was tried on. It is ErrStale for one that is not known any more.
func (j *Job) Keep(id string) (*Done, error) {
	j.mu.Lock()
	t := j.trials[id]
	delete(j.trials, id)
	j.mu.Unlock()
	if t == nil {
		return nil, fmt.Errorf("the trial is not known any more: %w", ErrStale)
	}
	first := true
	return j.change(t.revision, func(s *interview.Session) (string, interview.Reply, error) {
		if first && string(s.Text()) == string(t.made.before) { // what was judged when it was tried counts
			first = false
			*s = *t.made.session.Clone()
			return t.made.name, t.made.reply, nil
		}
		return t.make(s)
	})
}

// Drop forgets a trial.
func (j *Job) Drop(id string) {
	j.mu.Lock()
	defer j.mu.Unlock()
	delete(j.trials, id)
}
