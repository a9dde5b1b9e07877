// Package schema says what a conversion design is: the Go types of every
// fact, how a design file is read, and the JSON Schemas made from the types.
//
// A fact is one stated value. Every fact knows whether it was stated, where
// (file, line, column) and under which path, so that a missing one can be
// asked for and a wrong one pointed at:
//
//	design, err := schema.Load("van.yaml", bytes)
//	setting, known := design.Regulator.Setting.Get()
//
// A quantity or whole number may be stated as a range: Get answers that it is
// not known, Span gives its ends, and Design.Ranges lists them all.
//
// Load reports all errors of a file at once. It never guesses: a number
// without a unit, an unknown key or a misspelt word is an error that says
// what to write instead.
//
// A design may rest on a template; LoadBased puts the two together. The
// package opens no files itself.
package schema

//go:generate go run ./generate
