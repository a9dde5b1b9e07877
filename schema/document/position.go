package document

import (
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Place maps a line and column (from 1) inside a scalar's text to the file,
// whatever style the scalar is written in: it walks the raw text and the
// decoded value side by side.
func (r *Reader) Place(n *yaml.Node, line, column int) Place {
	where := r.At(n)
	if n == nil {
		return where
	}
	target := offsetOf(n.Value, max(1, line), max(1, column))
	at := cursor{lines: r.lines, line: n.Line - 1, column: n.Column - 1}
	switch n.Style &^ yaml.TaggedStyle {
	case yaml.LiteralStyle, yaml.FoldedStyle:
		at.line, at.column = at.line+1, 0
		at.skipBlank()
	case yaml.SingleQuotedStyle, yaml.DoubleQuotedStyle:
		at.column++
	}
	value := []rune(n.Value)
	for i := 0; i < target && i < len(value); i++ {
		at.step(value[i], n.Style)
	}
	if target < len(value) && value[target] != ' ' && value[target] != '\n' {
		at.skipBlank()
	}
	where.Line, where.Column = at.line+1, at.column+1
	return where
}

// offsetOf is the rune offset of a line and column of a text.
func offsetOf(text string, line, column int) int {
	offset := 0
	for _, c := range text {
		if line <= 1 {
			break
		}
		offset++
		if c == '\n' {
			line--
		}
	}
	return min(offset+column-1, utf8.RuneCountInString(text))
}

// cursor is a position in the raw lines; columns count runes from 0.
type cursor struct {
	lines        []string
	line, column int
}

func (c *cursor) runes() []rune {
	if c.line >= len(c.lines) {
		return nil
	}
	return []rune(c.lines[c.line])
}

// skipBlank moves over line ends and indentation to the next visible character.
func (c *cursor) skipBlank() {
	for c.line < len(c.lines) {
		raw := c.runes()
		for c.column < len(raw) && (raw[c.column] == ' ' || raw[c.column] == '\t' || raw[c.column] == '\r') {
			c.column++
		}
		if c.column < len(raw) {
			return
		}
		c.line, c.column = c.line+1, 0
	}
}

// step moves past the raw form of one character of the value.
func (c *cursor) step(r rune, style yaml.Style) {
	raw := c.runes()
	switch {
	case r == '\n' || c.column >= len(raw):
		c.line, c.column = c.line+1, 0
		c.skipBlank()
		if r != '\n' && r != ' ' {
			c.column++
		}
	case r == ' ' && raw[c.column] != ' ':
		c.skipBlank()
	case style&yaml.SingleQuotedStyle != 0 && raw[c.column] == '\'':
		c.column += 2
	case style&yaml.DoubleQuotedStyle != 0 && raw[c.column] == '\\':
		c.column += escapeLength(raw[c.column:])
	default:
		c.column++
	}
}

func escapeLength(raw []rune) int {
	if len(raw) < 2 {
		return len(raw)
	}
	switch raw[1] {
	case 'x':
		return 4
	case 'u':
		return 6
	case 'U':
		return 10
	}
	return 2
}
