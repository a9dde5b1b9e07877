package report

import (
	"plumbline/engine/pack"
)

// Format is the edition of the JSON report; it rises when the meaning of a key changes.
const Format = 2

// About names the program and the library a report was made with.
type About struct {
	// Version of the program.
	Version string
	// Digest over the files of the library.
	Digest string
	// Packs of the library.
	Packs []*pack.Pack
}
