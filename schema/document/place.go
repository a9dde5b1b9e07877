package document

import "strconv"

// Place is where something stands in a file; lines and columns count from 1, columns in characters.
// The zero Place means nowhere: the thing was never written down.
type Place struct {
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
}

// IsZero reports whether the place is nowhere.
func (p Place) IsZero() bool { return p == Place{} }

// String gives the usual file:line:column form; a place without a line is its file.
func (p Place) String() string {
	if p.Line == 0 {
		return p.File
	}
	return p.File + ":" + strconv.Itoa(p.Line) + ":" + strconv.Itoa(p.Column)
}

// Compare orders places by file, line and column, as slices.SortFunc wants it.
func (p Place) Compare(other Place) int {
	switch {
	case p.File != other.File:
		if p.File < other.File {
			return -1
		}
		return 1
	case p.Line != other.Line:
		return p.Line - other.Line
	}
	return p.Column - other.Column
}
