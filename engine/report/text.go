package report

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// TextOptions shape the job sheet.
type TextOptions struct {
	// Width is the line length in characters; DefaultWidth when 0.
	Width int
	// Colour repeats outcome words in colour.
	Colour bool
	// Verbose also lists what passed, the facts behind each finding and every question.
	Verbose bool
	// Kept also tells at the end why designs could not be judged: for a report that is kept, while a terminal has shown it.
	Kept bool
}

// jobSheet prints the job sheet of one design.
type jobSheet struct {
	*Printer
	verbose bool
	report  *engine.Report
	// slip is that of a planned job.
	slip *sheet.Slip
	// slipped is set when the slip stands before the sheet.
	slipped bool
	// nowhere is the place of what was not written.
	nowhere schema.Place
	// told are the lines a part of a slip gets.
	told int
}

func (s *jobSheet) print() {
	list := numbered(parts(s.report))
	s.heading()
	for _, p := range list {
		s.part(p)
	}
	s.inDoubt()
	s.stopping(list)
	s.waiting(list)
	s.questions()
	s.assumptions()
	s.shelved()
	s.unread()
	s.loosened()
	if !s.slipped {
		s.overridden()
	}
	s.places()
	s.cautions(s.report.Cautions)
	s.Blank()
	s.Para(0, 0, tally(s.report))
}

// inDoubt prints what passed on figures that a measurement contradicts.
func (s *jobSheet) inDoubt() {
	for i, text := range doubted(s.report, s.verbose) {
		if i == 0 {
			s.Blank()
			s.Heading("In doubt")
		}
		s.Para(indent, inner, text)
	}
}

// heading says in one line what to do, in a second one which design it is about.
func (s *jobSheet) heading() {
	v, style := verdictOf(s.report, s.slip), styleBold
	if v.now+v.open > 0 || s.slip != nil && s.slip.Answer == sheet.No {
		style = styleFail
	}
	if head := capital(v.rest()) + "."; s.slipped {
		s.Para(0, 0, head)
	} else {
		s.Marked(0, 0, v.lead()+".", style, head)
	}
	where := clean(s.report.File)
	if s.report.Title != "" {
		where = clean(s.report.Title) + ", " + where
	}
	s.Para(0, 0, fmt.Sprintf("%s; the job is %s.", where, stageWords(s.report.Stage)))
}

// part prints what is wrong or doubtful with one part of the vehicle; nothing when there is nothing to say.
func (s *jobSheet) part(p *part) {
	list := p.told()
	met := p.with(engine.Pass)
	if len(list) == 0 && (!s.verbose || len(met) == 0) {
		return
	}
	s.Blank()
	s.Heading(capital(clean(p.name)))
	for _, e := range list {
		s.entry(e)
	}
	if s.verbose {
		s.met(met)
	}
}

const (
	indent = 2
	inner  = 4
)

// entry prints a failing or doubtful finding at length.
func (s *jobSheet) entry(e *entry) {
	style := styleFail
	if e.Outcome == engine.Warn {
		style = styleWarn
	}
	s.Blank()
	word := OutcomeWord(e.Outcome) + ":"
	if e.number > 0 {
		word = fmt.Sprintf("%d. %s", e.number, word)
	}
	s.Marked(indent, inner, word, style, toldWords(e))
	if n := Numbers(e.Finding); n != "" {
		s.Para(inner, inner+2, n+".")
	}
	s.Para(inner, inner+2, s.where(e.Finding))
	s.suspects(e)
	s.sameAt(e)
	if e.Remedy != "" {
		s.Para(inner, inner+2, "Do: "+sentence(e.Remedy))
	}
	s.Para(inner, inner+2, "Why: "+sentence(s.grounds(e.Because, e.Rule)))
	if text := confirmWords(s.report, e.Finding); text != "" {
		s.Para(inner, inner+2, text)
	}
	s.footing(e)
}

// footing prints what a reader needs to weigh the finding: assumptions,
// concession, when it stops the job, and the rule's name.
func (s *jobSheet) footing(e *entry) {
	if len(e.Assumed) > 0 {
		s.Para(inner, inner+2, "Rests on what was assumed: "+factNames(e.Assumed, 6)+".")
	}
	for _, text := range doubtWords(e.Finding) {
		s.Para(inner, inner+2, text)
	}
	if s.verbose {
		s.readings(e.Finding)
	}
	if c := e.Conceded; c != nil {
		s.Para(inner, inner+2, fmt.Sprintf("Conceded by %s until %s (%s): %s", clean(c.By), clean(c.Until), place(c.Place), sentence(c.Reason)))
	}
	rule := "Rule " + e.Rule
	if len(e.also) > 0 {
		rule += ", also " + strings.Join(e.also, ", ")
	}
	switch {
	case e.blocks():
		rule += "; stops the job."
	case e.Outcome == engine.Fail && e.Conceded == nil:
		rule += "; stops the job once it is " + stageWords(engine.StageBefore(e.Due)) + "."
	default:
		rule += "."
	}
	s.Para(inner, inner+2, rule)
}

