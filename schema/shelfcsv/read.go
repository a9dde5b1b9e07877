package shelfcsv

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"plumbline/schema"
	"plumbline/schema/document"
)

// mostColumns is how many columns a list may have.
const mostColumns = 200

// Options say what the list does not.
type Options struct {
	// Kind is that of parts whose row says none.
	Kind string
	// ReadFrom and ReadOn say where and when the facts were read, of parts whose row does not.
	ReadFrom, ReadOn string
}

// Result is what became of a list.
type Result struct {
	// Files are texts of files of a shelf, each as long as one may be.
	Files []string
	// Parts is how many parts they hold.
	Parts int
	// Columns say what each column was taken for.
	Columns []string
	// NotUnderstood are the cells, columns and rows that are not among the facts, at most as many as are shown.
	NotUnderstood document.Problems
	// Left is how many things there are of those in all.
	Left int
	// Text is the list as it was read, for showing its lines.
	Text []byte
}

// list is a list being read.
type list struct {
	file  string
	o     Options
	heads []head
	rows  []row
	kinds []*schema.ShelfKind
	// keys are those of the facts in the columns of a kind; seen tells the columns of which something was said already.
	keys  map[*schema.ShelfKind][]string
	seen  map[string]bool
	names map[string]int
	out   *Result
	wrong document.Problems
	// text is the file under way, and held how many parts it holds.
	text strings.Builder
	held int
}

// row is one line below the heads, with the kind of its part; nil where it says none.
type row struct {
	line  int
	cells []string
	at    [][2]int
	kind  *schema.ShelfKind
}

// Read reads a list. The error says why nothing of it can be read.
func Read(file string, data []byte, o Options) (*Result, error) {
	text, comma, err := plainText(file, data)
	if err != nil {
		return nil, err
	}
	l := &list{file: file, o: o, out: &Result{Text: text}, names: map[string]int{}, keys: map[*schema.ShelfKind][]string{}, seen: map[string]bool{}}
	if err := l.table(comma); err != nil {
		return nil, err
	}
	for i := range l.rows {
		l.kindOf(&l.rows[i])
	}
	l.columns()
	for i := range l.rows {
		if l.rows[i].kind != nil {
			l.row(&l.rows[i])
		}
	}
	l.close()
	l.out.Left, l.out.NotUnderstood = len(l.wrong), l.wrong.Tidy()
	return l.out, nil
}

// plainText is a list as text in UTF-8, and what parts its cells: what its first line says, else a comma, semicolon or tab, whichever that
// line has most of.
func plainText(file string, data []byte) (text []byte, comma rune, err error) {
	if len(data) > document.MaxBytes {
		return nil, 0, fmt.Errorf("%s has more than %d bytes; split it into several lists, each with the line that names the columns", file, document.MaxBytes)
	}
	text = bytes.TrimPrefix(data, []byte("\ufeff"))
	if bytes.IndexByte(text, 0) >= 0 || !utf8.Valid(text) {
		return nil, 0, fmt.Errorf("%s is not in UTF-8; save it again as CSV in UTF-8", file)
	}
	if bytes.IndexByte(text, '\n') < 0 {
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	line, _, _ := bytes.Cut(text, []byte("\n"))
	line = bytes.TrimSpace(line)
	if rest, says := bytes.CutPrefix(bytes.ToLower(line), []byte("sep=")); says && len(rest) == 1 && strings.ContainsRune(",;\t|", rune(rest[0])) {
		_, below, _ := bytes.Cut(text, []byte("\n"))
		return append([]byte("\n"), below...), rune(rest[0]), nil // the line stays, so that places are those of the file
	}
	comma = ','
	for _, c := range ";\t|" {
		if bytes.Count(line, []byte(string(c))) > bytes.Count(line, []byte(string(comma))) {
			comma = c
		}
	}
	return text, comma, nil
}

// table reads the heads and the rows.
func (l *list) table(comma rune) error {
	r := csv.NewReader(bytes.NewReader(l.out.Text))
	r.FieldsPerRecord, r.TrimLeadingSpace, r.Comma = -1, comma != '\t', comma
	for {
		cells, err := r.Read()
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return fmt.Errorf("%s:%d:%d: the table cannot be read: %v", l.file, broken.Line, broken.Column, broken.Err)
		} else if err != nil {
			break
		}
		if strings.TrimSpace(strings.Join(cells, "")) == "" {
			continue
		}
		line, _ := r.FieldPos(0)
		one := row{line: line, cells: cells, at: make([][2]int, len(cells))}
		for i := range cells {
			one.at[i][0], one.at[i][1] = r.FieldPos(i)
		}
		switch {
		case l.heads == nil && len(cells) > mostColumns:
			return fmt.Errorf("%s has %d columns; at most %d are read", l.file, len(cells), mostColumns)
		case l.heads == nil:
			for i, text := range cells {
				l.heads = append(l.heads, headOf(text, one.at[i]))
			}
		case len(l.rows) == schema.MaxShelfParts:
			return fmt.Errorf("%s has more than %d rows; split it into several lists, each with the line that names the columns", l.file, schema.MaxShelfParts)
		default:
			l.rows = append(l.rows, one)
		}
	}
	switch {
	case l.heads == nil:
		return fmt.Errorf("%s holds no table: the first line names the columns, such as name,flow (L/h),price", l.file)
	case !slices.ContainsFunc(l.heads, func(h head) bool { return h.own == "name" }):
		return fmt.Errorf("%s:%d:1: no column is called name or part number; the first line names the columns, such as name,flow (L/h),price", l.file, l.heads[0].at[0])
	case len(l.rows) == 0:
		return fmt.Errorf("%s holds no parts below the names of its columns", l.file)
	}
	return nil
}

func (l *list) problem(at [2]int, text, message string) {
	l.wrong = append(l.wrong, document.Problem{Place: document.Place{File: l.file, Line: at[0], Column: at[1]}, Text: document.Cut(text), Message: message})
}
