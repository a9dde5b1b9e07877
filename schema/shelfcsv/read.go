package shelfcsv

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/words"
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
	// NotUnderstood are the cells, columns and rows that are not among the facts.
	NotUnderstood document.Problems
}

// own are the columns of the part itself, by what they are called.
var own = map[string][]string{
	"name":  {"name", "part", "part no", "part number", "number", "sku", "item", "article", "code"},
	"title": {"title", "description", "what it is", "text"},
	"kind":  {"kind of part", "part kind", "type of part", "category", "shelf kind"},
	"price": {"price", "cost", "unit price", "each"},
	"stock": {"stock", "qty", "quantity", "on hand", "in stock", "there"},
	"notes": {"notes", "note", "remark", "remarks"}, "read_from": {"read from", "source"}, "read_on": {"read on", "date", "read"},
}

// Read reads a list. The error says why nothing of it can be read.
func Read(file string, data []byte, o Options) (*Result, error) {
	if len(data) > document.MaxBytes {
		return nil, fmt.Errorf("%s has more than %d bytes; split it", file, document.MaxBytes)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord, r.TrimLeadingSpace, r.Comma = -1, true, comma(data)
	heads, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s holds no table: the first line names the columns, such as name,flow (L/h),price", file)
	}
	if len(heads) > mostColumns {
		return nil, fmt.Errorf("%s has %d columns; at most %d are read", file, len(heads), mostColumns)
	}
	l := &list{file: file, o: o, out: &Result{}, names: map[string]int{}}
	for i, head := range heads {
		l.heads = append(l.heads, headOf(head))
		l.out.Columns = append(l.out.Columns, document.Cut(head)+": "+l.told(i))
	}
	for {
		cells, err := r.Read()
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return nil, fmt.Errorf("%s:%d:%d: the table cannot be read: %v", file, broken.Line, broken.Column, broken.Err)
		} else if err != nil {
			break
		}
		line, _ := r.FieldPos(0)
		l.row(r, line, cells)
	}
	l.close()
	if l.out.Parts == 0 && len(l.out.NotUnderstood) == 0 {
		return nil, fmt.Errorf("%s holds no parts below the names of its columns", file)
	}
	l.out.NotUnderstood = l.out.NotUnderstood.Tidy()
	return l.out, nil
}

// comma is what parts the cells: a comma, semicolon or tab, whichever the first line has most of.
func comma(data []byte) rune {
	line, _, _ := bytes.Cut(data, []byte("\n"))
	best := ','
	for _, c := range ";\t" {
		if bytes.Count(line, []byte(string(c))) > bytes.Count(line, []byte(string(best))) {
			best = c
		}
	}
	return best
}

// head is one column: what it is called, its unit, and the key of the part itself that it holds, "" for a fact.
type head struct{ text, unit, own string }

func headOf(text string) head {
	h := head{text: strings.TrimSpace(text)}
	if at := strings.IndexAny(h.text, "(["); at > 0 {
		h.unit = strings.Trim(h.text[at:], "()[] ")
		h.text = strings.TrimSpace(h.text[:at])
	}
	for key, forms := range own {
		if slices.Contains(forms, words.Plain(h.text)) {
			h.own = key
		}
	}
	return h
}

// list is a list being read.
type list struct {
	file  string
	o     Options
	heads []head
	out   *Result
	names map[string]int
	// text is the file under way, and held how many parts it holds.
	text strings.Builder
	held int
}

func (l *list) problem(line, column int, text, message string) {
	l.out.NotUnderstood = append(l.out.NotUnderstood, document.Problem{Place: document.Place{File: l.file, Line: line, Column: column}, Text: document.Cut(text), Message: message})
}

// told says what a column was taken for.
func (l *list) told(i int) string {
	h := l.heads[i]
	if h.own != "" {
		return h.own
	}
	var out []string
	for _, k := range schema.ShelfKinds() {
		if l.o.Kind == "" || k.Name == l.o.Kind {
			if key := factOf(k, h.text); key != "" {
				out = append(out, k.Name+"."+key)
			}
		}
	}
	switch {
	case len(out) == 0:
		return "not understood"
	case len(out) > 3:
		out = append(out[:3], "and others by kind")
	}
	return strings.Join(out, ", ")
}

// factOf is the key of a fact of a kind that a column is called by; "" for none or several.
func factOf(k *schema.ShelfKind, text string) string {
	plain := words.Plain(text)
	for _, key := range k.Facts {
		if words.Plain(key) == plain || label(k.Type, key) == plain {
			return key
		}
	}
	var found []string
	for _, hit := range words.Said(plain) {
		if hit.Value == nil && hit.Row.Part == k.Type && slices.Contains(k.Facts, hit.Row.Key) && !slices.Contains(found, hit.Row.Key) {
			found = append(found, hit.Row.Key)
		}
	}
	if len(found) == 1 {
		return found[0]
	}
	return ""
}

// label is what the table of words calls a fact.
func label(part, key string) string {
	if row := words.Of(part, key); row != nil {
		return words.Plain(row.Label)
	}
	return ""
}

