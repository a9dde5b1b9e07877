package derive

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"plumbline/schema/quantity"
)

// Line is one line of the account of how a value came out: a value or a fact,
// indented by how many steps it lies below the value explained.
type Line struct {
	Depth int
	// Path names the value or fact.
	Path string
	// Value is the value in words, "unknown" when there is none.
	Value string
	// Place is where a fact stands, as file:line:column.
	Place string
	// Note is a derived value's formula, why a value is unknown, that a fact
	// was assumed, or that the value was shown above.
	Note string
}

// String writes the line with two spaces for each step.
func (l Line) String() string {
	var b strings.Builder
	b.WriteString(strings.Repeat("  ", l.Depth) + l.Path + " = " + l.Value)
	if l.Place != "" {
		b.WriteString("   [" + l.Place + "]")
	}
	if l.Note != "" {
		b.WriteString("   (" + l.Note + ")")
	}
	return b.String()
}

// Chain explains the result down to the facts. A derived value met again is
// named but not explained again.
func (r *Result) Chain() []Line {
	return r.chain(nil, 0, map[*Result]bool{})
}

func (r *Result) chain(lines []Line, depth int, shown map[*Result]bool) []Line {
	line := Line{Depth: depth, Path: r.Path, Value: r.text(), Note: r.note()}
	if line.Path == "" {
		line.Path = r.Name
	}
	if shown[r] {
		line.Note = "as above"
		return append(lines, line)
	}
	shown[r] = true
	lines = append(lines, line)
	inputs, list, listed := r.Inputs(), map[string]int{}, map[string]bool{}
	for _, in := range inputs {
		base, item := listOf(in.Path)
		at, begun := list[base]
		switch {
		case in.Derived != nil:
			lines = in.Derived.chain(lines, depth+1, shown)
		case item && begun:
			lines[at].Value += ", " + valueText(in.Value)
		default:
			fact := Line{Depth: depth + 1, Path: base, Value: valueText(in.Value), Place: in.Place.String()}
			if in.Assumed {
				fact.Note = "assumed"
			}
			list[base] = len(lines)
			lines = append(lines, fact)
		}
		listed[in.Path] = true
	}
	for _, path := range r.Missing {
		if !listed[path] && !missingBelow(inputs, path) {
			lines = append(lines, Line{Depth: depth + 1, Path: path, Value: "unknown", Note: "not stated"})
		}
	}
	return lines
}

// listOf gives the list that a plain value such as runs_at[2] is an item of; a
// path that does not end in an index stays as it is.
func listOf(path string) (base string, item bool) {
	if !strings.HasSuffix(path, "]") {
		return path, false
	}
	return path[:strings.LastIndexByte(path, '[')], true
}

// missingBelow reports whether a derived input already names the missing fact.
func missingBelow(inputs []Input, path string) bool {
	for _, in := range inputs {
		if in.Derived != nil && slices.Contains(in.Derived.Missing, path) {
			return true
		}
	}
	return false
}

// note is the formula of a known value, or why it is not known.
func (r *Result) note() string {
	switch {
	case r.Reason != "":
		return r.Reason
	case r.Absent != "":
		return "does not apply by " + r.Absent
	case r.Entry != nil:
		return r.Entry.Formula
	}
	return ""
}

func (r *Result) text() string {
	if !r.Known() {
		return "unknown"
	}
	return valueText(r.Value())
}

// valueText writes a value for a reader, numbers with four figures.
func valueText(v any) string {
	switch v := v.(type) {
	case nil:
		return "unknown"
	case quantity.Value:
		return v.String()
	case float64:
		return strconv.FormatFloat(v, 'g', 4, 64)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	}
	return fmt.Sprint(v)
}
