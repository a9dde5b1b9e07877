package document

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// MaxProblems is how many problems of one file are shown. More than a screenful or two is not read, and one slip
// (a wrong indentation, say) can cause hundreds.
const MaxProblems = 50

// maxText is how much of an offending text is repeated, in characters: one line of a terminal.
const maxText = 60

// Problem is one thing wrong in a file and what to do about it.
type Problem struct {
	Place Place `json:"place"`
	// Path names the value: pump.curve[1].flow.
	Path string `json:"path,omitempty"`
	// Text is the offending text as written, cut to 60 characters.
	Text string `json:"text,omitempty"`
	// Message is the whole sentence: what was expected and what to write instead.
	Message string `json:"message"`
	// Suggest is the text to put in place of Text, when one is likely.
	Suggest string `json:"suggest,omitempty"`
}

// String returns "file:line:column: message".
func (p Problem) String() string {
	if where := p.Place.String(); where != "" {
		return where + ": " + p.Message
	}
	return p.Message
}

// OneOf names the words there are: one of hose, tube.
func OneOf(words []string) string { return "one of " + strings.Join(words, ", ") }

// Width is how many characters of a line, from a column on, belong to what is wrong there: the offending text where it stands
// as it was noted, else a word, a sign before it included.
func Width(line string, column int, text string) int {
	runes := []rune(line)
	rest := runes[min(max(column-1, 0), len(runes)):]
	if text != "" && strings.HasPrefix(string(rest), text) {
		return len([]rune(text))
	}
	for i, r := range rest {
		if i > 0 && !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '-' {
			return i
		}
	}
	return len(rest)
}

// Problems are the problems of a file; as an error, one per line.
type Problems []Problem

// Error returns one "file:line:column: message" per line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, one := range p {
		lines[i] = one.String()
	}
	return strings.Join(lines, "\n")
}

// Tidy returns the problems sorted by place, without duplicates, cut to MaxProblems. When some were cut the last one
// says how many. It does not change p.
func (p Problems) Tidy() Problems {
	sorted := slices.Clone(p)
	slices.SortStableFunc(sorted, func(a, b Problem) int {
		if order := a.Place.Compare(b.Place); order != 0 {
			return order
		}
		return strings.Compare(a.Message, b.Message)
	})
	sorted = slices.CompactFunc(sorted, func(a, b Problem) bool {
		return a.Place == b.Place && a.Message == b.Message
	})
	if len(sorted) <= MaxProblems {
		return sorted
	}
	rest := len(sorted) - MaxProblems
	more := "1 more problem is not shown; mend these first"
	if rest > 1 {
		more = fmt.Sprintf("%d more problems are not shown; mend these first", rest)
	}
	return append(slices.Clip(sorted[:MaxProblems]), Problem{Place: Place{File: sorted[0].Place.File}, Message: more})
}

// Err returns the tidied problems as an error, or nil when there are none.
func (p Problems) Err() error {
	if len(p) == 0 {
		return nil
	}
	return p.Tidy()
}

// Cut shortens a text to what a message can repeat: one line, 60 characters, control characters as spaces.
func Cut(text string) string {
	var out []rune
	for _, r := range text {
		if len(out) == maxText {
			return string(out[:maxText-3]) + "..."
		}
		if !unicode.IsPrint(r) {
			r = ' '
		}
		out = append(out, r)
	}
	return string(out)
}
