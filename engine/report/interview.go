package report

import (
	"cmp"
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
	mostWaiting = 5
	// mostNames of the choices of a list stand in one line; more are told with their meaning, a line each.
	mostNames = 30
)

// Ask prints one question of an interview: what is asked and where to look, what is at stake, how the answer is written.
func Ask(p *Printer, q *interview.Question) {
	if len(q.Listed) > 0 {
		return
	}
	p.Blank()
	text, how := capital(clean(labelWords(q.Label))), lookWords(q)
	if how == "" || strings.HasSuffix(strings.ToLower(text), strings.ToLower(strings.TrimSuffix(how, "."))) {
		text += "?"
	} else {
		text += ": " + how
	}
	p.Para(0, indent, text)
	if stakes := stakesWords(q); stakes != "" {
		p.Para(indent, inner, stakes)
	}
	for _, line := range howWords(q) {
		p.Para(indent, inner, line)
	}
}

// labelWords are a label from the outside in, without what the inner one says itself.
func labelWords(label []string) string {
	var out []string
	for i, l := range label {
		if i+1 < len(label) && strings.Contains(strings.ToLower(strings.Join(label[i+1:], " ")), strings.ToLower(l)) {
			continue
		}
		out = append(out, l)
	}
	return strings.Join(out, ", ")
}

// lookWords say how to find the answer; of what the table of words does not know, what it means.
func lookWords(q *interview.Question) string {
	if q.Words != nil && q.Words.How != "" {
		return q.Words.How
	}
	return sentence(capital(meaningWords(q)))
}

// meaningWords say what is asked for, as the reference does.
func meaningWords(q *interview.Question) string {
	doc := docWords(q.Fact.Doc)
	doc, _, _ = strings.Cut(doc, "; an empty list states")
	return strings.ReplaceAll(doc, "`", "")
}

// stakesWords say who can be hurt where the answer is the wrong one, and when it can wait.
func stakesWords(q *interview.Question) string {
	var out []string
	if q.Danger.Hurts() {
		out = append(out, dangerWords(q.Danger)+".")
	}
	if q.Later != "" {
		out = append(out, "Not due before the job is "+stageWords(q.Later)+".")
	}
	return strings.Join(out, " ")
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
		return []string{"Is there one? Write yes, or none."}
	case interview.Whole:
		return []string{"Is that all of " + q.Whole + "? Write yes or no."}
	case interview.Count:
		return []string{"How many? Write a number, or none."}
	case interview.Items:
		text := "Write them one a line"
		switch {
		case q.Fact.Field.Part == "Run":
			text += ", each as it is printed, such as hose 3/8 in SAE J30 R9, or filter 10 um"
		case len(q.Choices) == 0 && such != "":
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
		text := "Write it " + strings.Replace(such, "such as", "like", 1)
		if q.Printed != "" {
			text += "; or both in one line: " + clean(q.Printed)
		}
		return []string{text + "."}
	}
	return nil
}

// choiceWords list the words with their numbers.
func choiceWords(q *interview.Question) []string {
	var words, told []string
	for i, c := range q.Choices {
		word := strconv.Itoa(i+1) + "=" + clean(cmp.Or(c.Said, c.Word))
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

// Reasons tell what a question means, where its answer is found, what is usual, and what stays open while it is not known:
// the worst dangers first, of a question that decides the numbers.
func Reasons(p *Printer, q *interview.Question) {
	if text := sentence(capital(meaningWords(q))); text != "" && (q.Words == nil || !strings.EqualFold(text, q.Words.How)) {
		p.Para(indent, inner, text)
	}
	if w := q.Words; w != nil {
		if where := w.Where.Words(); where != "" {
			p.Para(indent, inner, "Where to look: "+where+".")
		}
		if w.Normal != "" {
			p.Para(indent, inner, "Usual: "+w.Normal+".")
		}
	}
	list := slices.Clone(q.Rules)
	slices.SortStableFunc(list, func(a, b interview.Waiting) int {
		if q.Decides && a.Numeric != b.Numeric { // what decides is asked for its numbers
			return map[bool]int{true: -1, false: 1}[a.Numeric]
		}
		return a.Danger.Rank() - b.Danger.Rank()
	})
	if len(list) == 0 {
		p.Para(indent, inner, whyFree(q))
		return
	}
	text := "Not known: leave the line empty."
	if q.Words != nil && q.Words.Unknown != "" {
		text += " Then " + q.Words.Unknown + "."
	}
	p.Para(indent, inner, text+" It stays open whether")
	for i, w := range list {
		if i == mostWaiting && len(list) > i+1 {
			p.Para(inner, inner+2, fmt.Sprintf("and %d more.", len(list)-mostWaiting))
			break
		}
		text := uncapital(clean(w.Title))
		if w.Danger.Hurts() {
			text += " (" + uncapital(dangerWords(w.Danger)) + ")"
		}
		p.Para(inner, inner+2, text+end(i, len(list)))
	}
}

// end is what stands behind an item of a list of sentences.
func end(i, n int) string {
	if i == n-1 {
		return "."
	}
	return ";"
}

// Taken prints what an answer led to: why it is refused, or the dangers it brought to light with what to do.
func Taken(p *Printer, r interview.Reply) {
	for _, problem := range r.Problems {
		p.Para(indent, inner, sentence(clean(problem)))
	}
	if len(r.Offer) > 0 {
		p.Para(indent, inner, "With its unit: "+joined(cleaned(r.Offer), "or")+". The unit alone will do.")
	}
	if len(r.Heard) > 0 {
		var all []string
		for _, h := range r.Heard {
			all = append(all, clean(strings.TrimSpace(h.Label+" "+h.Value)))
		}
		p.Para(indent, inner, "Understood: "+strings.Join(all, "; ")+".")
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
		style := styleFail
		if f.Outcome == engine.Warn {
			style = styleWarn
		}
		p.Marked(indent, inner, OutcomeWord(f.Outcome)+":", style, text)
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
