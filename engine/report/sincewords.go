package report

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// mendedWords say in one line what was mended and how; nowhere is the place of
// what was not written, file the design where several are told of.
func (x *change) mendedWords(nowhere schema.Place, file string) (word, text string) {
	f := x.now
	if f == nil {
		f = x.was
	}
	text = strings.TrimSuffix(capital(clean(f.Title)), ".") + ": "
	switch {
	case x.now != nil:
		text += placeOf(f, nowhere) + " "
	case file != "":
		text += clean(file) + " "
	}
	text += factName(f.Subject)
	if f.SubjectName != "" {
		text += ", " + clean(f.SubjectName)
	}
	text += ". Before: " + x.before
	switch {
	case x.now == nil:
		word = "Gone"
		if f.Danger.Hurts() {
			text = dangerWords(f.Danger) + ": " + text
		}
	case f.Conceded != nil && x.since == isMended:
		word = "Conceded"
		text += fmt.Sprintf("; now %s, conceded by %s until %s (%s): %s", uncapital(OutcomeWord(f.Outcome)), clean(f.Conceded.By), clean(f.Conceded.Until),
			place(f.Conceded.Place), strings.TrimSuffix(clean(f.Conceded.Reason), "."))
	case x.since == isMilder:
		word = "In part"
		text += "; now " + uncapital(OutcomeWord(f.Outcome))
	case f.Outcome == engine.NotApplicable:
		word = "Mended"
		text += "; now it does not apply"
	default:
		word = "Mended"
		text += "; now met"
	}
	return word, text + ". Rule " + clean(f.Rule) + "."
}

// beforeWords say what findings were, each text once; "" when none was there, or all are as they were.
func beforeWords(list []*engine.Finding, was map[*engine.Finding]*change) string {
	var texts []string
	told := false
	for _, f := range list {
		text := was[f].before
		told = told || text != ""
		switch {
		case text == "" && was[f].since == isUnchanged:
			text = "the same"
		case text == "":
			text = "not there"
		}
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	if !told {
		return ""
	}
	return "Before: " + strings.Join(texts, "; ") + "."
}

// unchangedLine counts what is as it was.
func (c *Progress) unchangedLine() string {
	n := map[engine.Outcome]int{}
	total, held, stopping := 0, 0, 0
	for _, d := range c.designs {
		for i := range d.changes {
			if x := &d.changes[i]; x.since == isUnchanged {
				total++
				n[x.now.Outcome]++
				if x.now.Conceded != nil {
					held++
				}
				if x.now.Blocks && !x.dangerous() {
					stopping++
				}
			}
		}
	}
	if total == 0 {
		return "No finding is as it was."
	}
	text := fmt.Sprintf("%s as %s: %d wrong, %d not judged yet, %d doubtful", count(total, "finding is", "findings are"), verb(total, "it was", "they were"),
		n[engine.Fail], n[engine.Open], n[engine.Warn])
	if held > 0 {
		text += fmt.Sprintf("; %d conceded", held)
	}
	if stopping > 0 {
		text += fmt.Sprintf("; %d of them %s the job, but %s not new", stopping, verb(stopping, "stops", "stop"), verb(stopping, "is", "are"))
	}
	return text + "."
}
