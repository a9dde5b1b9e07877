package report

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/engine/sheet"
)

// slipOf is the slip of a job that is only planned; nil for any other.
func slipOf(x *Item) *sheet.Slip {
	if x.Design == nil || x.Report.Stage != "planned" {
		return nil
	}
	return sheet.SlipOf(x.Design, x.Report, x.Sizes)
}

// Slip prints the slip of a job that is planned, as far as it is known.
func Slip(p *Printer, x *sheet.Slip, r *engine.Report) {
	(&jobSheet{Printer: p, report: r, slip: x}).printSlip()
}

// Headline is the first line of a slip or job sheet, without a stop at its end: may the next step be taken. Slip is that of a job that
// is planned, nil for any other.
func Headline(r *engine.Report, slip *sheet.Slip) string { return verdictOf(r, slip).lead() }

// printSlip prints the answer for the counter.
func (s *jobSheet) printSlip() {
	x, style := s.slip, styleBold
	if x.Answer == sheet.No {
		style = styleFail
	}
	s.Marked(0, 0, slipLead(x)+".", style, "")
	s.slipParts()
	s.overridden()
}

// slipParts prints what stands below the answer of a slip.
func (s *jobSheet) slipParts() {
	x := s.slip
	about := clean(x.Vehicle)
	if about != "" {
		about += "; "
	}
	s.Para(0, 0, s.cut(1, 0, about+clean(s.report.File)))
	for i, d := range x.Doubts {
		if i == mostDoubts {
			s.Tagged(slipIndent, "", "", fmt.Sprintf("And %s more.", count(len(x.Doubts)-i, "doubt", "doubts")))
			break
		}
		s.Tagged(slipIndent, "LOOK", styleBold, s.cut(2, slipIndent, DoubtText(&d)))
	}
	var quiet []string
	room, full := mostFine, s.crowded(x)
	if full {
		room = 0
	}
	for i := range x.Parts {
		switch p := &x.Parts[i]; {
		case p.Word != sheet.OK:
			s.slipPart(p)
		case !p.Headline || room == 0:
			quiet = append(quiet, clean(p.Name))
		case p.Do == "":
			room--
			s.Tagged(slipIndent, "OK", "", s.cut(2, slipIndent, fineWords(p)))
		default:
			room--
			s.slipPart(p)
		}
	}
	if more := len(quiet) - mostQuiet; more > 0 {
		quiet = append(quiet[:mostQuiet:mostQuiet], fmt.Sprintf("%d more", more))
	}
	if len(quiet) > 0 {
		s.Tagged(slipIndent, "OK", "", s.cut(2, slipIndent, "Nothing against "+strings.Join(quiet, ", ")+"."))
	}
	if len(x.Add) > 0 {
		lines := 3
		if full {
			lines = 2
		}
		s.Tagged(slipIndent, "ADD", styleBold, s.listed(lines, slipIndent, x.Add))
	}
	for i, a := range x.Ask {
		word := ""
		if i == 0 {
			word = "?"
		}
		s.Tagged(slipIndent, word, styleBold, s.cut(1, slipIndent, fmt.Sprintf("%d. %s", i+1, clean(a.Question))))
	}
	for _, part := range s.report.Shelved {
		for _, k := range part.Kept {
			s.Para(0, 0, s.cut(1, 0, s.kept(part, k)+"."))
		}
	}
	if len(x.NotLooked) > 0 {
		s.Para(0, 0, s.cut(1, 0, "Nobody looked at: "+strings.Join(x.NotLooked, ", ")+"."))
	}
	if s.verbose {
		s.Blank()
		return // all of it follows
	}
	s.Para(0, 0, "All of it: plumbline check --verbose "+clean(s.report.File))
	s.Para(0, 0, LocalCodes)
}

const (
	slipIndent = 5
	// mostFine are the parts that are right whose number is told, mostQuiet those that are only named.
	mostFine, mostQuiet = 5, 12
	// mostDoubts are the doubts that are told, the rest are counted.
	mostDoubts = 2
)

// DoubtText says what does not add up, the one fact that explains it first, and what was perhaps meant.
func DoubtText(d *sheet.Puzzle) string {
	text := sentence(firstSentence(d.Text))
	if d.Name != "" {
		text = clean(d.Name) + ": " + text
	}
	if len(d.Perhaps) > 0 {
		text += " Perhaps " + strings.Join(cleaned(d.Perhaps), ", or ") + "?"
	}
	return text
}

// slipLead answers the question of the stage.
func slipLead(x *sheet.Slip) string {
	n, asks := 0, 0
	for _, p := range x.Parts {
		switch p.Word {
		case sheet.No:
			n++
		case sheet.Asks:
			asks++
		}
	}
	switch x.Answer {
	case sheet.No:
		return fmt.Sprintf("Do not order: %s wrong", count(n, "part is", "parts are"))
	case sheet.Yes:
		return "Nothing stands against ordering what is named"
	}
	var why []string
	if asks > 0 {
		why = append(why, count(asks, "part depends", "parts depend")+" on what is not known")
	}
	if len(x.Add) > 0 {
		why = append(why, count(len(x.Add), "thing is", "things are")+" missing")
	}
	if len(x.Doubts) > 0 {
		why = append(why, count(len(x.Doubts), "thing does", "things do")+" not add up")
	}
	if len(why) == 0 {
		return "Not ready to order: nothing is known that could be judged"
	}
	return "Not ready to order: " + strings.Join(why, ", ")
}

