package desk

import (
	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/interview"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// View is a job at a revision. What it holds must not be changed. What it makes on asking is made once.
type View struct {
	// Name is the file in the folder, Revision counts its changes.
	Name     string
	Revision int
	// Title and Stage are the design's, Headline answers whether the next step may be taken: "Do not order: 2 things are wrong".
	Title, Stage, Headline string
	// Counts are the findings by their outcome, Blocking those that stand against the next step.
	Counts   map[engine.Outcome]int
	Blocking int
	// Text is the file as it stands, Design what it says, Report how that is judged. All of them are of the last text that could be
	// read where Problems are told.
	Text   []byte
	Design *schema.Design
	Report *engine.Report
	// Units is the system numbers are told in.
	Units quantity.System
	// Problems say why the file cannot be read as it is now; edits are refused then.
	Problems document.Problems
	// Undo and Redo name what would be taken back, and made again; "" for nothing.
	Undo, Redo string
	// ReadOnly is set for a design that is shown only.
	ReadOnly bool
}

// Slip is the answer for the counter. It holds for any stage, but is what is told of a planned job.
func (v *View) Slip() *sheet.Slip { return nil }

// Papers are the names of the papers there are.
func (v *View) Papers() []sheet.Kind { return sheet.Kinds() }

// Paper is one of the papers; nil for a name that is none.
func (v *View) Paper(name string) *sheet.Paper { return nil }

// Questions are at most three facts to find out, those first whose answer can change the decision most. What was passed over by
// Skip comes after the rest.
func (v *View) Questions() []*interview.Question { return nil }

// Question asks for any fact, part or list at a path, stated or not; nil where the schema has none.
func (v *View) Question(path string) *interview.Question { return nil }

// Buy are the things to buy, or to buy otherwise: what must be bought instead of what is in hand, then what is not in hand.
func (v *View) Buy() []Buy { return nil }

// Buy is one thing to buy.
type Buy struct {
	// Subject is where it belongs, Name what stands or will stand there.
	Subject, Name string
	// Why says what is wrong without it, Do what to buy.
	Why, Do string
	// Sizes are those that would do; none where it is no matter of sizes.
	Sizes []whatif.Instead
}

// NotLooked are the parts of the vehicle that nothing was said about.
func (v *View) NotLooked() []string { return nil }

// Readings are what can be measured of this vehicle, in the order of the start-up sheet, with what was.
func (v *View) Readings() []Reading { return nil }

// Reading is something to measure, with its bands.
type Reading struct {
	// Path is the fact that takes what was measured, Name what is read, How the step of the start-up sheet.
	Path, Name, How string
	// Expected is what it should show, Fine and Stop the bands, as printed; "" for none.
	Expected, Fine, Stop string
	// Measured is what was entered, "" for nothing, Verdict what the band makes of it: fine, find out why, STOP.
	Measured, Verdict string
	// Bar is the band as a drawing takes it; nil where there is none or nothing was measured.
	Bar *sheet.Bar
}

// Diagnosis is what the readings point to, and what to measure next. Signs are those seen, by id or as people say them.
func (v *View) Diagnosis(signs ...string) (*diagnose.Diagnosis, error) { return nil, errNotYet }

// Slide tells how far a fact may move before the first finding turns. Path is a fact, a part, or "" for power, blend, altitude and
// heat.
func (v *View) Slide(path string) *whatif.Headroom { return nil }

// Sizes are the least that works at a place, or everywhere for "".
func (v *View) Sizes(path string) []whatif.Size { return nil }

// Fit are the parts of the shelf with which nothing is wrong at the places.
func (v *View) Fit(paths ...string) (*whatif.Fitting, error) { return nil, errNotYet }

// Try is a change that is only looked at. Exactly one of Answer, Line and Part is set.
type Try struct {
	// Path is where, for an answer or part.
	Path, Answer, Part, Line string
}

// Trial is a job with a change that is not kept yet.
type Trial struct {
	// ID keeps it.
	ID string
	// Before is the job, Done what the change would lead to; its view has no revision of its own.
	Before *View
	Done
}

// Try looks at a change without making it.
func (j *Job) Try(revision int, t Try) (*Trial, error) { return nil, errNotYet }

// Keep makes a trial's change, as an edit at the revision it was tried on. ErrStale for a trial that is not kept any more.
func (j *Job) Keep(id string) (*Done, error) { return nil, errNotYet }

// Drop forgets a trial.
func (j *Job) Drop(id string) {}
