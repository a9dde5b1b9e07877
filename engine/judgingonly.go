package engine

import (
	"bytes"
	"io/fs"
)

// JudgingOnly marks a folder of packs whose rules are needed to judge but whose
// cases are not: loading leaves the cases out, which are nearly half of the
// text. It is for the built-in library, whose cases its own tests run.
func JudgingOnly(folder fs.FS) fs.FS { return judgingOnly{folder} }

type judgingOnly struct{ fs.FS }

// withoutCases blanks the blocks that begin with a `cases:` key of a rule
// written in block style, keeping every line's number. A rule's keys stand four
// columns in; a block ends where a line stands no further in than its key.
func withoutCases(data []byte) []byte {
	out := make([]byte, 0, len(data))
	inside := false
	for line := range bytes.Lines(data) {
		indent := len(line) - len(bytes.TrimLeft(line, " "))
		blank := len(bytes.TrimSpace(line)) == 0
		switch {
		case bytes.Equal(bytes.TrimRight(line, " \r\n"), []byte("    cases:")):
			inside = true
		case inside && !blank && indent <= 4:
			inside = false
		}
		if inside {
			line = line[len(line)-1:]
			if line[0] != '\n' {
				line = nil
			}
		}
		out = append(out, line...)
	}
	return out
}
