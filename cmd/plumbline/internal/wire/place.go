package wire

import (
	"net/url"
	"path/filepath"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"plumbline/schema"
	"plumbline/schema/document"
)

// lines are the lines of a text without their ends; \r\n, \n and \r end one.
func lines(text string) []string {
	return strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
}

// units is how many units of UTF-16 a text has.
func units(text string) int {
	n := 0
	for _, r := range text {
		n += max(utf16.RuneLen(r), 1)
	}
	return n
}

// offsetOf is the offset in bytes of a position; the end of the line, or of the text, for one beyond it.
func offsetOf(text string, p position) int {
	at := 0
	for range p.Line {
		i := strings.IndexAny(text[at:], "\r\n")
		if i < 0 {
			return len(text)
		}
		if at += i + 1; text[at-1] == '\r' && at < len(text) && text[at] == '\n' {
			at++
		}
	}
	for left := p.Character; left > 0 && at < len(text); {
		r, n := utf8.DecodeRuneInString(text[at:])
		if r == '\r' || r == '\n' {
			break
		}
		at, left = at+n, left-max(utf16.RuneLen(r), 1)
	}
	return at
}

// positionOf is the position of an offset in bytes.
func positionOf(text string, offset int) position {
	before := lines(text[:offset])
	return position{len(before) - 1, units(before[len(before)-1])}
}

// spanOf is what a place of a file and the text there cover of its lines.
func spanOf(list []string, at schema.Place, text string) span {
	line := min(max(at.Line-1, 0), len(list)-1)
	runes := []rune(list[line])
	from := min(max(at.Column-1, 0), len(runes))
	to := min(from+document.Width(list[line], at.Column, text), len(runes))
	return span{position{line, units(string(runes[:from]))}, position{line, units(string(runes[:to]))}}
}

// pathOf is the file that a URI names; a URI of something that is no file stands for itself.
func pathOf(uri string) string {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" {
		return uri
	}
	path := u.Path
	if len(path) > 2 && path[0] == '/' && path[2] == ':' { // /C:/shop
		path = path[1:]
	}
	return filepath.FromSlash(path)
}

// uriOf is the URI of a file.
func uriOf(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}
