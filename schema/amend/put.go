package amend

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// Put is Set that also puts a value in the place of one that is there. What was remarked on what goes stays as a remark.
func Put(file string, text []byte, path []Step, value *yaml.Node) ([]byte, error) {
	root, err := document.Parse(file, text)
	if err != nil {
		return nil, err
	}
	at := lookup(root, path)
	if at == nil {
		return Set(file, text, path, value)
	}
	e := opened(text)
	e.around = at.around
	done := e.replace(root, at, value)
	at.put(value)
	return e.finish(file, root, done)
}

// Drop returns a file's text without the key or item at the end of a path. A mapping whose last key it was is {} then, a list [].
// What was remarked on what goes stays as a remark. A path that leads nowhere leaves the text as it is.
func Drop(file string, text []byte, path []Step) ([]byte, error) {
	root, err := document.Parse(file, text)
	if err != nil {
		return nil, err
	}
	at := lookup(root, path)
	if at == nil {
		return text, nil
	}
	e := opened(text)
	e.around = at.around
	done := e.remove(root, at)
	at.drop()
	return e.finish(file, root, done)
}

// At is the value at the end of a path in a tree; nil where the tree has none.
func At(root *yaml.Node, path []Step) *yaml.Node {
	if at := lookup(root, path); at != nil {
		return at.value
	}
	return nil
}

// found is a value in a tree: in is the mapping or list that holds it, at its place among what that holds.
type found struct {
	in, key, value *yaml.Node
	at             int
	around         []*yaml.Node
}

// lookup follows a path; nil where the tree does not go that far.
func lookup(root *yaml.Node, path []Step) *found {
	if len(path) == 0 || root == nil {
		return nil
	}
	f := &found{value: root}
	for _, s := range path {
		n := f.value
		f.around = append(f.around, n)
		at := -1
		for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == s.Key {
				at = i
			}
		}
		if at < 0 {
			return nil
		}
		f.in, f.key, f.value, f.at = n, n.Content[at], n.Content[at+1], at
		if s.Item == Whole {
			continue
		}
		list := f.value
		item := s.in(list)
		if list.Kind != yaml.SequenceNode || item == nil {
			return nil
		}
		f.around = append(f.around, list)
		f.in, f.key, f.value, f.at = list, nil, item, slices.Index(list.Content, item)
	}
	return f
}

// put makes the change in the tree, drop takes the value out of it; remarks on what goes are kept on what stays.
func (f *found) put(value *yaml.Node) {
	remarks := remarksIn(f.value)
	at := f.at
	if f.key != nil {
		at++
		f.key.HeadComment = joined(f.key.HeadComment, remarks)
	} else {
		value.HeadComment = joined(f.value.HeadComment, remarks)
	}
	f.in.Content[at] = value
}

func (f *found) drop() {
	n := 1
	remarks := remarksIn(f.value)
	if f.key != nil {
		n = 2
		remarks = append(remarksIn(f.key), remarks...)
	}
	f.in.Content = slices.Delete(f.in.Content, f.at, f.at+n)
	switch {
	case f.at < len(f.in.Content):
		f.in.Content[f.at].HeadComment = joined(f.in.Content[f.at].HeadComment, remarks)
	case len(f.in.Content) > 0:
		last := f.in.Content[len(f.in.Content)-n]
		last.FootComment = joined(last.FootComment, remarks)
	default:
		f.in.Style = yaml.FlowStyle
		f.in.HeadComment = joined(f.in.HeadComment, remarks)
	}
}

func joined(text string, more []string) string {
	return strings.TrimPrefix(strings.Join(append([]string{text}, more...), "\n"), "\n")
}

// remarksIn are the remarks on a value and all below it.
func remarksIn(n *yaml.Node) []string {
	var out []string
	for _, text := range []string{n.HeadComment, n.LineComment, n.FootComment} {
		if text != "" {
			out = append(out, strings.Split(text, "\n")...)
		}
	}
	for _, c := range n.Content {
		out = append(out, remarksIn(c)...)
	}
	return out
}

// span is a stretch of a text: from a place to before another, both counted from 0.
type span struct{ row, from, end, to int }

