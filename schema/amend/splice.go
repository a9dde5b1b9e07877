package amend

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// widest is the length from which a value in braces is continued on a new line.
const widest = 118

// line is one line of a file without its end; columns count characters.
type line []rune

func lines(text []byte) []line {
	var out []line
	for one := range strings.Lines(string(text)) {
		out = append(out, line(strings.TrimRight(one, "\r\n")))
	}
	return out
}

func (l line) blank() bool { return strings.TrimSpace(string(l)) == "" }

// indent is the column of the first character that is no blank, from 0.
func (l line) indent() int {
	return len(l) - len([]rune(strings.TrimLeft(string(l), " ")))
}

func (l line) comment() bool { return strings.HasPrefix(strings.TrimSpace(string(l)), "#") }

// splice writes the change into the lines; false when it does not see how.
func (e *edit) splice(root *yaml.Node) bool {
	n := e.into
	if n.Line < 1 || n.Line > len(e.lines) {
		return false
	}
	done := false
	switch {
	case n.Style&yaml.FlowStyle != 0 && len(n.Content) == 0 && !e.inFlow():
		done = e.unfold()
	case n.Style&yaml.FlowStyle != 0:
		done = e.intoFlow()
	case n.Kind == yaml.MappingNode && len(n.Content) > 0:
		indent := n.Content[0].Column - 1
		e.insert(e.end(root, indent), block(e.key, e.value, indent))
		done = true
	case n.Kind == yaml.SequenceNode && len(n.Content) > 0:
		if indent := e.dash(n.Content[0]); indent >= 0 {
			e.insert(e.end(root, indent), blockItem(e.value, indent))
			done = true
		}
	}
	return done
}

// inFlow reports whether the value stands inside braces or brackets.
func (e *edit) inFlow() bool {
	return slices.ContainsFunc(e.around, func(n *yaml.Node) bool { return n != e.into && n.Style&yaml.FlowStyle != 0 })
}

// dash is the column of the dash before an item, from 0; -1 when it is on another line.
func (e *edit) dash(item *yaml.Node) int {
	before := e.lines[item.Line-1][:min(item.Column-1, len(e.lines[item.Line-1]))]
	for i := len(before) - 1; i >= 0; i-- {
		switch before[i] {
		case '-':
			return i
		case ' ':
		default:
			return -1
		}
	}
	return -1
}

// end is the index of the line after the last one of the value that grows: before what follows it in the file, with
// the blank lines and the comments that stand further out left to that.
func (e *edit) end(root *yaml.Node, indent int) int {
	last := lastLine(e.into)
	at := nextLine(root, last, len(e.lines)+1) - 1
	for at > last && (e.lines[at-1].blank() || e.lines[at-1].comment() && e.lines[at-1].indent() < indent) {
		at--
	}
	return at
}

// lastLine is the line on which the last node of a value begins.
func lastLine(n *yaml.Node) int {
	last := n.Line
	for _, c := range n.Content {
		last = max(last, lastLine(c))
	}
	return last
}

// nextLine is the first line after one on which a node begins; none if there is no such.
func nextLine(n *yaml.Node, after, none int) int {
	if n.Line > after {
		none = min(none, n.Line)
	}
	for _, c := range n.Content {
		none = nextLine(c, after, none)
	}
	return none
}

func (e *edit) insert(at int, added []string) {
	list := make([]line, len(added))
	for i, text := range added {
		list[i] = line(text)
	}
	e.lines = slices.Insert(e.lines, at, list...)
}

// unfold puts the first value into empty braces or brackets: they go, and it stands in lines of its own below, or
// after the dash of the item it is.
func (e *edit) unfold() bool {
	n := e.into
	row, column := n.Line-1, n.Column-1
	l := e.lines[row]
	if column+2 > len(l) || string(l[column:column+2]) != "{}" && string(l[column:column+2]) != "[]" {
		return false
	}
	before, after := string(l[:column]), string(l[column+2:])
	if dash := e.dash(n); dash >= 0 {
		if e.key == "" {
			return false
		}
		added := block(e.key, e.value, column)
		e.lines[row] = line(before + added[0][column:] + after)
		e.insert(row+1, added[1:])
		return true
	}
	indent := l.indent() + step
	if dash := strings.TrimLeft(before, " "); strings.HasPrefix(dash, "- ") {
		indent += step
	}
	e.lines[row] = line(strings.TrimRight(before, " ") + strings.TrimRight(after, " "))
	if e.key == "" {
		e.insert(row+1, blockItem(e.value, indent))
	} else {
		e.insert(row+1, block(e.key, e.value, indent))
	}
	return true
}

// intoFlow puts the value before the brace or bracket that closes what it goes into.
func (e *edit) intoFlow() bool {
	row, column, ok := e.closing(e.into.Line-1, e.into.Column-1)
	if !ok {
		return false
	}
	added := flow(e.value)
	if e.key != "" {
		added = e.key + ": " + added
	}
	l := e.lines[row]
	before := strings.TrimRight(string(l[:column]), " ")
	after := string(l[column:])
	if len(before) < column {
		after = " " + after
	}
	if len(e.into.Content) == 0 {
		e.lines[row] = line(before + added + after)
		return true
	}
	if len([]rune(before+added+after))+2 > widest {
		e.lines[row] = line(before + ",")
		e.insert(row+1, []string{strings.Repeat(" ", e.into.Column) + added + after})
		return true
	}
	e.lines[row] = line(before + ", " + added + after)
	return true
}

// closing finds the bracket that closes the one at a place. A quote begins a text in quotes only where a value may
// begin, a # a comment only after a blank.
func (e *edit) closing(row, column int) (int, int, bool) {
	depth, quote, fresh := 0, rune(0), true
	for ; row < len(e.lines); row, column = row+1, 0 {
		l := e.lines[row]
		for i := column; i < len(l); i++ {
			r := l[i]
			switch {
			case quote == '"' && r == '\\':
				i++
			case quote != 0:
				if r == quote {
					quote = 0
				}
			case fresh && (r == '"' || r == '\''):
				quote, fresh = r, false
			case r == '#' && i > 0 && l[i-1] == ' ':
				i = len(l)
			case r == '{' || r == '[':
				depth, fresh = depth+1, true
			case r == '}' || r == ']':
				if depth--; depth == 0 {
					return row, i, true
				}
				fresh = false
			case r == ',' || r == ':':
				fresh = true
			case r != ' ':
				fresh = false
			}
		}
	}
	return 0, 0, false
}
