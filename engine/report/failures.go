package report

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"plumbline/engine"
)

// failuresFile is the list of a rules folder.
const failuresFile = "failures.txt"

// Failure is one way a conversion is known to fail.
type Failure struct {
	// ID is its number: FM062.
	ID string
	// Words say it in short.
	Words string
	// Unseen is why no rule can catch it; empty when one does.
	Unseen string
}

// ReadFailures reads the known failures in the files failures.txt of rules
// folders, a line each: number, words and, where no rule can catch it, the
// reason, parted by tabs. A folder need not have one.
func ReadFailures(folders ...fs.FS) ([]Failure, error) {
	var out []Failure
	for _, folder := range folders {
		text, err := fs.ReadFile(folder, failuresFile)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return nil, err
		}
		for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
			cells := strings.Split(strings.TrimSuffix(line, "\r"), "\t")
			if len(cells) < 2 || len(cells) > 3 || slices.Contains(cells, "") {
				return nil, fmt.Errorf("%s:%d: number, words and perhaps a reason are expected, parted by tabs", failuresFile, i+1)
			}
			f := Failure{ID: cells[0], Words: cells[1]}
			if slices.ContainsFunc(out, func(o Failure) bool { return o.ID == f.ID }) {
				return nil, fmt.Errorf("%s:%d: %s is there already", failuresFile, i+1, f.ID)
			}
			if len(cells) == 3 {
				f.Unseen = cells[2]
			}
			out = append(out, f)
		}
	}
	return out, nil
}

// FailureWords says known failures by their numbers, in words with the number
// in brackets; a number nobody knows stands alone.
func FailureWords(failures []Failure, ids []string) []string {
	var out []string
	for _, id := range ids {
		words := id
		if i := slices.IndexFunc(failures, func(f Failure) bool { return f.ID == id }); i >= 0 {
			words = failures[i].Words + " (" + id + ")"
		}
		out = append(out, words)
	}
	return out
}

// Coverage counts the known failures.
type Coverage struct {
	// Known is how many there are.
	Known int
	// Caught are those a rule catches, Unseen those with a reason why none can.
	Caught, Unseen int
}

// Covered counts the known failures the rules of a library say they catch.
func Covered(lib *engine.Library, failures []Failure) Coverage {
	out := Coverage{Known: len(failures)}
	claimed := map[string]bool{}
	for _, p := range lib.Packs() {
		for i := range p.Rules {
			for _, id := range p.Rules[i].Covers {
				claimed[id] = true
			}
		}
	}
	for _, f := range failures {
		switch {
		case claimed[f.ID]:
			out.Caught++
		case f.Unseen != "":
			out.Unseen++
		}
	}
	return out
}
