// Package designs holds the patterns that ship with the program, as data: the
// usual ways to build something. The demo designs and good builds beside them
// are for people and tests.
package designs

import (
	"embed"
	"io/fs"
)

//go:embed patterns/*.yaml
var files embed.FS

// Patterns returns the patterns, for pattern.Read.
func Patterns() fs.FS {
	sub, err := fs.Sub(files, "patterns")
	if err != nil {
		panic(err)
	}
	return sub
}
