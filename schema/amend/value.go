package amend

import (
	"bytes"
	"strings"

	"gopkg.in/yaml.v3"
)

// step is how far a level is indented.
const step = 2

// Plain makes a value that is read as it is typed: 58 psi, in_tank, 6, true, 1971-12-01. A text that would read as
// something else when it is not quoted becomes a text in quotes.
func Plain(text string) *yaml.Node {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte("- "+text+"\n"), &doc); err == nil && len(doc.Content) == 1 {
		if list := doc.Content[0]; list.Kind == yaml.SequenceNode && len(list.Content) == 1 {
			n := list.Content[0]
			if n.Kind == yaml.ScalarNode && n.Style == 0 && n.Value == text && n.LineComment == "" && n.Anchor == "" {
				return &yaml.Node{Kind: yaml.ScalarNode, Tag: n.Tag, Value: text}
			}
		}
	}
	return Text(text)
}

// Text makes a text; it is put in quotes where it would read as a number or the like.
func Text(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
}

// There makes the value that says a part is there and nothing more is known: {}.
func There() *yaml.Node {
	return &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Style: yaml.FlowStyle}
}

// List makes a list of values.
func List(items ...*yaml.Node) *yaml.Node {
	return &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: items}
}

// Part makes a mapping of one key.
func Part(key string, value *yaml.Node) *yaml.Node {
	return &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Content: []*yaml.Node{Plain(key), value}}
}

// block writes a key with its value as lines.
func block(key string, value *yaml.Node, indent int) []string {
	lead := strings.Repeat(" ", indent)
	if len(value.Content) == 0 {
		return []string{lead + key + ": " + flow(value)}
	}
	out := []string{lead + key + ":"}
	if value.Kind == yaml.MappingNode {
		return append(out, blockPart(value, indent+step)...)
	}
	for _, item := range value.Content {
		out = append(out, blockItem(item, indent+step)...)
	}
	return out
}

func blockPart(n *yaml.Node, indent int) []string {
	var out []string
	for i := 0; i+1 < len(n.Content); i += 2 {
		out = append(out, block(flow(n.Content[i]), n.Content[i+1], indent)...)
	}
	return out
}

// blockItem writes an item of a list, its first line after a dash.
func blockItem(n *yaml.Node, indent int) []string {
	lead := strings.Repeat(" ", indent) + "- "
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		return []string{lead + flow(n)}
	}
	out := blockPart(n, indent+step)
	out[0] = lead + out[0][indent+step:]
	return out
}

// flow writes a value in one line.
func flow(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		var parts []string
		for i := 0; i+1 < len(n.Content); i += 2 {
			parts = append(parts, flow(n.Content[i])+": "+flow(n.Content[i+1]))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case yaml.SequenceNode:
		var parts []string
		for _, item := range n.Content {
			parts = append(parts, flow(item))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Style: yaml.FlowStyle, Content: []*yaml.Node{{Kind: n.Kind, Tag: n.Tag, Value: n.Value}}}
	text, err := yaml.Marshal(list)
	if err != nil {
		return ""
	}
	return string(bytes.TrimSuffix(bytes.TrimPrefix(text, []byte("[")), []byte("]\n")))
}
