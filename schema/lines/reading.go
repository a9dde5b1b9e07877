package lines

import (
	"strings"
)

// Reading is what a text of plain lines was understood to say.
type Reading struct {
	// Lines are the lines of the text in their order.
	Lines []Line
	facts []fact
}

// fact is one stated fact with its full path.
type fact struct{ path, value string }

// Line is one line and what became of it.
type Line struct {
	// Number counts from 1.
	Number int
	Text   string
	// Understood are the facts that were read from it, Left what was not understood.
	Understood []Understood
	Left       []Left
	// Pieces are the whole text, in order.
	Pieces []Piece
}

// Understood is one fact that was read.
type Understood struct {
	// Path is as a design file is laid out: pump.rated_flow. Value is as the file states it.
	Path, Value string
	// From are the words it was read from.
	From string
	// Taken says what was taken by custom: "3/8 taken in inches"; "" for nothing.
	Taken string
	begin int
}

// Left is a part of a line that was not understood.
type Left struct {
	Text string
	// Why is what stood in the way and what to write instead.
	Why string
	// Could are the facts it may mean, where they are several.
	Could []string
}

// Piece is a part of a line, from the first character on.
type Piece struct {
	Text string
	Kind PieceKind
}

// PieceKind says what became of a piece.
type PieceKind int

// The kinds of pieces: blanks, commas and words without meaning of their own are between.
const (
	Between PieceKind = iota
	Taken
	NotTaken
)

// Most that is read; more is left as it is.
const (
	mostLines  = 1000
	mostTokens = 200
)

// Whole reports whether everything was understood.
func (r *Reading) Whole() bool {
	for i := range r.Lines {
		if len(r.Lines[i].Left) > 0 {
			return false
		}
	}
	return true
}

// Facts is how many facts were read.
func (r *Reading) Facts() int { return len(r.facts) }

// Read reads plain lines.
func Read(text string) *Reading {
	r := &reader{stated: map[string]string{}, count: map[string]int{}, circuits: map[string]*thing{}}
	out := &Reading{}
	number := 0
	for line := range strings.Lines(text) {
		number++
		ending := len(line) - len(strings.TrimRight(line, "\r\n"))
		whole := line
		line = line[:len(line)-ending]
		l := Line{Number: number, Text: line}
		if number > mostLines {
			l.Left = []Left{{Text: line, Why: "only the first 1000 lines are read"}}
			l.Pieces = []Piece{{line, NotTaken}}
		} else {
			r.line(&l)
		}
		if ending > 0 {
			l.Pieces = append(l.Pieces, Piece{whole[len(line):], Between})
		}
		out.Lines = append(out.Lines, l)
	}
	out.facts = r.facts
	return out
}
