package shelfcsv

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/words"
)

// kindOf finds what the part of a row is.
func (l *list) kindOf(r *row) {
	kind, at := l.o.Kind, [2]int{r.line, 1}
	for i, cell := range r.cells {
		if i < len(l.heads) && l.heads[i].own == "kind" && strings.TrimSpace(cell) != "" {
			kind, at = strings.ReplaceAll(words.Plain(cell), " ", "_"), r.at[i]
			break
		}
	}
	r.kind = schema.ShelfKindNamed(kind)
	if r.kind == nil {
		r.kind = schema.ShelfKindNamed(strings.TrimSuffix(kind, "s"))
	}
	switch {
	case r.kind != nil:
		if !slices.Contains(l.kinds, r.kind) {
			l.kinds = append(l.kinds, r.kind)
		}
	case kind == "":
		l.problem(at, strings.Join(r.cells, ","), "the row is left out: it is not said what this part is; name a column kind of part, or give --kind")
	default:
		message := "the row is left out: " + document.Cut(kind) + " is no kind of part"
		if near := document.Nearest(kind, kindNames()); near != "" {
			message += "; did you mean " + near + "?"
		} else {
			message += "; there are " + strings.Join(kindNames(), ", ")
		}
		l.problem(at, strings.TrimSpace(kind), message)
	}
}

// entry is what a row says of its part.
type entry struct {
	said           map[string]string
	facts, remarks []string
}

// row takes up one part.
func (l *list) row(r *row) {
	e := entry{said: map[string]string{}}
	ports := map[string][]string{}
	for i, cell := range r.cells {
		cell = strings.TrimSpace(cell)
		if cell == "" || cell == "-" || words.NotKnown(cell) {
			continue
		}
		if i >= len(l.heads) {
			l.problem(r.at[i], cell, "the row has more cells than there are columns")
			e.remarks = append(e.remarks, cell)
			continue
		}
		h := l.heads[i]
		if h.own == "again" {
			continue
		}
		remark := func(wrong string) {
			if wrong != "" {
				l.problem(r.at[i], cell, wrong)
			}
			e.remarks = append(e.remarks, h.text+": "+cell)
		}
		if h.own != "" {
			text, wrong := ownCell(h.own, cell)
			if wrong != "" {
				remark(wrong)
				continue
			}
			e.said[h.own] = text
			continue
		}
		key := ""
		if i < len(l.keys[r.kind]) {
			key = l.keys[r.kind][i]
		}
		switch {
		case key != "":
		case l.seen[h.text]:
			remark("") // told once, at the head
			continue
		default:
			remark("the column " + document.Cut(h.text) + " is no fact of " + article(r.kind.Called()))
			continue
		}
		text, wrong := factCell(r.kind, key, h.unit, cell)
		if wrong != "" {
			remark(wrong)
			continue
		}
		if port, own, inside := strings.Cut(key, "."); inside {
			ports[port] = append(ports[port], own+": "+text)
			continue
		}
		e.facts = append(e.facts, key+": "+text)
	}
	for _, key := range r.kind.Facts {
		if list := ports[key]; len(list) > 0 {
			e.facts = append(e.facts, key+": {"+strings.Join(list, ", ")+"}")
		}
	}
	l.part(r, e)
}

// ownCell reads a cell of the part itself; wrong says why it cannot be taken.
func ownCell(key, cell string) (text, wrong string) {
	switch key {
	case "price":
		text = strings.Trim(strings.Trim(cell, "$€£¥"), " ")
		if text = number(text); !plainNumber.MatchString(text) {
			return "", document.Cut(cell) + " is no price; a price is a plain number in the shop's own money, such as 1049.00"
		}
		return text, ""
	case "stock":
		if !wholeNumber.MatchString(cell) {
			return "", document.Cut(cell) + " is no count; write how many are there, such as 4"
		}
	}
	return cell, ""
}

