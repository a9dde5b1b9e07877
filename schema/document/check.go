package document

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

const (
	// MaxDepth is the deepest nesting read; designs and packs nest under 12 deep.
	MaxDepth = 32
	// MaxNodes is how many keys and values a file may hold; every fact of a design with long lists makes about 5000.
	MaxNodes = 50_000

	// enough is where checking stops collecting: far above what is shown, far below what fills memory.
	enough = 1000
)

// checker walks the node tree once and collects what is refused.
type checker struct {
	file     string
	nodes    int
	problems Problems
}

func (c *checker) add(n *yaml.Node, path, message, suggest string) {
	c.problems = append(c.problems, Problem{Place: Place{c.file, max(n.Line, 1), max(n.Column, 1)}, Path: path,
		Text: Cut(n.Value), Message: message, Suggest: suggest})
}

// node checks n and all below it; false means the walk was given up and the tree must not be used.
func (c *checker) node(n *yaml.Node, path string, depth int) bool {
	c.nodes++
	switch {
	case c.nodes > MaxNodes:
		c.add(n, path, tooMany, "")
		return false
	case len(c.problems) >= enough:
		return false
	case depth > MaxDepth:
		c.add(n, path, tooDeep, "")
		return false
	}
	if n.Anchor != "" {
		c.add(n, path, fmt.Sprintf("an anchor (&%s) is not allowed; write the value where it is needed", Cut(n.Anchor)), "")
	}
	if n.Style&yaml.TaggedStyle != 0 {
		c.add(n, path, fmt.Sprintf("a tag (%s) is not allowed; leave it out, and put a text in quotes", Cut(n.Tag)), "")
	}
	switch n.Kind {
	case yaml.AliasNode:
		c.add(n, path, fmt.Sprintf("an alias (*%s) is not allowed; write the value out", Cut(n.Value)), "")
	case yaml.ScalarNode:
		if message, suggest := oddNumber(n); message != "" {
			c.add(n, path, message, suggest)
		}
	case yaml.SequenceNode:
		for i, item := range n.Content {
			if !c.node(item, path+"["+strconv.Itoa(i)+"]", depth+1) {
				return false
			}
		}
	case yaml.MappingNode:
		return c.mapping(n, path, depth)
	}
	return true
}

var (
	tooDeep = fmt.Sprintf("nested more than %d deep", MaxDepth)
	tooMany = fmt.Sprintf("the file holds more than %d keys and values", MaxNodes)
)

func (c *checker) mapping(n *yaml.Node, path string, depth int) bool {
	lines := make(map[string]int, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if !c.key(key, path, depth) {
			return false
		}
		if key.Kind == yaml.ScalarNode {
			if first, twice := lines[key.Value]; twice {
				c.add(key, Join(path, key.Value),
					fmt.Sprintf("key %s is already on line %d; keep one of them", Cut(key.Value), first), "")
			} else {
				lines[key.Value] = key.Line
			}
		}
		if !c.node(value, Join(path, key.Value), depth+1) {
			return false
		}
	}
	return true
}

// key checks one key of a mapping: a plain word without tag, anchor or merge.
func (c *checker) key(key *yaml.Node, path string, depth int) bool {
	switch {
	case key.Kind != yaml.ScalarNode && key.Kind != yaml.AliasNode:
		c.add(key, path, "a key must be one word, not a list or mapping", "")
		return c.node(key, path, depth+1)
	case key.Value == "<<":
		c.nodes++
		c.add(key, path, "a merge key (<<) is not allowed; write the values out", "")
		return true
	case key.Value == "":
		c.nodes++
		c.add(key, path, "a key is missing before the colon", "")
		return true
	case key.Style == 0 && key.Kind == yaml.ScalarNode && key.Anchor == "":
		c.nodes++ // a plain key is a word, also when it looks like a number
		return c.nodes <= MaxNodes || c.node(key, path, depth+1)
	}
	return c.node(key, path, depth+1)
}

// Join appends a key to a path.
func Join(path, key string) string {
	if path == "" {
		return Cut(key)
	}
	return path + "." + Cut(key)
}

var (
	decimal     = regexp.MustCompile(`^[-+]?(0|[1-9][0-9]*)?(\.[0-9]*)?([eE][-+]?[0-9]+)?$`)
	sexagesimal = regexp.MustCompile(`^[-+]?[0-9][0-9_]*(:[0-5]?[0-9])+(\.[0-9_]*)?$`)
)

// oddNumber reports a plain scalar that some readers take for another number, or for none, than others do.
func oddNumber(n *yaml.Node) (message, suggest string) {
	const quoted = yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle | yaml.TaggedStyle
	if n.Style&quoted != 0 {
		return "", ""
	}
	text := n.Value
	number := n.Tag == "!!int" || n.Tag == "!!float"
	switch {
	case sexagesimal.MatchString(text):
		return "some readers take " + Cut(text) + " for a number to base 60; put a text in quotes, give a duration with its unit", strconv.Quote(Cut(text))
	case !number || decimal.MatchString(text):
		return "", ""
	case strings.Contains(strings.ToLower(text), "inf"), strings.Contains(strings.ToLower(text), "nan"):
		return text + " is not a number that can be used; write a finite decimal number", ""
	case strings.Contains(text, "_"):
		suggest = strings.ReplaceAll(text, "_", "")
		return "a number has no underscores; write " + Cut(suggest), suggest
	case len(text) > 1 && strings.Trim(text, "0123456789.+-") == "":
		suggest = strings.TrimLeft(text, "+-0")
		if suggest == "" || suggest[0] == '.' {
			suggest = "0" + suggest
		}
		if text[0] == '-' {
			suggest = "-" + suggest
		}
		return "some readers take " + Cut(text) + " for an octal number; write " + Cut(suggest) + ", or put a text in quotes", suggest
	}
	return "a decimal number is expected, not " + Cut(text) + "; put a text in quotes", ""
}
