package explain

import (
	"embed"
	"slices"
	"strings"
	"sync"

	"plumbline/engine"
)

// Topic is a part of the rule language, told from what the program itself goes by.
type Topic struct {
	Name  string
	Title string
	// Also are other names it is asked by.
	Also     []string
	Sections []Section
}

// Section is a heading and what stands under it.
type Section struct {
	Heading string
	Items   []Item
	// Pack is a whole pack that shows it, with cases that prove it; empty where none is needed.
	Pack string
}

// Item is one thing that is told: how it is written, if it is, what it means, and an expression that shows it, which is true.
type Item struct {
	Code, Text, Example string
}

// Line is an item as one line of text.
func (i Item) Line() string {
	out := i.Text
	if i.Code != "" {
		out = i.Code + ": " + i.Text
	}
	if i.Example != "" {
		out += ". Such as " + i.Example
	}
	return out
}

// Lines are the lines of a section, its pack after what is told.
func (s *Section) Lines() []string {
	var out []string
	for _, i := range s.Items {
		out = append(out, i.Line())
	}
	return out
}

//go:embed examples/*.yaml
var examples embed.FS

// example is a pack that shows something.
func example(name string) string {
	text, err := examples.ReadFile("examples/" + name + ".yaml")
	if err != nil {
		return ""
	}
	return string(text)
}

// Topics are all there are.
var Topics = sync.OnceValue(func() []Topic {
	return []Topic{forms(), functions(), units(), unknowns(), guards(), points(), views(), tables(), cases(), regions(), settingsTopic(), reportTopic()}
})

// TopicNamed is the topic of a name, or of a function or operator alone; nil when there is none.
func TopicNamed(name string) *Topic {
	list := Topics()
	for i := range list {
		if t := &list[i]; strings.EqualFold(t.Name, name) || slices.ContainsFunc(t.Also, func(a string) bool { return strings.EqualFold(a, name) }) {
			return t
		}
	}
	for _, f := range slices.Concat(engine.Functions(), engine.Operators()) {
		if f.Name == name {
			return &Topic{Name: f.Name, Title: "what a rule's expression may say; plumbline explain functions lists all", Sections: []Section{{Items: []Item{{f.Signature, f.Doc, f.Example}}}}}
		}
	}
	return nil
}
