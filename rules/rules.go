// Package rules is the library of rules, as data: packs by subject, and the
// sources they cite.
package rules

import (
	"embed"
	"io/fs"
)

//go:embed *.yaml */*.yaml
var files embed.FS

// Files returns the packs of the library.
func Files() fs.FS { return files }
