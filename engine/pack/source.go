package pack

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// unknownEdition is the word for a document of which nobody knows the edition.
const unknownEdition = "unknown"

// Instead says nothing: no text stands for a source.
func (s *Source) Instead(string, bool) string { return "" }

// Lacking says what to write for a key that a source must have.
func (s *Source) Lacking(key string) string {
	switch key {
	case "edition":
		return ": the date or issue printed on the copy, or unknown"
	case "seen":
		return ": the day it was read, such as 2026-11-25"
	case "read":
		return ": text, mirror (a copy of it), secondary (a page about it) or memory"
	}
	return ""
}

// CheckKey refuses an edition that says nothing and a day that is none.
func (s *Source) CheckKey(r *document.Reader, n *yaml.Node, path, key string) {
	switch key {
	case "edition":
		if strings.TrimSpace(s.Edition) == "" {
			r.Problem(n, path, path+" is empty"+s.Lacking(key), "")
		}
	case "seen":
		if _, err := time.Parse(time.DateOnly, s.Seen); err != nil {
			r.Problem(n, path, fmt.Sprintf("%s must be a day, such as 2026-11-25; the date of the document is its edition", path), "")
		}
	}
}

// dated is an edition that is a day, a month or a year alone.
var dated = regexp.MustCompile(`^\d{4}(-\d\d){0,2}$`)

// ways say how a document was read.
var ways = map[string]string{
	"text":      "read in the text",
	"mirror":    "read in a copy of the text",
	"secondary": "read in a page about it, not in the text",
	"memory":    "not read, from memory",
}

// Reading says of which edition a document is, how it was read and when: 2012-02; read in a copy of the text, 2026-11-25.
func (s *Source) Reading() string {
	how := ways[s.Read]
	if s.Read != "memory" {
		how += ", " + s.Seen
	}
	switch {
	case s.Edition == unknownEdition:
		return how
	case dated.MatchString(s.Edition):
		return "as of " + s.Edition + "; " + how
	}
	return s.Edition + "; " + how
}

// Said is the reading behind the title, in brackets; nothing for a source that is refused anyway.
func (s *Source) Said() string {
	if s.Edition == "" || ways[s.Read] == "" {
		return ""
	}
	return " (" + s.Reading() + ")"
}