var (
	plainNumber = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?$`)
	wholeNumber = regexp.MustCompile(`^[0-9]{1,7}$`)
	bareNumber  = regexp.MustCompile(`^-?[0-9][0-9.,]*$`)
	// leading is the number a cell begins with.
	leading = regexp.MustCompile(`^[0-9][0-9.,]*[0-9]`)
	// A comma is a decimal one before one or two digits, or four and more; before three it may part thousands, and stays. Where both
	// signs stand the last is the decimal one.
	decimalComma = regexp.MustCompile(`^[0-9]+,([0-9]{1,2}|[0-9]{4,})$`)
	bothPoint    = regexp.MustCompile(`^[0-9]{1,3}(,[0-9]{3})+\.[0-9]+$`)
	bothComma    = regexp.MustCompile(`^[0-9]{1,3}(\.[0-9]{3})+,[0-9]+$`)
)

// number writes the number a cell begins with as a design has it, where it can be read in one way only.
func number(cell string) string {
	return leading.ReplaceAllStringFunc(cell, func(text string) string {
		switch {
		case bothPoint.MatchString(text):
			return strings.ReplaceAll(text, ",", "")
		case bothComma.MatchString(text):
			return strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", ".")
		case decimalComma.MatchString(text):
			return strings.ReplaceAll(text, ",", ".")
		}
		return text
	})
}

// factCell writes one fact; wrong says why it cannot be.
func factCell(k *schema.ShelfKind, key, unit, cell string) (text, wrong string) {
	cell = number(cell)
	tries := []string{cell}
	if unit != "" {
		tries = append(tries, cell+" "+unit)
	}
	tries = append(tries, strings.ReplaceAll(words.Plain(cell), " ", "_"))
	if row := words.Of(k.Type, key); row != nil {
		if meant := row.Meant(cell); len(meant) == 1 {
			tries = append(tries, meant[0].Word)
		}
	}
	if yes, is := words.YesNo(cell); is {
		tries = append(tries, fmt.Sprint(yes))
	}
	told := 0
	if unit != "" && bareNumber.MatchString(cell) {
		told = 1
	}
	wrongs := make([]string, len(tries))
	for i, text := range tries {
		err := schema.CheckIn(k.Type, key, text)
		if err == nil {
			return scalar(text), ""
		}
		wrongs[i] = err.Error()
	}
	return "", wrongs[told]
}

// plainScalar is what YAML reads back as it is, wherever it stands.
var plainScalar = regexp.MustCompile(`^[\pL0-9]([\pL0-9 ./%+_()*-]*[\pL0-9.%)])?$`)

// scalar writes a text so that it is read back as it is.
func scalar(text string) string {
	if !plainScalar.MatchString(text) {
		return quoted(text)
	}
	return text
}

func quoted(text string) string { return fmt.Sprintf("%q", printable(text)) }

// printable has control characters as spaces.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, text)
}

const begin = "shelf: 1\nparts:\n"

// part writes one part; what is wrong with it as a whole leaves it out.
func (l *list) part(r *row, e entry) {
	name := e.said["name"]
	at := [2]int{r.line, 1}
	if i := slices.IndexFunc(l.heads, func(h head) bool { return h.own == "name" }); i < len(r.at) {
		at = r.at[i]
	}
	left := func(message string) { l.problem(at, name, "the row is left out: "+message) }
	switch first := l.names[name]; {
	case name == "":
		left("it has no name")
		return
	case len(e.facts) == 0:
		left("nothing of it was understood")
		return
	case first > 0:
		left(fmt.Sprintf("line %d has the name %s already", first, document.Cut(name)))
		return
	}
	var b strings.Builder
	fmt.Fprintf(&b, "  - name: %s\n", quoted(name))
	if title := e.said["title"]; title != "" {
		fmt.Fprintf(&b, "    title: %s\n", quoted(title))
	}
	fmt.Fprintf(&b, "    read_from: %s\n    read_on: %s\n", either(e.said["read_from"], l.o.ReadFrom), either(e.said["read_on"], l.o.ReadOn))
	for _, key := range []string{"price", "stock"} {
		if text := e.said[key]; text != "" {
			fmt.Fprintf(&b, "    %s: %s\n", key, text)
		}
	}
	if note := e.said["notes"]; note != "" {
		fmt.Fprintf(&b, "    notes: %s\n", quoted(note))
	}
	for _, remark := range e.remarks {
		fmt.Fprintf(&b, "    # not understood: %s\n", document.Cut(remark))
	}
	fmt.Fprintf(&b, "    %s: {%s}\n", r.kind.Name, strings.Join(e.facts, ", "))
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
	l.names[name] = r.line
	l.held++
	l.out.Parts++
	l.text.WriteString(b.String())
}

// close ends a file.
func (l *list) close() {
	if l.held > 0 {
		l.out.Files = append(l.out.Files, l.text.String())
	}
	l.text.Reset()
	l.held = 0
}

func either(text, other string) string {
	if text == "" {
		text = other
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
