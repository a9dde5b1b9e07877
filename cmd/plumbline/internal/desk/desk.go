package desk

import (
	"time"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Options are what a desk is opened with.
type Options struct {
	// Shop is the shop of the folder, its settings read.
	Shop *shop.Shop
	// Rules and Patterns are the folders of its packs and patterns.
	Rules, Patterns []string
	// Units is the system numbers are told in; each design's own where it is nil.
	Units *quantity.System
	// Now is the clock: it decides how old things are.
	Now func() time.Time
	// MostOpen is how many jobs are kept open at once, those used last; 0 for 64.
	MostOpen int
}

// Desk is a folder with its open jobs.
type Desk struct {
	o      Options
	folder string
}

// Open opens a folder and what its designs are judged with, once.
func Open(folder string, o Options) (*Desk, error) {
	return nil, errNotYet
}

// Close ends the watching of the folder and the writing of journals. Edits are refused from then on.
func (d *Desk) Close() error { return errNotYet }

// Listed is one design of the folder, as a list tells it.
type Listed struct {
	// Name is the file in the folder, with slashes; by it the job is opened.
	Name string
	// Title, Stage and Headline are those of its view.
	Title, Stage, Headline string
	// Counts are its findings by their outcome, Blocking those that stand against the next step.
	Counts   map[engine.Outcome]int
	Blocking int
	// Asked is how many facts are asked for.
	Asked int
	// Changed is when the file was written last.
	Changed time.Time
	// Problems say why it cannot be judged; the rest is then empty.
	Problems document.Problems
}

// Jobs lists the designs of the folder, by name. What cannot be read stands among them with its problems; files of packs, shelves
// and stored reports do not.
func (d *Desk) Jobs() ([]Listed, error) { return nil, errNotYet }

// Job opens a design of the folder. The error is ErrNoJob where there is none of that name.
func (d *Desk) Job(name string) (*Job, error) { return nil, errNotYet }

// Beginning is what a new job begins with. At most one of Template, Pattern and Lines is set.
type Beginning struct {
	// Name is the file to make, in the folder, ending in .yaml; where it is "" one is made from the title.
	Name, Title string
	// Regions are written into it.
	Regions []string
	// Template is a design that it rests on, a path in the folder.
	Template string
	// Pattern names a usual way to build it: how that way runs is stated, its numbers stay usual ones.
	Pattern string
	// Lines are plain lines, as people write a list of parts.
	Lines string
}

// Begin makes a new job. Understood and left are what came of its lines.
func (d *Desk) Begin(b Beginning) (*Job, []Heard, []Left, error) { return nil, nil, nil, errNotYet }

// Way is a pattern that a new job may begin with, or template.
type Way struct{ Name, Title, Group string }

// Patterns are the usual ways a job may begin with.
func (d *Desk) Patterns() []Way { return nil }

// ShelfParts are the parts of the shelf that may stand at a path of a design: those of its kind, in the order of the shelf.
func (d *Desk) ShelfParts(path string) ([]*schema.ShelfPart, error) { return nil, errNotYet }
