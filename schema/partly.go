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
	return (*Declared)(nil).LoadPartly(file, line, data, open)
}

// LoadPartly is LoadPartly of a design that may state the declared facts too.
func (d *Declared) LoadPartly(file string, line int, data []byte, open func(name string) ([]byte, error)) (*Design, error) {
	c := chain{open: open, declared: d, above: line - 1}
	design := c.load(file, data)
	err := c.problems.Err()
	switch {
	case err != nil && c.standsWithout(design):
		return design, err
	case err != nil:
		return nil, err
	case len(c.links) == 1:
		return design, nil
	}
	design, _, err = c.join()
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
