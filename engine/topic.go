package engine

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/document"
)

// Topic is a matter that the law of a place may settle.
type Topic string

// topics are those every region is asked about, with what each is about.
var topics = []struct {
	name  Topic
	words string
}{
	{"tampering", "kept emission equipment"},
	{"crankcase", "crankcase"},
	{"evaporative", "fuel vapour"},
	{"exhaust_limits", "exhaust limits"},
	{"noise", "noise"},
	{"fuel_system", "fuel system"},
	{"electrical", "electrics"},
	{"parts_approval", "approval of parts"},
	{"certificate", "certificate"},
	{"fitter", "fitter's duties"},
	{"seller", "seller's duties"},
	{"notices", "who is told"},
	{"historic", "historic status"},
}

// Topics lists the matters every region is asked about.
func Topics() []Topic {
	var out []Topic
	for _, t := range topics {
		out = append(out, t.name)
	}
	return out
}

// Words say what a topic is about.
func (t Topic) Words() string {
	for _, x := range topics {
		if x.name == t {
			return x.words
		}
	}
	return string(t)
}

// NotRead is what a region says of a topic whose law nobody read.
const NotRead = "not read"

// noneFound is what a region says of a topic on which a text that was read holds nothing: the day, and which text.
var noneFound = regexp.MustCompile(`^none found, \d{4}-\d{2}-\d{2}, \S`)

// TopicJudged is what a region's packs hold of a topic: rules, or what was found instead.
type TopicJudged struct {
	Topic Topic `json:"topic"`
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
			case !slices.Contains(Topics(), Topic(e.Key)):
				near := document.Nearest(e.Key, topicNames())
				say(e.Place, "there is no topic %q; topics are %s", document.Cut(e.Key), strings.Join(topicNames(), ", "))
				problems[len(problems)-1].Suggest = near
			case len(l.rulesOn(r.Name, Topic(e.Key))) > 0:
				say(e.Place, "%s has rules on %s: leave it out", r.Name, e.Key)
			case e.Value != NotRead && !noneFound.MatchString(e.Value):
				say(e.Place, "write %q, or %q", NotRead, "none found, 2026-11-27, what was looked through")
			}
		}
	}
	return problems
}

func topicNames() []string {
	var out []string
	for _, t := range Topics() {
		out = append(out, string(t))
	}
	return out
}

// rulesOn lists a region's own rules about a topic.
func (l *Library) rulesOn(region string, t Topic) []string {
	var out []string
	for _, r := range l.rules {
		if slices.Contains(r.pack.Regions, region) && r.decl.Topic == t {
			out = append(out, r.id)
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
	for _, t := range Topics() {
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