// row takes up one part.
func (l *list) row(r *csv.Reader, line int, cells []string) {
	if strings.TrimSpace(strings.Join(cells, "")) == "" {
		return
	}
	kind, said := l.o.Kind, map[string]string{}
	for i, cell := range cells {
		if i < len(l.heads) && l.heads[i].own != "" {
			said[l.heads[i].own] = strings.TrimSpace(cell)
		}
	}
	if said["kind"] != "" {
		kind = strings.ReplaceAll(words.Plain(said["kind"]), " ", "_")
	}
	k := schema.ShelfKindNamed(kind)
	if k == nil {
		message := "it is not said what this part is; name a column kind of part, or give --kind"
		if kind != "" {
			message = document.Cut(kind) + " is no kind of part"
			if near := document.Nearest(kind, kindNames()); near != "" {
				message += "; did you mean " + near + "?"
			}
		}
		l.problem(line, 1, strings.Join(cells, ","), "the row is left out: "+message)
		return
	}
	var facts, remarks []string
	for i, cell := range cells {
		cell = strings.TrimSpace(cell)
		at, column := r.FieldPos(i)
		switch {
		case cell == "" || cell == "-" || words.NotKnown(cell):
		case i >= len(l.heads):
			remarks = append(remarks, cell)
			l.problem(at, column, cell, "the row has more cells than there are columns")
		case l.heads[i].own != "":
		default:
			fact, wrong := l.fact(k, l.heads[i], cell)
			if wrong != "" {
				remarks = append(remarks, l.heads[i].text+": "+cell)
				l.problem(at, column, cell, wrong)
				continue
			}
			facts = append(facts, fact)
		}
	}
	l.part(k, line, said, facts, remarks)
}

// fact writes one fact; wrong says why it cannot be.
func (l *list) fact(k *schema.ShelfKind, h head, cell string) (fact, wrong string) {
	key := factOf(k, h.text)
	if key == "" {
		return "", "the column " + document.Cut(h.text) + " is no fact of a " + k.Called()
	}
	tries := []string{cell}
	if h.unit != "" {
		tries = append(tries, cell+" "+h.unit)
	}
	if row := words.Of(k.Type, key); row != nil {
		if meant := row.Meant(cell); len(meant) == 1 {
			tries = append(tries, meant[0].Word)
		}
	}
	if yes, is := words.YesNo(cell); is {
		tries = append(tries, fmt.Sprint(yes))
	}
	var first error
	for _, text := range tries {
		err := schema.CheckIn(k.Type, key, text)
		if err == nil {
			return key + ": " + scalar(text), ""
		}
		if first == nil || text == cell+" "+h.unit {
			first = err
		}
	}
	return "", first.Error()
}

// scalar writes a text so that it is read back as it is.
func scalar(text string) string {
	if strings.ContainsAny(text, ",:{}[]#&*!|>'\"%@`") || strings.TrimSpace(text) != text || text == "" {
		return fmt.Sprintf("%q", text)
	}
	return text
}

// part writes one part; what is wrong with it as a whole leaves it out.
func (l *list) part(k *schema.ShelfKind, line int, said map[string]string, facts, remarks []string) {
	name := said["name"]
	left := func(message string) { l.problem(line, 1, name, "the row is left out: "+message) }
	switch first := l.names[name]; {
	case name == "":
		left("it has no name; one column is called name")
		return
	case len(facts) == 0:
		left("nothing of it was understood")
		return
	case first > 0:
		left(fmt.Sprintf("line %d has the name %s already", first, document.Cut(name)))
		return
	}
	var b strings.Builder
	fmt.Fprintf(&b, "  - name: %s\n", quoted(name))
	if title := said["title"]; title != "" {
		fmt.Fprintf(&b, "    title: %s\n", quoted(printable(title)))
	}
	fmt.Fprintf(&b, "    read_from: %s\n    read_on: %s\n", either(said["read_from"], l.o.ReadFrom), either(said["read_on"], l.o.ReadOn))
	for _, key := range []string{"price", "stock"} {
		if text := said[key]; text != "" {
			fmt.Fprintf(&b, "    %s: %s\n", key, scalar(text))
		}
	}
	if note := said["notes"]; note != "" {
		fmt.Fprintf(&b, "    notes: %s\n", quoted(printable(note)))
	}
	for _, r := range remarks {
		fmt.Fprintf(&b, "    # not understood: %s\n", document.Cut(r))
	}
	fmt.Fprintf(&b, "    %s: {%s}\n", k.Name, strings.Join(facts, ", "))
	if _, err := schema.ReadShelf([]schema.ShelfText{{Name: "part", Data: []byte(begin + b.String())}}); err != nil {
		var problems document.Problems
		errors.As(err, &problems)
		left(problems[0].Message)
		return
	}
	if l.held == schema.MaxShelfItems {
		l.close()
	}
	if l.held == 0 {
		l.text.WriteString(begin)
	}
	l.names[name] = line
	l.held++
	l.out.Parts++
	l.text.WriteString(b.String())
}

const begin = "shelf: 1\nparts:\n"

// close ends a file.
func (l *list) close() {
	if l.held > 0 {
		l.out.Files = append(l.out.Files, l.text.String())
	}
	l.text.Reset()
	l.held = 0
}

func quoted(text string) string { return fmt.Sprintf("%q", text) }

// printable has control characters as spaces.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, text)
}

func either(text, other string) string {
	if text == "" {
		return other
	}
	return scalar(text)
}

func kindNames() []string {
	var out []string
	for _, k := range schema.ShelfKinds() {
		out = append(out, k.Name)
	}
	return out
}
