// Package engine judges conversion designs against packs of rules.
//
// A Library is loaded once from packs, its rules compiled and checked; it then
// judges any number of designs, from any number of goroutines:
//
//	lib, err := engine.Load(rules.Files())       // every problem of every pack at once
//	report := lib.Judge(design, engine.Options{}) // never fails: what cannot be judged is open
//	for _, f := range report.Findings { ... }
//
// The engine opens no files beyond the fs.FS it is given, reads no clock and
// knows no terminal; formats and exit codes live outside it.
package engine