// crowded reports whether so much is wrong or asked that the rest must be short, and sets how many lines a part gets.
func (s *jobSheet) crowded(x *sheet.Slip) bool {
	n := 0
	for _, p := range x.Parts {
		if p.Word != sheet.OK {
			n++
		}
	}
	s.told = 3
	if n >= 3 {
		s.told = 2
	}
	return n >= 3
}

// rows are how many rows of the paper some lines of a wide one take.
func (s *jobSheet) rows(lines, indent int) int {
	return max(lines, (lines*(widePaper-indent)+s.width-indent-1)/max(1, s.width-indent))
}

// widePaper is the width for which lines are counted.
const widePaper = 80

// cut ends a text at a word so that it fills no more than some lines. What to do is never cut: half an instruction misleads.
func (s *jobSheet) cut(lines, indent int, text string) string {
	all := wrap(text, s.width-indent, s.width-indent)
	lines = s.rows(lines, indent)
	if len(all) <= lines {
		return text
	}
	const more = " ..."
	last := pieces(all[lines-1])
	for len(last) > 1 && utf8.RuneCountInString(strings.Join(last, " "))+len(more) > s.width-indent {
		last = last[:len(last)-1]
	}
	return strings.Join(append(all[:lines-1:lines-1], strings.TrimRight(strings.Join(last, " "), ",;:")+more), " ")
}

// slipPart prints a part that is wrong, depends, or is right with a doubt.
func (s *jobSheet) slipPart(p *sheet.Part) {
	word, style := WordOf(p.Word), styleBold
	if p.Word == sheet.No {
		style = styleFail
	}
	text := PartText(p)
	if p.Word != sheet.No {
		text = s.cut(s.told, slipIndent, text)
	}
	s.Tagged(slipIndent, word, style, text)
	if do := PartDo(p); do != "" {
		s.Para(slipIndent, slipIndent+3, "-> "+do)
	}
}

// WordOf is a verdict as it is printed.
func WordOf(w sheet.Word) string {
	return map[sheet.Word]string{sheet.No: "NO", sheet.Asks: "ASK", sheet.OK: "OK", sheet.Yes: "YES"}[w]
}

// PartDo is what to do about a part of a slip; "" for nothing.
func PartDo(p *sheet.Part) string { return sentence(withSizes(doWords(p.Do), p.Instead)) }

// PartText says why a part is wrong, depends, or is right with a doubt: what it is called, what is printed on it, the deciding number.
func PartText(p *sheet.Part) string {
	danger := pack.Danger(p.Danger)
	because := clause(p.Text)
	if p.Word == sheet.No {
		because = strings.TrimSuffix(firstSentence(p.Text), ": "+danger.Words()) // it is said before
	}
	if p.Holds != "" && p.Holds != sheet.Whatever {
		because = p.Holds + ", " + uncapital(because) // what rests on usual values says so
	}
	if p.Word == sheet.No && danger.Grave() {
		because = "danger of " + danger.Words() + ": " + uncapital(because)
	}
	text := partWords(p) + ": " + because
	if t := p.Turn; t != nil {
		text += fmt.Sprintf("; right with %s %s %s", uncapital(clean(t.Name)), strings.ReplaceAll(t.Right, "_", " "), t.At)
	}
	if p.More > 0 {
		text += fmt.Sprintf("; and %d more", p.More)
	}
	return text + "."
}

// fineWords say in a line that a part is right, with its margin and how far that holds.
func fineWords(p *sheet.Part) string {
	text := partWords(p)
	if p.Holds != "" {
		text += ", " + p.Holds
	}
	return text + ": " + uncapital(clause(p.Text)) + "."
}

// partWords are what a part is called, with what is printed on it.
func partWords(p *sheet.Part) string {
	text := clean(p.Name)
	if len(p.Stated) > 0 {
		text += " (" + strings.Join(cleaned(p.Stated), ", ") + ")"
	}
	return text
}

// listed names what is to be added, thing by thing, as many as some lines hold.
func (s *jobSheet) listed(lines, indent int, list []sheet.Wanted) string {
	text, rows := "", s.rows(lines, indent)
	for i, w := range list {
		next := capital(doWords(w.Do)) + "."
		if text != "" {
			next = text + " " + next
		}
		more := fmt.Sprintf(" And %d more.", len(list)-i-1)
		if i+1 == len(list) {
			more = ""
		}
		if i > 0 && len(wrap(next+more, s.width-indent, s.width-indent)) > rows {
			return text + fmt.Sprintf(" And %d more.", len(list)-i)
		}
		text = next
	}
	return text
}

// clause is the first statement of a sentence: what is, before what then happens.
func clause(text string) string {
	text, _, _ = strings.Cut(firstSentence(text), "; ")
	return text
}

// firstSentence is the first sentence of a text, without its stop.
func firstSentence(text string) string {
	text, _, _ = strings.Cut(clean(text), ". ")
	return strings.TrimSuffix(text, ".")
}

// before are sentences that come before the work.
var before = regexp.MustCompile(`^(Engine off|Stop the engine|Key off|Turn the key off)[^.]*\. `)

// doWords are what to do: the first sentence of it, whole, with what comes before the work.
func doWords(text string) string {
	text = clean(text)
	at := len(before.FindString(text))
	if end := strings.Index(text[at:], ". "); end >= 0 {
		text = text[:at+end]
	}
	return strings.TrimSuffix(text, ".")
}
