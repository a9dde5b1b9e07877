package schema

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// mostTold is how many of the keys or names that a template states are told.
const mostTold = 12

// leaveOut takes facts away from a template. Paths are looked up in the template as it was written, so their order
// does not matter.
type leaveOut struct {
	*decoder
	base *yaml.Node
	file string
	gone map[*yaml.Node]bool
}

// apply takes away what each path of a list names; a path that names nothing is a problem.
func (l leaveOut) apply(paths *yaml.Node) {
	for i, n := range paths.Content {
		if message, suggest := l.find(n.Value); message != "" {
			l.add(n, fmt.Sprintf("%s.leave_out[%d]", rootPath, i), message, suggest)
		}
	}
	l.prune(l.base)
}

// find notes what a path names as gone, or says what is wrong with it.
func (l leaveOut) find(path string) (message, suggest string) {
	if bare, ok := strings.CutPrefix(path, rootPath+"."); ok {
		return "write the path without " + rootPath + ".: " + document.Cut(bare), bare
	}
	if key := Path(path).Section(); slices.Contains(ownFacts(), key) {
		return key + " is never taken from a template; take the line out", ""
	}
	n, at, rest := l.base, "", path
	for rest != "" {
		var step string
		var found []*yaml.Node
		switch n.Kind {
		case yaml.MappingNode:
			step, _, _ = strings.Cut(rest, ".")
			if _, value := entry(n, step); value != nil {
				found = append(found, value)
			}
		case yaml.SequenceNode:
			step, found = item(n, rest)
		}
		switch len(found) {
		case 0:
			return l.missing(path, at, rest, n)
		case 1:
		default:
			return fmt.Sprintf("it cannot be told which one %s means: two items of %s have that name (%s and %s); leave %s out whole and list what stays",
				document.Cut(path), at, l.place(found[0]), l.place(found[1]), at), ""
		}
		n, at, rest = found[0], document.Join(at, step), strings.TrimPrefix(rest[len(step):], ".")
	}
	l.gone[n] = true
	return "", ""
}

// item finds the items of a list whose name a path begins with: of several the longest, since names may hold dots.
func item(list *yaml.Node, path string) (name string, found []*yaml.Node) {
	for one, items := range byName(list) {
		if (path == one || strings.HasPrefix(path, one+".")) && len(one) > len(name) {
			name, found = one, items
		}
	}
	return name, found
}

// missing says that the template has nothing at a path, and what it has where the path, up to at, leads.
func (l leaveOut) missing(path, at, rest string, n *yaml.Node) (message, suggest string) {
	message = fmt.Sprintf("the template %s states no %s", l.file, document.Cut(path))
	var told []string
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i < len(n.Content); i += 2 {
			told = append(told, n.Content[i].Value)
		}
		if at == "" {
			told = slices.DeleteFunc(told, func(key string) bool { return slices.Contains(ownFacts(), key) })
		}
	case yaml.SequenceNode:
		for _, one := range n.Content {
			if _, name := entry(one, "name"); name != nil {
				told = append(told, name.Value)
			}
		}
		if len(told) == 0 {
			return message + "; the items of " + at + " have no names, and can only be left out together", at
		}
	default:
		return message + "; " + at + " is one value there", at
	}
	// A name may hold a dot, so the rest of the path is tried as one before its first step.
	step, after, below := strings.Cut(rest, ".")
	near := document.Nearest(rest, told)
	if near == "" {
		if near = document.Nearest(step, told); near != "" && below {
			near += "." + after
		}
	}
	if near != "" {
		suggest = document.Join(at, near)
		return message + "; did you mean " + suggest + "?", suggest
	}
	if len(told) == 0 {
		return message, ""
	}
	if len(told) > mostTold {
		told = append(told[:mostTold:mostTold], "and others")
	}
	if at == "" {
		return message + "; it states " + strings.Join(told, ", "), ""
	}
	return message + "; of " + at + " it states " + strings.Join(told, ", "), ""
}

// prune takes away what is gone, and the lists of which nothing is left: an empty one would say that there are none.
func (l leaveOut) prune(n *yaml.Node) {
	left := n.Content[:0:0]
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			key, value := n.Content[i], n.Content[i+1]
			items := len(value.Content)
			l.prune(value)
			if !l.gone[value] && !(value.Kind == yaml.SequenceNode && items > 0 && len(value.Content) == 0) {
				left = append(left, key, value)
			}
		}
	case yaml.SequenceNode:
		for _, one := range n.Content {
			l.prune(one)
			if !l.gone[one] {
				left = append(left, one)
			}
		}
	}
	n.Content = left
}

// short is a path without the root.
func short(path string) string { return strings.TrimPrefix(path, rootPath+".") }
