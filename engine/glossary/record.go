package glossary

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/explain"
)

// Record is what is known of one name.
type Record struct {
	Name string `json:"name"`
	// Kind is rule, pack, limit, table, source, region, known failure, topic, derived value, fact or part of a design.
	Kind  string `json:"kind"`
	Title string `json:"title"`
	// Facets are what there is to say, in order.
	Facets []Facet `json:"facets"`
}

// Facet is one thing to say about a name.
type Facet struct {
	Label string   `json:"label"`
	Text  []string `json:"text"`
}

// Add adds a facet when there is something to say.
func (r *Record) Add(label string, text ...string) {
	var said []string
	for _, t := range text {
		if t = strings.TrimSpace(t); t != "" {
			said = append(said, t)
		}
	}
	if len(said) > 0 {
		r.Facets = append(r.Facets, Facet{label, said})
	}
}

// Facet is what is said under a label; nil when nothing is.
func (r *Record) Facet(label string) []string {
	for _, f := range r.Facets {
		if f.Label == label {
			return f.Text
		}
	}
	return nil
}

// Topic is the record of a topic.
func Topic(t *explain.Topic) Record {
	r := Record{Name: t.Name, Kind: "topic", Title: t.Title}
	for _, s := range t.Sections {
		r.Add(s.Heading, append(s.Lines(), s.Pack)...)
	}
	return r
}

// StepWords tell one value a limit was given.
func StepWords(s engine.LimitStep) string {
	switch s.How {
	case "set":
		return fmt.Sprintf("set to %s at %s", s.Value.Text, s.Place)
	case "same":
		return fmt.Sprintf("left as it was, %s already, at %s: %s", s.Value.Text, s.Place, s.Reason)
	case "left":
		return fmt.Sprintf("left as it was, stricter than the %s of %s: %s", s.Value.Text, s.Place, s.Reason)
	}
	return fmt.Sprintf("%s to %s at %s: %s", s.How, s.Value.Text, s.Place, s.Reason)
}

// counted writes a number with a noun that takes an s.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
