package editor

import (
	"regexp"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/document"
)

// Spot is where a cursor stands in a document of keys and values.
type Spot struct {
	// Way leads from the root to what is written there; on a key it ends with the part around it.
	Way []schema.Step
	// Key is set on a key. Text is what is written of the key or value up to the cursor.
	Key  bool
	Text string
	// Beside are the keys that the mapping around the cursor has already.
	Beside []string
	// quoted is set inside quotes.
	quoted bool
	// column is that of the keys beside it, closed the text up to the cursor that was read.
	column int
	closed string
}

// mark stands for the cursor in the text that is read. It is a character for private use.
const mark = "\uE000"

// SpotAt finds what stands at an offset; nil in a comment, and where the text before is no document whatever follows.
func SpotAt(text string, offset int) *Spot {
	before := strings.ReplaceAll(text[:offset], mark, "?")
	o := open(before)
	if o.comment {
		return nil
	}
	tails := []string{"", ":"}
	switch {
	case o.quote != 0:
		tails = []string{string(o.quote)}
	case o.block || o.flow != "":
		tails = tails[:1]
	case colonAfter.MatchString(text[offset:]):
		tails = []string{":", ""}
	}
	for _, tail := range tails {
		s := &Spot{closed: before + mark + tail + o.flow, quoted: o.quote != 0}
		root, _ := document.Parse("", []byte(s.closed))
		if root == nil {
			continue
		}
		if s.find(root) {
			if s.column > 0 && o.flow == "" {
				s.below(text[offset:])
			}
			return s
		}
	}
	return nil
}

// colonAfter is what follows a key.
var colonAfter = regexp.MustCompile(`^\w*[ \t]*:([ \t\r\n]|$)`)

// find looks for the mark below a node, and notes the way to it.
func (s *Spot) find(n *yaml.Node) bool {
	switch n.Kind {
	case yaml.SequenceNode:
		for i, item := range n.Content {
			at := len(s.Way) - 1
			if at < 0 || s.Way[at].Item {
				s.Way, at = append(s.Way, schema.Step{}), at+1
			}
			s.Way[at].Item, s.Way[at].Index = true, i
			if s.find(item) {
				return true
			}
			if s.Way[at].Item = false; s.Way[at].Key == "" {
				s.Way = s.Way[:at]
			}
		}
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			key, value := n.Content[i], n.Content[i+1]
			if text, _, found := strings.Cut(key.Value, mark); found {
				s.Key, s.Text = true, text
				s.beside(n, i)
				return true
			}
			s.Way = append(s.Way, schema.Step{Key: key.Value})
			if s.find(value) {
				if value.Kind == yaml.ScalarNode {
					s.beside(n, i)
				}
				return true
			}
			s.Way = s.Way[:len(s.Way)-1]
		}
	case yaml.ScalarNode:
		var found bool
		s.Text, _, found = strings.Cut(n.Value, mark)
		return found
	}
	return false
}

func (s *Spot) beside(n *yaml.Node, at int) {
	s.column = n.Content[at].Column
	for i := 0; i+1 < len(n.Content); i += 2 {
		if i != at {
			s.Beside = append(s.Beside, n.Content[i].Value)
		}
	}
}

// below adds the keys of the mapping that stand on lines after the cursor.
func (s *Spot) below(after string) {
	_, after, _ = strings.Cut(after, "\n")
	for line := range strings.Lines(after) {
		key := strings.TrimLeft(line, " ")
		lead := len(line) - len(key)
		name, _, is := strings.Cut(key, ":")
		switch {
		case strings.TrimSpace(key) == "" || key[0] == '#':
		case lead < s.column-1:
			return
		case lead == s.column-1 && is:
			s.Beside = append(s.Beside, name)
		}
	}
}

// pathOf is a way as a path, list indices left empty: feed.runs[].bore.
func pathOf(way []schema.Step) string {
	var b strings.Builder
	for i, step := range way {
		if i > 0 && step.Key != "" {
			b.WriteByte('.')
		}
		b.WriteString(step.Key)
		if step.Item {
			b.WriteString("[]")
		}
	}
	return b.String()
}

// opened is what a text leaves open at its end.
type opened struct {
	quote          byte
	block, comment bool
	// flow closes the brackets that are open.
	flow string
}

// blockStart is the end of a line behind which a text stands in lines of its own.
var blockStart = regexp.MustCompile(`(^|[:\-?] +)[|>][0-9+-]*[ \t]*(#.*)?$`)

// open finds what a text leaves open, as YAML 1.2 has it (section 7.3 for quotes, 7.4 for brackets, 8.1 for blocks).
func open(text string) opened {
	var o opened
	indent := -1 // of the line behind which a block began
	for line := range strings.Lines(text) {
		bare := strings.TrimRight(line, "\r\n")
		lead := len(bare) - len(strings.TrimLeft(bare, " "))
		if o.block && (lead > indent || lead == len(bare)) {
			continue
		}
		o.block, o.comment = false, false
		o.line(bare)
		if o.quote == 0 && o.flow == "" && !o.comment && blockStart.MatchString(bare) && len(bare) < len(line) {
			o.block, indent = true, lead
		}
		o.comment = o.comment && len(bare) == len(line)
	}
	return o
}

// line goes through one line. A quote or bracket counts where a value may begin, a bracket inside others everywhere.
func (o *opened) line(text string) {
	begin := true // a value may begin here
	for i := 0; i < len(text); i++ {
		c := text[i]
		blank := i == 0 || text[i-1] == ' ' || text[i-1] == '\t'
		switch {
		case o.quote == '"' && c == '\\', o.quote == '\'' && strings.HasPrefix(text[i:], "''"):
			i++
		case o.quote != 0:
			if c == o.quote {
				o.quote = 0
			}
		case c == '#' && blank:
			o.comment = true
			return
		case (c == '"' || c == '\'') && begin:
			o.quote, begin = c, false
		case (c == '[' || c == '{') && (begin || o.flow != ""):
			o.flow, begin = map[byte]string{'[': "]", '{': "}"}[c]+o.flow, true
		case (c == ']' || c == '}') && o.flow != "":
			o.flow, begin = o.flow[1:], false
		case c == ' ' || c == '\t' || c == ',' && o.flow != "":
			begin = begin || c == ','
		case (c == ':' || c == '-' && begin) && (i+1 == len(text) || text[i+1] == ' ' || text[i+1] == '\t'):
			begin = true
		default:
			begin = false
		}
	}
}