// spanOf is where a value stands that is written in one go: a plain or quoted word on one line, or what is in braces or brackets.
func (e *edit) spanOf(n *yaml.Node) (span, bool) {
	row, from := n.Line-1, n.Column-1
	if row < 0 || row >= len(e.lines) || from < 0 || from > len(e.lines[row]) {
		return span{}, false
	}
	l := e.lines[row][from:]
	switch {
	case n.Kind != yaml.ScalarNode:
		if n.Style&yaml.FlowStyle == 0 {
			return span{}, false
		}
		end, to, ok := e.closing(row, from)
		return span{row, from, end, to + 1}, ok
	case n.Style == 0:
		value := []rune(n.Value)
		return span{row, from, row, from + len(value)}, len(value) > 0 && len(l) >= len(value) && string(l[:len(value)]) == n.Value
	case n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0 || len(l) == 0:
		return span{}, false
	}
	for i := 1; i < len(l); i++ {
		switch {
		case l[0] == '"' && l[i] == '\\':
			i++
		case l[i] == l[0] && l[0] == '\'' && i+1 < len(l) && l[i+1] == '\'':
			i++
		case l[i] == l[0]:
			return span{row, from, row, from + i + 1}, true
		}
	}
	return span{}, false
}

// replace writes a value over the one that is found; false when it does not see how.
func (e *edit) replace(root *yaml.Node, f *found, value *yaml.Node) bool {
	if s, ok := e.spanOf(f.value); ok {
		before, after := string(e.lines[s.row][:s.from]), string(e.lines[s.end][s.to:])
		remarks := e.remarks(s.row, s.end)
		e.lines = slices.Delete(e.lines, s.row+1, s.end+1)
		if f.key == nil || len(value.Content) == 0 || f.inFlow() {
			e.lines[s.row] = line(before + flow(value) + after)
		} else {
			e.lines[s.row] = line(strings.TrimRight(before, " ") + strings.TrimRight(after, " "))
			e.insert(s.row+1, below(value, f.key.Column-1+step))
		}
		e.remark(s.row, e.lines[s.row].indent(), remarks)
		return true
	}
	if f.inFlow() {
		return false
	}
	var row, indent, end int
	var added []string
	if f.key != nil {
		row, indent = f.key.Line-1, f.key.Column-1
		end = e.endOf(root, f.value, indent)
		added = block(flow(f.key), value, indent)
	} else {
		row, indent = f.value.Line-1, e.dash(f.value)
		if indent < 0 {
			return false
		}
		end = e.endOf(root, f.value, indent+1)
		added = blockItem(value, indent)
	}
	added[0] = string(e.lines[row][:indent]) + added[0][indent:]
	remarks := e.remarks(row, end)
	e.lines = slices.Delete(e.lines, row, end)
	e.insert(row, added)
	e.remark(row, e.lines[row].indent(), remarks)
	return true
}

// below writes what stands below a key.
func below(value *yaml.Node, indent int) []string {
	if value.Kind == yaml.MappingNode {
		return blockPart(value, indent)
	}
	var out []string
	for _, item := range value.Content {
		out = append(out, blockItem(item, indent)...)
	}
	return out
}

// remove takes the lines of what is found away; false when it does not see how.
func (e *edit) remove(root *yaml.Node, f *found) bool {
	only := len(f.in.Content) <= 2 && f.key != nil || len(f.in.Content) == 1
	if f.inFlow() {
		return !only && e.removeInFlow(f)
	}
	if f.key == nil {
		row := f.value.Line - 1
		dash := e.dash(f.value)
		if dash < 0 {
			return false
		}
		end := e.endOf(root, f.value, dash+1)
		remarks := e.remarks(row, end)
		if only {
			return e.emptied(f, row, end, "[]", remarks)
		}
		e.lines = slices.Delete(e.lines, row, end)
		e.remark(row, dash, remarks)
		return true
	}
	row, indent := f.key.Line-1, f.key.Column-1
	end := e.endOf(root, f.value, indent)
	remarks := e.remarks(row, end)
	lead := string(e.lines[row][:indent])
	switch {
	case strings.TrimSpace(lead) == "" && !only:
		e.lines = slices.Delete(e.lines, row, end)
		e.remark(row, indent, remarks)
		return true
	case strings.TrimSpace(lead) == "":
		return e.emptied(f, row, end, "{}", remarks)
	case only:
		e.lines = slices.Delete(e.lines, row+1, end)
		e.lines[row] = line(lead + "{}")
		e.remark(row, e.lines[row].indent(), remarks)
		return true
	case len(remarks) > 0:
		return false
	}
	// The first key after a dash: the next one takes its place.
	next := f.in.Content[f.at+2]
	if next.Column-1 != indent || next.Line-1 < end {
		return false
	}
	e.lines[next.Line-1] = line(lead + string(e.lines[next.Line-1][indent:]))
	between := slices.Clone(e.lines[end : next.Line-1])
	e.lines = slices.Delete(e.lines, row, next.Line-1)
	e.lines = slices.Insert(e.lines, row, between...)
	return true
}

