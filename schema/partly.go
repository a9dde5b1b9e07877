package schema

import (
	"slices"

	"plumbline/schema/document"
)

// LoadPartly reads like LoadLine and returns, beside the problems of a file, also the design of what could be read of it;
// nil where that is no design to judge. What could not be read is unknown in it: a wrong value, a key that is not known
// and all below it, both of two ways to say one thing, a list that is none.
//
// There is no such design where the text itself is not clear (a key that stands twice, say), where the file does not say
// that it is one, where it takes facts from a template, where a concession could not be read, since one without its last
// day or its rule would grant more than was written, and where nothing is left of it.
func LoadPartly(file string, line int, data []byte, open func(name string) ([]byte, error)) (*Design, error) {
	return Loader{Open: open}.Partly(file, line, data)
}

// Loader reads designs that name other files.
type Loader struct {
	// Open returns the bytes of a template; without it no design may be based on one.
	Open func(name string) ([]byte, error)
	// Shelf returns the parts that designs may name, once one does; without it they may name none. Its error is shown where
	// a part is named.
	Shelf func() (*Shelf, error)
	// Declared are the facts that packs declare, which designs may state too; nil for none.
	Declared *Declared
}

// Load reads a whole design, one without a problem.
func (l Loader) Load(file string, data []byte) (*Design, error) {
	design, err := l.Partly(file, 1, data)
	if err != nil {
		return nil, err
	}
	return design, nil
}

// Partly reads a design like LoadPartly, with the parts of the shelf that it names: their facts count as stated, and have
// their places in the shelf's files. What the design states itself counts before what the part says.
func (l Loader) Partly(file string, line int, data []byte) (*Design, error) {
	c := chain{open: l.Open, shelf: l.Shelf, declared: l.Declared, above: line - 1}
	design := c.load(file, data)
	root, single := c.links[0].root, len(c.links) == 1
	switch {
	case root == nil, !single && len(c.problems) > 0:
		return nil, c.problems.Err()
	case !single || namesParts(root):
		d, root := c.join()
		design = c.furnished(d, root)
		c.problems = d.problems
	}
	err := c.problems.Err()
	if err != nil && !c.standsWithout(design) {
		return nil, err
	}
	return design, err
}

// standsWithout reports whether a design may be judged without what is wrong with its file.
func (c *chain) standsWithout(d *Design) bool {
	if d == nil || c.unclear || len(c.links) != 1 || len(c.problems) > document.MaxProblems || !d.Plumbline.Known() || d.BasedOn.Known() {
		return false
	}
	whole := func(p document.Problem) bool {
		return slices.Contains([]string{"plumbline", "based_on", "leave_out", "stage", "concessions"}, Path(p.Path).Section())
	}
	return !slices.ContainsFunc(c.problems, whole) && d.statesSomething()
}

// statesSomething reports whether anything is stated of the vehicle, more than what the job is called.
func (d *Design) statesSomething() bool {
	some := false
	WalkAll(d, func(v Visit) {
		if slices.Contains([]string{"plumbline", "title", "notes", "stage", "regions"}, Path(v.Path).Section()) {
			return
		}
		switch {
		case v.Reading != nil:
			some = some || IsStated(v.Reading)
		case v.Optional != nil:
			some = some || v.Optional.Presence() != NotStated
		case v.Listing != nil:
			some = some || listed(v.Listing)
		}
	})
	return some
}
