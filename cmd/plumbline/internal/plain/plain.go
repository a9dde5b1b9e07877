// Package plain is the one writer through which everything goes that people or their tools read. Designs, packs, settings
// and file names come from anyone: nothing in them may drive a terminal, turn a line round, or speak to the program that
// runs a job and reads its log.
//
//	w := plain.New(os.Stdout, &plain.Mode{})
//	fmt.Fprintln(w, "::error::x\x1b[2J") // : :error::x?[2J
//
// Letters, marks, spaces, line breaks and tabs pass. Control characters, marks of direction and what cannot be seen
// become a question mark, or are written as JSON writes them. Commands that a log is searched for, :: at the beginning of
// a line and ##word[ anywhere, get a blank into their sign. It holds back nothing but a character that is not whole.
package plain

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// Mode is what a writer may let through; it may change while things are written.
type Mode struct {
	// Colours lets the styles of reports through.
	Colours bool
	// JSON writes what is not let through as JSON does in its texts, so that nothing is lost.
	JSON bool
}

// styles are the sequences that reports are coloured with.
var styles = []string{"\x1b[0m", "\x1b[1m", "\x1b[1;31m", "\x1b[33m", "\x1b[36m"}

// Writer is the writer. It belongs to one goroutine.
type Writer struct {
	to   io.Writer
	mode *Mode
	// line is where in its line the writer is, sign how much of ##word[ it has seen.
	line linePart
	sign signPart
	// part is the beginning of a character or style that is not whole yet.
	part []byte
	out  []byte
}

type (
	linePart int
	signPart int
)

// The beginning of a line, blanks included; one colon there; anything else. And of ##word[: nothing, one #, both and letters.
const (
	begun linePart = iota
	colon
	within

	none signPart = iota
	hash
	word
)

// New makes a writer to another one.
func New(to io.Writer, mode *Mode) *Writer { return &Writer{to: to, mode: mode} }

// Raw is the writer below, for what a terminal is to be told.
func (w *Writer) Raw() io.Writer { return w.to }

// Write writes what may pass.
func (w *Writer) Write(p []byte) (int, error) {
	rest := p
	if len(w.part) > 0 {
		rest = append(w.part, p...)
		w.part = nil
	}
	w.out = w.out[:0]
	for len(rest) > 0 {
		if rest[0] == '\x1b' && w.mode.Colours {
			style, unfinished := styleOf(rest)
			if unfinished {
				w.part = append([]byte{}, rest...)
				break
			}
			if style > 0 {
				w.out = append(w.out, rest[:style]...)
				rest = rest[style:]
				continue
			}
		}
		if !utf8.FullRune(rest) {
			w.part = append([]byte{}, rest...)
			break
		}
		r, n := utf8.DecodeRune(rest)
		w.rune(r)
		rest = rest[n:]
	}
	if _, err := w.to.Write(w.out); err != nil {
		return 0, err
	}
	return len(p), nil
}

// styleOf is the length of the style a text begins with; 0 for none, and whether more is needed to tell.
func styleOf(text []byte) (n int, unfinished bool) {
	for _, s := range styles {
		if strings.HasPrefix(string(text[:min(len(text), len(s))]), s) {
			return len(s), false
		}
		if len(text) < len(s) && strings.HasPrefix(s, string(text)) {
			unfinished = true
		}
	}
	return 0, unfinished
}

func (w *Writer) rune(r rune) {
	switch {
	case r == '\n':
		w.line, w.sign = begun, none
	case r == ':' && w.line == colon:
		w.line = within
		w.put(' ')
	case r == ':' && w.line == begun:
		w.line = colon
	case w.line == begun && (unicode.IsSpace(r) || !visible(r)):
	default:
		w.line = within
	}
	switch {
	case r == '#' && w.sign == none:
		w.sign = hash
	case r == '#':
		w.sign = word
	case w.sign == word && r == '[':
		w.sign = none
		if w.mode.JSON {
			w.escape(r)
			return
		}
		w.put(' ')
	case w.sign == word && r < utf8.RuneSelf && unicode.IsLetter(r):
	default:
		w.sign = none
	}
	switch {
	case r == '\n' || r == '\t' || visible(r):
		w.out = utf8.AppendRune(w.out, r)
	case w.mode.JSON:
		w.escape(r)
	default:
		w.out = append(w.out, '?')
	}
}

// put writes a blank into a sign; in JSON, where no line begins with a text, there is none to break.
func (w *Writer) put(b byte) {
	if !w.mode.JSON {
		w.out = append(w.out, b)
	}
}

// escape writes a character as JSON does in a text.
func (w *Writer) escape(r rune) {
	if one, two := utf16.EncodeRune(r); one != unicode.ReplacementChar {
		w.out = fmt.Appendf(w.out, `\u%04x\u%04x`, one, two)
		return
	}
	w.out = fmt.Appendf(w.out, `\u%04x`, r)
}

// visible reports whether a character is seen as itself: letters, marks, numbers, signs and blanks of any width.
func visible(r rune) bool {
	if r < utf8.RuneSelf {
		return ' ' <= r && r < 0x7f
	}
	return unicode.IsGraphic(r) && r != '\u2800' && r != '\u3164' && r != '\u115f' && r != '\u1160' && r != '\uffa0'
}
