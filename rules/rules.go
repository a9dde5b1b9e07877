// Package rules is the library of rules, as data: packs by subject, the sources
// they cite, and the known failures they are to catch. README.md is the index of
// the pages in reference, which tell them all.
package rules

import (
	"embed"
	"io/fs"
)

//go:generate go run ./ledger
//go:generate go run ../cmd/plumbline pack pages .

//go:embed *.yaml */*.yaml */*.txt survivors.txt failures.txt silent-facts.txt
var files embed.FS

//go:embed library.image
var image []byte

// Image is the library read, checked and compiled beforehand, for engine.OpenImage. It belongs to Files.
func Image() []byte { return image }

// Files returns the packs of the library with its lists: survivors.txt, silent-facts.txt, and
// failures.txt, which holds the known failures of conversions, a line each: its
// number, a tab, the failure in a few words, and, where no rule can catch it,
// another tab and the reason.
func Files() fs.FS { return files }
