package proof

import (
	"strings"
)

// branch is a part of a design being written: its keys in order, and what stands at each.
type branch struct {
	keys []string
	at   map[string]*branch
	list map[string]bool
	leaf string
}

func (b *branch) child(key string, list bool) *branch {
	if b.at == nil {
		b.at, b.list = map[string]*branch{}, map[string]bool{}
	}
	if b.at[key] == nil {
		b.keys = append(b.keys, key)
		b.at[key] = &branch{}
	}
	b.list[key] = list
	return b.at[key]
}

// given writes the facts of a choice as a design, on one line.
func (p *proposing) given(t trial) string {
	root := &branch{}
	for i, x := range p.leaves {
		if x.derived || t[i] == "" {
			continue
		}
		b, none := root, false
		for step := range strings.SplitSeq(strings.TrimPrefix(x.path, "design."), ".") {
			key, list := strings.CutSuffix(step, "[]")
			if none = b.leaf == "none"; none {
				break // there is nothing below
			}
			b = b.child(key, list)
		}
		if none {
			continue
		}
		if b.at == nil {
			b.leaf = quoted(t[i])
		} else if t[i] == "none" {
			b.at, b.keys, b.leaf = nil, nil, "none"
		}
	}
	return root.text()
}

func (b *branch) text() string {
	if b.leaf != "" {
		return b.leaf
	}
	var out []string
	for _, key := range b.keys {
		text := b.at[key].text()
		if b.list[key] {
			text = "[" + text + "]"
		}
		out = append(out, key+": "+text)
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// quoted writes a value so that YAML on one line reads it as one.
func quoted(text string) string {
	if strings.ContainsAny(text, ",:{}[]#'\"") {
		return `"` + strings.ReplaceAll(text, `"`, `\"`) + `"`
	}
	return text
}
