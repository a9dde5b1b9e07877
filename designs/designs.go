// Package designs holds the patterns that ship with the program, as data: the
// usual ways to build something; the sizes that things are made in; and how numbers move and scatter. The demo designs and good builds beside them
// are for people and tests.
package designs

import (
	"embed"
	"io/fs"
)

//go:embed patterns/*.yaml
var files embed.FS

//go:embed series.yaml
var series []byte

// Series returns the sizes that things are made in, for whatif.ReadSeries.
func Series() []byte { return series }

// Patterns returns the patterns, for pattern.Read.
func Patterns() fs.FS {
	sub, err := fs.Sub(files, "patterns")
	if err != nil {
		panic(err)
	}
	return sub
}

//go:embed numbers.yaml
var numbers []byte

// Numbers returns how the numbers of a design move and scatter, for whatif.ReadNumbers.
func Numbers() []byte { return numbers }
