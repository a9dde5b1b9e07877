package engine

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// NotRead is what a region says of a topic whose law nobody read.
const NotRead = "not read"

// noneFound is what a region says of a topic on which a text that was read holds nothing: the day, and which text.
var noneFound = regexp.MustCompile(`^none found, \d{4}-\d{2}-\d{2}, \S`)

// TopicJudged is what a region's packs hold of a topic: rules, or what was found instead.
type TopicJudged struct {
	Topic pack.Topic `json:"topic"`
	// Rules of the region about it.
	Rules []string `json:"rules,omitempty"`
	// Without is "not read", or none found with the day and what was looked through.
	Without string `json:"without,omitempty"`
}

// checkTopics wants of every region of the library rules or a word on every topic, never both.
func (l *Library) checkTopics() document.Problems {
	var problems document.Problems
	for _, r := range l.Regions() {
		say := func(place schema.Place, format string, args ...any) {
			problems = append(problems, document.Problem{Place: place, Path: "region.without", Message: fmt.Sprintf(format, args...)})
		}
		for _, e := range r.Without {
			switch {
			case !slices.Contains(pack.Topics(), pack.Topic(e.Key)):
				near := document.Nearest(e.Key, pack.TopicNames())
				say(e.Place, "there is no topic %q; topics are %s", document.Cut(e.Key), strings.Join(pack.TopicNames(), ", "))
				problems[len(problems)-1].Suggest = near
			case len(l.rulesOn(r.Name, pack.Topic(e.Key))) > 0:
				say(e.Place, "%s has rules on %s: leave it out", r.Name, e.Key)
			case e.Value != NotRead && !noneFound.MatchString(e.Value):
				say(e.Place, "write %q, or %q", NotRead, "none found, 2026-11-27, what was looked through")
			}
		}
	}
	return problems
}

// rulesOn lists a region's own rules about a topic.
func (l *Library) rulesOn(region string, t pack.Topic) []string {
	var out []string
	for _, r := range l.rules {
		if slices.Contains(r.Pack.Regions, region) && r.Decl.Topic == t {
			out = append(out, r.ID)
		}
	}
	return out
}

// TopicsOf says what a region's packs hold of every topic. One that a region does not mention was not read.
func (l *Library) TopicsOf(region string) []TopicJudged {
	r := l.regions[region]
	if r == nil {
		return nil
	}
	var out []TopicJudged
	for _, t := range pack.Topics() {
		x := TopicJudged{Topic: t, Rules: l.rulesOn(region, t)}
		if len(x.Rules) == 0 {
			x.Without = NotRead
			if text, ok := r.Without.Get(string(t)); ok {
				x.Without = *text
			}
		}
		out = append(out, x)
	}
	return out
}