// emptied leaves {} or [] where the last key or item goes of what stands below its own key on lines of its own.
func (e *edit) emptied(f *found, row, end int, sign string, remarks []string) bool {
	if len(f.around) < 2 {
		return false
	}
	outer := f.around[len(f.around)-2]
	for i := 0; outer.Kind == yaml.MappingNode && i+1 < len(outer.Content); i += 2 {
		key := outer.Content[i]
		if outer.Content[i+1] != f.in || key.Line-1 >= row {
			continue
		}
		l := string(e.lines[key.Line-1])
		at := key.Column - 1 + len([]rune(key.Value))
		if runes := []rune(l); at < len(runes) && runes[at] == ':' {
			e.lines = slices.Delete(e.lines, row, end)
			e.lines[key.Line-1] = line(string(runes[:at+1]) + " " + sign + string(runes[at+1:]))
			e.remark(key.Line-1, key.Column-1, remarks)
			return true
		}
	}
	return false
}

// removeInFlow takes a key with its value, or an item, out of braces or brackets, where it stands on one line.
func (e *edit) removeInFlow(f *found) bool {
	first := f.value
	if f.key != nil {
		first = f.key
	}
	s, ok := e.spanOf(f.value)
	if !ok || s.row != s.end || first.Line-1 != s.row {
		return false
	}
	l := e.lines[s.row]
	from, to := first.Column-1, s.to
	for to < len(l) && l[to] == ' ' {
		to++
	}
	if to < len(l) && l[to] == ',' {
		to++
		for to < len(l) && l[to] == ' ' {
			to++
		}
		if to == len(l) || l[to] == '#' { // what follows stands on the next line
			return false
		}
	} else {
		to = s.to
		for from > 0 && l[from-1] == ' ' {
			from--
		}
		if from == 0 || l[from-1] != ',' {
			return false
		}
		from--
	}
	e.lines[s.row] = line(string(l[:from]) + string(l[to:]))
	return true
}

// inFlow reports whether it stands in braces or brackets.
func (f *found) inFlow() bool {
	return slices.ContainsFunc(f.around, func(n *yaml.Node) bool { return n.Style&yaml.FlowStyle != 0 })
}

// endOf is the index of the line after the last one of a value.
func (e *edit) endOf(root, value *yaml.Node, indent int) int {
	last := lastLine(value)
	at := nextLine(root, last, len(e.lines)+1) - 1
	for at > last && (e.lines[at-1].blank() || e.lines[at-1].comment() && e.lines[at-1].indent() <= indent) {
		at--
	}
	return at
}

// remarks are those that end some lines, or are all there is on one.
func (e *edit) remarks(row, end int) []string {
	var out []string
	for _, l := range e.lines[row:end] {
		if at := l.remark(); at >= 0 {
			out = append(out, string(l[at:]))
		}
	}
	return out
}

// remark puts remarks on lines of their own before a line.
func (e *edit) remark(row, indent int, remarks []string) {
	added := make([]string, len(remarks))
	for i, text := range remarks {
		added[i] = strings.Repeat(" ", indent) + text
	}
	e.insert(row, added)
}

// remark is where the remark of a line begins; -1 for none.
func (l line) remark() int {
	quote, fresh := rune(0), true
	for i := 0; i < len(l); i++ {
		switch r := l[i]; {
		case quote == '"' && r == '\\':
			i++
		case quote != 0:
			if r == quote {
				quote = 0
			}
		case fresh && (r == '"' || r == '\''):
			quote, fresh = r, false
		case r == '#' && (i == 0 || l[i-1] == ' ' || l[i-1] == '\t'):
			return i
		case r == ',' || r == ':' || r == '{' || r == '[' || r == '-':
			fresh = true
		case r != ' ':
			fresh = false
		}
	}
	return -1
}
