package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/schema"
)

const (
	// mostWaiting are how many rules that wait for an answer are named.
	mostWaiting = 12
	// mostNames of the choices of a list stand in one line; more are told with their meaning, a line each.
	mostNames = 30
)

// Ask prints one question of an interview: what is asked, what is at stake, how the answer is written.
func Ask(p *Printer, q *interview.Question) {
	if len(q.Listed) > 0 {
		return
	}
	p.Blank()
	text := capital(clean(strings.Join(q.Label, ", ")))
	doc := docWords(q.Fact.Doc)
	doc, _, _ = strings.Cut(doc, "; an empty list states")
	if doc != "" {
		text += ": " + strings.ReplaceAll(doc, "`", "")
	}
	p.Para(0, indent, sentence(text))
	if stakes := stakesWords(q); stakes != "" {
		p.Para(indent, inner, stakes)
	}
	for _, line := range howWords(q) {
		p.Para(indent, inner, line)
	}
}

// stakesWords say what an answer is good for, and when it can wait.
func stakesWords(q *interview.Question) string {
	if len(q.Rules) == 0 {
		return ""
	}
	text := count(len(q.Rules), "rule waits", "rules wait") + " for it"
	if q.Danger.Hurts() {
		text = dangerWords(q.Danger) + "; " + text
	}
	if q.Later != "" {
		text += "; not due before the job is " + stageWords(q.Later)
	}
	return text + "."
}

// howWords say how the answer is written.
func howWords(q *interview.Question) []string {
	such := ""
	if len(q.Examples) > 0 {
		such = "such as " + joined(cleaned(q.Examples), "or")
	}
	choices := choiceWords(q)
	switch q.Form {
	case interview.Presence:
		return []string{"Is there one? Write yes or none."}
	case interview.Whole:
		return []string{"Is that all of " + q.Whole + "? Write yes or no."}
	case interview.Count:
		return []string{"How many? Write a number, or none."}
	case interview.Items:
		text := "Write them one a line"
		if len(q.Choices) == 0 && such != "" {
			text += ", " + such
		}
		text += "; an empty line ends the list, none says there are none"
		if len(q.Choices) > 0 {
			text += ". Each a word or its number"
		}
		out := append([]string{text + "."}, choices...)
		if q.Standing != "" {
			out = append(out, "While nothing is written, "+clean(q.Standing)+" holds.")
		}
		return out
	}
	switch {
	case len(q.Choices) > 0:
		out := append([]string{"Write one of these words or its number."}, choices...)
		if q.Standing != "" {
			out = append(out, "While nothing is written, it counts as "+clean(q.Standing)+".")
		}
		return out
	case q.Fact.Field.Kind == schema.KindBool:
		return []string{"Write yes or no."}
	case such != "":
		return []string{"Write it " + strings.Replace(such, "such as", "like", 1) + "."}
	}
	return nil
}

// choiceWords list the words with their numbers.
func choiceWords(q *interview.Question) []string {
	var words, told []string
	for i, c := range q.Choices {
		word := strconv.Itoa(i+1) + "=" + clean(c.Word)
		words = append(words, word)
		if c.Meaning != "" {
			word += ": " + clean(c.Meaning)
		}
		told = append(told, word)
	}
	switch {
	case len(words) == 0:
		return nil
	case slices.Equal(words, told), len(words) > mostNames:
		return []string{strings.Join(words, ", ")}
	}
	return told
}

// whyFree says why something is asked that no rule waits for.
func whyFree(q *interview.Question) string {
	switch q.Path {
	case "design.regions":
		return "It decides which rules of a place hold; without it none of them is looked at."
	case "design.stage":
		return "It decides what stops the job: what is due later does not stop it yet."
	}
	return "No rule waits for it; it heads every report."
}

// Reasons print the rules that wait for an answer, the worst dangers first.
func Reasons(p *Printer, q *interview.Question) {
	list := slices.Clone(q.Rules)
	slices.SortStableFunc(list, func(a, b interview.Waiting) int {
		return a.Danger.Rank() - b.Danger.Rank()
	})
	if len(list) == 0 {
		p.Para(indent, inner, whyFree(q))
		return
	}
	for i, w := range list {
		if i == mostWaiting {
			p.Para(indent, inner, fmt.Sprintf("And %d more.", len(list)-mostWaiting))
			break
		}
		text := capital(clean(w.Title))
		if danger := dangerWords(w.Danger); danger != "" {
			text = danger + ": " + text
		}
		p.Para(indent, inner, sentence(text)+" Rule "+w.Rule+".")
	}
}

// Taken prints what an answer led to: why it is refused, or the dangers it brought to light with what to do.
func Taken(p *Printer, r interview.Reply) {
	for _, problem := range r.Problems {
		p.Para(indent, inner, sentence(clean(problem)))
	}
	if len(r.Offer) > 0 {
		p.Para(indent, inner, "With its unit: "+joined(cleaned(r.Offer), "or")+".")
	}
	told := map[string]bool{}
	for _, f := range r.Failed {
		text := foundWords(f)
		if told[text] {
			continue
		}
		told[text] = true
		if f.Remedy != "" {
			text += " Do: " + sentence(f.Remedy)
		}
		p.Marked(indent, inner, OutcomeWord(engine.Fail)+":", styleFail, text)
	}
}

// Outline prints a design in short: how far it is, how much is settled, and what is wrong, a line each.
func Outline(p *Printer, r *engine.Report) {
	rules, waiting := map[string]bool{}, map[string]bool{}
	for i := range r.Findings {
		f := &r.Findings[i]
		rules[f.Rule] = true
		if f.Outcome == engine.Open {
			waiting[f.Rule] = true
		}
	}
	where := clean(r.File)
	if r.Title != "" {
		where = clean(r.Title) + ", " + where
	}
	p.Para(0, 0, fmt.Sprintf("%s; the job is %s. %d of %s settled.", where, stageWords(r.Stage), len(rules)-len(waiting), count(len(rules), "rule is", "rules are")))
	v := verdictOf(r, nil)
	p.Para(0, 0, v.lead()+". "+capital(v.rest())+".")
	for _, part := range parts(r) {
		for _, e := range entries(part.with(engine.Fail)) {
			if e.Conceded != nil {
				continue
			}
			text := foundWords(e.Finding)
			if len(e.same) > 0 {
				text += fmt.Sprintf(" The same at %s.", count(len(e.same), "more place", "more places"))
			}
			p.Marked(indent, inner, OutcomeWord(engine.Fail)+":", styleFail, text)
		}
	}
}