// mostGrounds are how many grounds of a finding are told; the rest are counted.
const mostGrounds = 2

// grounds say why, the first grounds at length; name is what to have explained for the others.
func (s *jobSheet) grounds(list []engine.Ground, name string) string {
	more := len(list) - mostGrounds
	if s.verbose || more <= 0 {
		return groundsWords(list)
	}
	return groundsWords(list[:mostGrounds]) + fmt.Sprintf("; and %d more (plumbline explain %s)", more, name)
}

// sameAt lists the other subjects of an entry, a line each.
func (s *jobSheet) sameAt(e *entry) {
	if len(e.same) == 0 {
		return
	}
	s.Para(inner, inner+2, fmt.Sprintf("The same at %s:", count(len(e.same), "more place", "more places")))
	for _, f := range e.same {
		line := s.where(f)
		if n := Numbers(f); n != "" {
			line += ": " + n + "."
		} else if f.Text != e.Text {
			line += ": " + textWords(f)
		}
		s.Para(inner+2, inner+4, line)
		if f.Remedy != e.Remedy && f.Remedy != "" {
			s.Para(inner+4, inner+6, "Do: "+sentence(f.Remedy))
		}
	}
}

// readings lists the facts and derived values behind a finding.
func (s *jobSheet) readings(f *engine.Finding) {
	var parts []string
	for _, r := range f.Facts {
		parts = append(parts, fmt.Sprintf("%s is %s (%s)", factName(r.Path), clean(r.Text), place(r.Place)))
	}
	for _, d := range f.Derived {
		parts = append(parts, fmt.Sprintf("%s comes to %s", factName(d.Path), clean(d.Text)))
	}
	if len(parts) > 0 {
		s.Para(inner, inner+2, "From: "+strings.Join(parts, "; ")+".")
	}
}

// unread lists the stated facts that nothing read, when that was asked for.
func (s *jobSheet) unread() {
	if len(s.report.Unread) == 0 {
		return
	}
	s.Blank()
	s.Heading("Stated, and read by nothing here")
	for _, f := range s.report.Unread {
		s.Para(indent, inner, fmt.Sprintf("%s: %s (%s)", factName(f.Path), clean(f.Text), place(f.Place)))
	}
}

// met lists what passed, with its numbers.
func (s *jobSheet) met(list []*engine.Finding) {
	if len(list) == 0 {
		return
	}
	s.Blank()
	for _, f := range list {
		text := textWords(f)
		if f.SubjectName != "" && !strings.Contains(text, clean(f.SubjectName)) {
			text = clean(f.SubjectName) + ": " + text
		}
		if n := Numbers(f); n != "" {
			text += " " + n + "."
		}
		text += " Rule " + f.Rule + "."
		for _, doubt := range doubtWords(f) {
			text += " " + doubt
		}
		if words := confirmWords(s.report, f); words != "" {
			text += " " + words
		}
		s.Marked(indent, inner, OutcomeWord(engine.Pass)+":", "", text)
	}
}

// tally is the one-line sum of outcomes.
func tally(r *engine.Report) string {
	text := fmt.Sprintf("To mend: %d; doubtful: %d; not judged yet: %d; in order: %d; not for this vehicle: %d",
		r.Count(engine.Fail), r.Count(engine.Warn), r.Count(engine.Open), r.Count(engine.Pass), r.Count(engine.NotApplicable))
	if n := conceded(r); n > 0 {
		text += fmt.Sprintf("; %d conceded", n)
	}
	return text + "."
}

func conceded(r *engine.Report) int {
	n := 0
	for i := range r.Findings {
		if r.Findings[i].Conceded != nil {
			n++
		}
	}
	return n
}

// place is file:line, as editors and terminals link it.
func place(p schema.Place) string {
	if p.Line == 0 {
		return clean(p.File)
	}
	return fmt.Sprintf("%s:%d", clean(p.File), p.Line)
}

// placeOf is where to look for what a finding is about: the file alone when it was not written.
func placeOf(f *engine.Finding, nowhere schema.Place) string {
	if f.Place == nowhere {
		return clean(f.Place.File)
	}
	return place(f.Place)
}

// where says where to look: file:line, the subject and its name.
func (s *jobSheet) where(f *engine.Finding) string {
	text := placeOf(f, s.nowhere) + " " + factName(f.Subject)
	if f.SubjectName != "" {
		text += ", " + clean(f.SubjectName)
	}
	return text
}
