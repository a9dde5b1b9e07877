// Package amend writes one value into the text of a design file and leaves
// the rest of the file as somebody wrote it: comments, order, blank lines,
// alignment.
//
//	text, err := amend.Set("van.yaml", text, []amend.Step{{Key: "pump"}, {Key: "place"}}, amend.Plain("in_tank"))
//
// The new lines are put where the value belongs, and the result is read back:
// it must hold what the file held and the value, nothing else. A file laid out
// so oddly that this fails is written anew from its node tree; comments and
// order stay then too, blank lines and alignment do not.
//
// The package knows no design: a step is a key, and for lists an item by its
// place or its name. Set only adds; a value that is there already is an error. Put
// also replaces and Drop takes away; remarks on what goes stay as remarks.
package amend
