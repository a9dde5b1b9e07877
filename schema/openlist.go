package schema

import (
	"reflect"
	"slices"
)

// WholeWord in `complete` stands for every list that may be open.
const WholeWord = "all"

// OpenList is a list of parts that holds what was named so far, and not all there is, until `complete` names it.
type OpenList struct {
	// Path of the list, and the word by which `complete` names it.
	Path, Name string
	// Whole says what all of it is: the feed, from pump to throttle body.
	Whole string
}

// Ask asks whether all of it is named.
func (l OpenList) Ask() string { return "Is that all of " + l.Whole + "?" }

// Question asks it of whoever writes the design, and says what to write.
func (l OpenList) Question() string {
	return l.Ask() + " Write complete: [" + l.Name + "], or name the rest."
}

// OpenLists are the lists that may be open, in the order of the design: those of parts that stand apart on the vehicle, of
// which people name the ones they have in mind.
//
// All other lists are closed, and hold all there is. What is inside one thing is looked at with it: the wires of a circuit
// and the joints of a wire, which are one way of the current from end to end; the wires through a hole, a bundle seen in
// its section. The points of a curve are what the paper shows. Lists of plain facts (regions, what a port also feeds) are
// one answer. Papers, concessions and emission equipment are what the shop has on file: what is not on it does not count.
func OpenLists() []OpenList {
	return []OpenList{
		{"design.suction.runs", "suction", "the suction, from tank to pump"},
		{"design.feed.runs", "feed", "the feed, from pump to throttle body"},
		{"design.return_line.runs", "return_line", "the return line, from regulator to tank"},
		{"design.second_suction.runs", "second_suction", "the second tank's suction, from tank to selector"},
		{"design.second_feed.runs", "second_feed", "the second tank's feed, from its pump to the selector"},
		{"design.second_return.runs", "second_return", "the second tank's return, from selector to tank"},
		{"design.oxygen_sensors", "oxygen_sensors", "the oxygen sensors"},
		{"design.circuits", "circuits", "the circuits, those that share the supply included"},
		{"design.grounds", "grounds", "the ground cables, straps and studs"},
		{"design.connectors", "connectors", "the connectors of the harness"},
		{"design.passages", "passages", "the holes through panels"},
		{"design.gauges", "gauges", "the gauges and senders that stay"},
	}
}

// MayBeOpen reports whether the list at a path is one that may be open.
func MayBeOpen(path string) bool {
	return slices.ContainsFunc(OpenLists(), func(l OpenList) bool { return l.Path == path })
}

// OpenListAt is the open list at a path of a design: one of which something is named and perhaps not all.
func (d *Design) OpenListAt(path string) (OpenList, bool) {
	at := slices.IndexFunc(OpenLists(), func(l OpenList) bool { return l.Path == path })
	if at < 0 || !d.listAt(path).Open() {
		return OpenList{}, false
	}
	return OpenLists()[at], true
}

// listAt is the list at a path that leads to one.
func (d *Design) listAt(path string) listSetter {
	var last reflect.Value
	d.follow(path, func(v reflect.Value) { last = v })
	return last.Addr().Interface().(listSetter)
}

// settle opens the lists of a design that it does not say to be complete. One that is said to be empty always is.
func settle(d *Design) {
	for _, l := range OpenLists() {
		list := d.listAt(l.Path)
		list.setOpen(list.Len() > 0 && !d.completes(l.Name))
	}
}

// close makes every list hold all there is.
func (d *Design) close() {
	for _, l := range OpenLists() {
		d.listAt(l.Path).setOpen(false)
	}
}

// completes reports whether the design says that a list is complete.
func (d *Design) completes(name string) bool {
	return slices.ContainsFunc(d.Complete.Items, func(f Fact[Word]) bool {
		w, ok := f.Get()
		return ok && (string(w) == name || w == WholeWord)
	})
}
