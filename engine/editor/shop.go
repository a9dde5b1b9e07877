package editor

import (
	"cmp"
	"path"
	"regexp"
	"strings"
	"unicode/utf8"

	"plumbline/engine"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
)

// Kind is what a text is.
type Kind int

// A text is a design, a pack of rules, a shop's settings, or nothing of ours.
const (
	Other Kind = iota
	Design
	Pack
	Settings
)

// firstKeys are the keys that only files of one kind begin a line with.
var firstKeys = regexp.MustCompile(`(?m)^[{ ]*"?(plumbline|pack|sources)"?[ \t]*:`)

// KindOf tells what a text is by the name of its file and what it says of itself; a broken text may be told too.
func KindOf(file, text string) Kind {
	if path.Base(file) == "plumbline.yaml" {
		return Settings
	}
	found := firstKeys.FindStringSubmatch(text)
	switch {
	case found == nil:
		return Other
	case found[1] == "plumbline":
		return Design
	}
	return Pack
}

// Shop is what texts are read by: the library with the packs of a shop.
type Shop struct {
	library  *engine.Library
	glossary *glossary.Glossary
	// twins are the paths of facts by part and key: Run.bore.
	twins map[string]string
}

// NewShop takes up a library whose rules catch these known failures.
func NewShop(l *engine.Library, failures []report.Failure) *Shop {
	s := &Shop{library: l, glossary: glossary.New(l, failures), twins: map[string]string{}}
	for _, f := range explain.Facts() {
		if s.twins[f.Twin] == "" {
			s.twins[f.Twin] = f.Name
		}
	}
	return s
}

// Item is something that could be written.
type Item struct {
	// Label is the name, Insert what is written, where that is more.
	Label, Insert string
	// Of says what sort of thing it is.
	Of Sort
	// Detail is what it holds, in a few words, Doc what it means.
	Detail, Doc string
}

// Sort is a sort of things that are written.
type Sort int

// The sorts: a key, a word of a fact, a quantity, a name that stands for something, a function.
const (
	Key Sort = iota
	Word
	Quantity
	Reference
	Function
)

// Completion is what could be written in place of the text from an offset up to the cursor.
type Completion struct {
	From  int
	Items []Item
}

// Complete lists what could be written at an offset.
func (s *Shop) Complete(kind Kind, text string, offset int) Completion {
	at := SpotAt(text, offset)
	if at == nil || kind == Other && len(at.Way) > 0 {
		return Completion{From: offset}
	}
	var out Completion
	if kind == Design || kind == Other {
		out = s.inDesign(at, text, offset, at.Way)
	} else {
		out = s.inForm(kind, at, text, offset)
	}
	for i := range out.Items {
		if x := &out.Items[i]; at.quoted && x.Of == Key {
			x.Insert = "" // the quote comes before the colon
		}
	}
	return out
}

// Hover is what is said of what stands between two offsets, in Markdown.
type Hover struct {
	From, To int
	Text     string
}

// Hover says what stands at an offset; nil where there is nothing to say.
func (s *Shop) Hover(kind Kind, text string, offset int) *Hover {
	from, to := wordAround(text, offset, nameRune)
	at := SpotAt(text, to)
	if at == nil || from == to {
		return nil
	}
	said := ""
	switch kind {
	case Design:
		said = s.tellFact(at, at.Way, text, offset)
	case Pack, Settings:
		said = s.tellForm(kind, at, text, offset)
	}
	if said == "" {
		return nil
	}
	return &Hover{from, to, said}
}

// tell writes what is known of a name, and leaves out what is long.
func (s *Shop) tell(name string) string { return s.tellAs(name, "") }

// tellAs is tell of something that is called in another way where it stands.
func (s *Shop) tellAs(name, written string) string {
	var parts []string
	for _, r := range s.glossary.Find(name) {
		r.Name = cmp.Or(written, r.Name)
		parts = append(parts, markdown(&r))
	}
	return strings.Join(parts, "\n\n")
}

// mostLines are the lines of a facet that a hover shows.
const mostLines = 6

func markdown(r *glossary.Record) string {
	var b strings.Builder
	b.WriteString("**" + report.MarkdownText(r.Name) + "** (" + r.Kind + "): " + report.MarkdownText(r.Title) + "\n")
	for _, f := range r.Facets {
		lines, more := f.Text, 0
		if len(lines) > mostLines {
			more = len(lines) - mostLines
			lines = lines[:mostLines]
		}
		b.WriteString("\n- " + report.MarkdownText(f.Label) + ": " + report.MarkdownText(strings.Join(lines, "; ")))
		if more > 0 {
			b.WriteString("; and " + counted(more, "other"))
		}
	}
	return b.String()
}

// wordAround is the word of some characters that an offset stands in or behind.
func wordAround(text string, offset int, of func(rune) bool) (from, to int) {
	for from = offset; from > 0; {
		r, n := utf8.DecodeLastRuneInString(text[:from])
		if !of(r) {
			break
		}
		from -= n
	}
	for to = offset; to < len(text); {
		r, n := utf8.DecodeRuneInString(text[to:])
		if !of(r) {
			break
		}
		to += n
	}
	return from, to
}

// nameRune is a character of keys, words and the names of expressions.
func nameRune(r rune) bool {
	return r == '_' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9'
}

// fullNameRune is a character of the names of rules and limits.
func fullNameRune(r rune) bool { return nameRune(r) || strings.ContainsRune("/.-", r) }
