package desk

import (
	"errors"
	"fmt"

	"plumbline/engine/interview"
	"plumbline/engine/whatif"
	"plumbline/schema/document"
)

var errNotYet = errors.New("this cannot be done yet")

// What an edit may be refused for, beside a *Refused, *Conflict and *Unreadable.
var (
	// ErrNoJob says that the folder has no such design.
	ErrNoJob = errors.New("there is no such job in the folder")
	// ErrStale says that undo, redo or keeping a trial was asked for at a revision that is not the last one.
	ErrStale = errors.New("the job was changed meanwhile; look at it again first")
	// ErrNothing says that there is nothing to undo or redo, or that an edit changes nothing.
	ErrNothing = errors.New("there is nothing to do")
	// ErrReadOnly says that a design is read but not written: JSON is.
	ErrReadOnly = errors.New("this design is not YAML; it is shown, and changed in its file")
)

// Refused says why an answer is not taken, in the words of the reader of designs.
type Refused struct {
	Problems []string
	// Offer are readings of the answer with a unit that would be taken.
	Offer []string
}

func (r *Refused) Error() string { return fmt.Sprint("the answer is not taken: ", r.Problems) }

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

// ConflictingFact is one fact with its three values, as the file writes them; "" where it is not stated.
type ConflictingFact struct{ Path, Base, Mine, Theirs string }

func (c *Conflict) Error() string { return "somebody else changed the same fact meanwhile" }

// Unreadable says that the file was changed by another program so that it cannot be read. Nothing is written until it is mended.
type Unreadable struct {
	Problems document.Problems
	// Text is what the file holds.
	Text []byte
}

func (u *Unreadable) Error() string { return "the file cannot be read as it is now; mend it first" }

// Job is an open design.
type Job struct{ name string }

// Name is the file of the job in the folder.
func (j *Job) Name() string { return j.name }

// View is the job as it stands, with what other programs wrote into its file.
func (j *Job) View() (*View, error) { return nil, errNotYet }

// At is the view of an earlier revision, as long as it is kept; ErrStale where it is not.
func (j *Job) At(revision int) (*View, error) { return nil, errNotYet }

// Watch returns a channel that gets a value when the job has another revision, whoever made it, and what ends that. A slow reader
// misses none but the last.
func (j *Job) Watch() (changed <-chan struct{}, stop func()) { return nil, func() {} }

// Heard is a fact that was understood, as the interview tells it.
type Heard = interview.Heard

// Left is a part of a line that was not understood, and why.
type Left struct {
	Text, Why string
	// Could are the facts it may mean, where they are several.
	Could []string
}

// Done is what an edit led to.
type Done struct {
	View *View
	// Name says what was done: "pump: 255 L/h at 3 bar".
	Name string
	// Heard are the facts that a line, or an answer that says more than was asked, was understood to say; Left what was not.
	Heard []Heard
	Left  []Left
	// Merged is set where the edit was made on an earlier revision, and both stand now.
	Merged  bool
	Changed Changed
}

// Changed is what a change of the text changed of the design.
type Changed struct {
	// Before and After are the headlines.
	Before, After string
	whatif.Difference
}

// Set answers for a fact, part or list: as the design states it, as people say it, or as a label has it. A fact that is stated
// is stated otherwise.
func (j *Job) Set(revision int, path, answer string) (*Done, error) { return nil, errNotYet }

// Clear takes what the design itself states at a path out of it.
func (j *Job) Clear(revision int, path string) (*Done, error) { return nil, errNotYet }

// Line takes up plain lines. What they say otherwise than the design is left, with the reason.
func (j *Job) Line(revision int, text string) (*Done, error) { return nil, errNotYet }

// Part puts a part of the shelf, by its number, in the place at a path.
func (j *Job) Part(revision int, path, part string) (*Done, error) { return nil, errNotYet }

// Skip notes that nobody can know a fact now: it is asked after the others until the desk is closed.
func (j *Job) Skip(path string) (*View, error) { return nil, errNotYet }

// Undo takes the last change back, Redo makes it again. The revision must be the last one.
func (j *Job) Undo(revision int) (*Done, error) { return nil, errNotYet }

// Redo makes the change again that was taken back last.
func (j *Job) Redo(revision int) (*Done, error) { return nil, errNotYet }

// Past is one change of the history.
type Past struct {
	Name string
	// Undone is set for one that was taken back and can be made again.
	Undone bool
	// Outside is set for one that another program made.
	Outside bool
}

// History are the changes that can be taken back or made again, the first first.
func (j *Job) History() ([]Past, error) { return nil, errNotYet }
