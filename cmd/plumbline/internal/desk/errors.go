package desk

import (
	"errors"
	"slices"
	"strings"

	"plumbline/schema/document"
)

// What an edit may be refused for, beside a *Refused, *Conflict and *Unreadable.
var (
	// ErrNoJob says that the folder has no such design.
	ErrNoJob = errors.New("there is no such job in the folder")
	// ErrStale says that undo, redo or keeping a trial was asked for at a revision that is not the last one, or an edit at one that is
	// not kept.
	ErrStale = errors.New("the job was changed meanwhile; look at it again first")
	// ErrNothing says that there is nothing to take back or to make again.
	ErrNothing = errors.New("there is nothing to take back or to make again")
	// ErrReadOnly says that a design is read but not written: JSON is.
	ErrReadOnly = errors.New("this design is not YAML; it is shown, and changed in its file")
	// ErrClosed says that the desk was closed.
	ErrClosed = errors.New("the folder is closed")
)

// Refused says why an answer is not taken, in the words of the reader of designs.
type Refused struct {
	Problems []string
	// Offer are readings of the answer with a unit that would be taken.
	Offer []string
	// Left is what was not understood of a line of which nothing was.
	Left []Left
}

// Error is all that is wrong with the answer, in one line.
func (r *Refused) Error() string {
	texts := slices.Clone(r.Problems)
	for _, l := range r.Left {
		texts = append(texts, l.Text+": "+l.Why)
	}
	return strings.Join(texts, "; ")
}

// Conflict says that a fact an edit states was stated otherwise since the revision it was made on. Nothing was saved; the edit made
// again on Now.Revision takes its place.
type Conflict struct {
	// Facts are those that both state.
	Facts []ConflictingFact
	// Mine is the text the edit would have led to on its own revision, Theirs the one that stands.
	Mine, Theirs []byte
	// Now is the job as it stands.
	Now *View
}

// ConflictingFact is one fact with its three values, as a file writes them in one line; "" where it is not stated.
type ConflictingFact struct{ Path, Base, Mine, Theirs string }

// Error names the facts that both changed.
func (c *Conflict) Error() string {
	var paths []string
	for _, f := range c.Facts {
		paths = append(paths, f.Path)
	}
	return "somebody else changed this meanwhile: " + strings.Join(paths, ", ")
}

// Unreadable says that the file was changed by another program so that it cannot be read. Nothing is written until it is mended.
type Unreadable struct {
	Problems document.Problems
	// Text is what the file holds.
	Text []byte
}

// Error says that the file is to be mended first, and what is wrong with it.
func (u *Unreadable) Error() string {
	return "the file cannot be read as it is now; mend it first: " + u.Problems.Error()
}
