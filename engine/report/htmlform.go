package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/drawing"
	"plumbline/engine/sheet"
)

// htmlForm writes one page that holds everything: the verdict first, then what is wrong by part of the vehicle, the drawings,
// and what is assumed and open.
type htmlForm struct {
	options TextOptions
	about   About
	designs int
}

// Head begins the page.
func (h *htmlForm) Head(w io.Writer) error {
	_, err := io.WriteString(w, pageHead("Report of a conversion")+"<main>\n")
	return err
}

// Piece is the part of the page about one design.
func (h *htmlForm) Piece(x Item) any {
	p := &page{}
	if x.Report == nil {
		p.el("h1", "", x.Name+": not judged")
		p.problems(&x)
		return p.String()
	}
	s := &jobSheet{Printer: pagePrinter(p), report: x.Report, slip: slipOf(&x), nowhere: nowhere(x.Report)}
	list := numbered(parts(x.Report))
	h.verdict(p, s, &x)
	h.contents(p, s, list)
	if s.slip != nil {
		s.Heading("Part by part, as far as it is known")
		p.WriteString(`<div class="slip">` + "\n")
		s.verbose = true // nothing is left to other commands
		s.slipParts()
		s.verbose = h.options.Verbose
		p.WriteString("</div>\n")
	}
	for _, part := range list {
		h.part(p, s, part)
	}
	s.inDoubt()
	for _, paper := range x.Papers {
		h.drawings(p, paper)
	}
	s.stopping(list)
	s.waiting(list)
	h.leanings(p, list)
	s.questions()
	s.assumptions()
	s.shelved()
	s.loosened()
	s.overridden()
	s.places()
	s.cautions(s.report.Cautions)
	p.WriteString("<footer>\n")
	p.el("p", "", tally(x.Report))
	p.el("p", "", h.made(x.Report))
	p.WriteString("</footer>\n")
	return p.String()
}

// made says what the page was made with.
func (h *htmlForm) made(r *engine.Report) string {
	text := clean(r.File)
	if h.about.Version != "" {
		text += " · plumbline " + h.about.Version
	}
	if len(h.about.Digest) > 12 {
		text += " · rule library " + h.about.Digest[:12]
	}
	return text + ". " + LocalCodes
}

// Add writes one design.
func (h *htmlForm) Add(w io.Writer, piece any) error {
	text := piece.(string)
	if h.designs++; h.designs > 1 {
		text = `<hr class="next">` + "\n" + text
	}
	_, err := io.WriteString(w, unique(text, h.designs))
	return err
}

// Tail ends the page.
func (h *htmlForm) Tail(w io.Writer) error {
	_, err := io.WriteString(w, "</main>\n"+pageTail)
	return err
}

// unique sets the number of the design into the names within its part of the page.
func unique(text string, n int) string { return strings.ReplaceAll(text, designMark, strconv.Itoa(n)) }

// designMark stands in names for the number of the design; no text of a design holds it, since it cannot be printed.
const designMark = "\x00"

// verdict says first whether the next step may be taken.
func (h *htmlForm) verdict(p *page, s *jobSheet, x *Item) {
	v := verdictOf(s.report, s.slip)
	title := s.report.Title
	if title == "" {
		title = s.report.File
	}
	p.el("h1", "", title)
	for _, problem := range x.problems() {
		p.worded("stop", "Not all is judged:", problemWords(&problem))
	}
	p.WriteString(`<div class="verdict">` + "\n")
	class := "lead"
	if v.now+v.open > 0 || s.slip != nil && s.slip.Answer == sheet.No {
		class = "lead stop"
	}
	p.el("p", `class="`+class+`"`, v.lead()+".")
	p.el("p", "", capital(v.rest())+".")
	p.el("p", `class="small"`, clean(s.report.File)+"; the job is "+stageWords(s.report.Stage)+".")
	p.WriteString("</div>\n")
}

// contents link to each finding, so that a keyboard reaches all of them.
func (h *htmlForm) contents(p *page, s *jobSheet, list []*part) {
	var links []string
	for _, part := range list {
		for _, e := range part.told() {
			links = append(links, fmt.Sprintf(`<li value="%d"><a href="#%s">%s</a></li>`, e.number, findingID(e), htmlText(OutcomeWord(e.Outcome)+": "+capital(clean(part.name))+", "+uncapital(clause(e.Text)))))
		}
	}
	if len(links) > 0 {
		p.WriteString("<nav aria-label=\"What was found\">\n<ol>\n" + strings.Join(links, "\n") + "\n</ol>\n</nav>\n")
	}
}

func findingID(e *entry) string { return "d" + designMark + "-f" + strconv.Itoa(e.number) }

// part tells what is wrong or doubtful with one part of the vehicle.
func (h *htmlForm) part(p *page, s *jobSheet, x *part) {
	told := x.told()
	if len(told) == 0 {
		return
	}
	p.el("h2", "", capital(clean(x.name)))
	for _, e := range told {
		h.finding(p, s, e)
	}
}

// finding tells one finding: what is, the number against its limit, what to do, why, where.
func (h *htmlForm) finding(p *page, s *jobSheet, e *entry) {
	class := "finding"
	if e.Outcome == engine.Fail {
		class += " wrong"
	}
	id := findingID(e)
	p.WriteString(`<article class="` + class + `" aria-labelledby="` + id + `">` + "\n")
	p.WriteString(`<h3 id="` + id + `" tabindex="-1"><span class="word">` + strconv.Itoa(e.number) + ". " + htmlText(OutcomeWord(e.Outcome)) + ":</span> " + htmlText(toldWords(e)) + "</h3>\n")
	if svg := drawing.Scale(e.Finding, id+"-s"); svg != "" {
		p.WriteString("<figure>" + svg)
		p.el("figcaption", `class="small"`, Numbers(e.Finding)+".")
		p.WriteString("</figure>\n")
	}
	if e.Remedy != "" {
		p.worded("do", "Do:", sentence(e.Remedy))
	}
	p.worded("", "Where:", s.where(e.Finding)+".")
	s.suspects(e)
	s.sameAt(e)
	p.worded("", "Why:", sentence(groundsWords(e.Because)))
	if text := confirmWords(s.report, e.Finding); text != "" {
		p.el("p", "", text)
	}
	s.footing(e)
	p.WriteString("</article>\n")
}

// leanings tell how what is open would come out with what is usual of what nobody stated, the bad first.
func (h *htmlForm) leanings(p *page, list []*part) {
	begun := false
	for _, x := range list {
		for _, f := range x.with(engine.Open) {
			if f.Leaning == nil || f.Leaning.Lean == engine.WouldPass {
				continue
			}
			if !begun {
				p.el("h2", "", "How it leans")
				p.el("p", "", "Nothing here is decided: it is what would be found with what is usual of what nobody stated.")
				begun = true
			}
			p.worded("", capital(clean(x.name))+":", sentence(clean(LeaningWords(f.Leaning))))
		}
	}
}

// drawings puts a paper into the page.
func (h *htmlForm) drawings(p *page, paper *sheet.Paper) {
	p.el("h2", "", paper.Title)
	p.el("p", "", paper.Use)
	for i := range paper.Blocks {
		b, id := &paper.Blocks[i], "d"+designMark+"-"+paper.Name+strconv.Itoa(i+1)
		if i > 0 && b.Table != nil && b.Chart == nil && b.Bars == nil { // what is drawn above, in figures
			p.folded(b)
			continue
		}
		p.block(b, "h3", id)
	}
}

// problems say why a design could not be judged.
func (p *page) problems(x *Item) {
	p.WriteString("<ul>\n")
	list := x.problems()
	for i := range list {
		p.el("li", "", problemWords(&list[i]))
	}
	p.WriteString("</ul>\n")
}

// worded writes a paragraph that begins with a word of weight.
func (p *page) worded(class, word, text string) {
	p.WriteString("<p")
	if class != "" {
		p.WriteString(` class="` + class + `"`)
	}
	p.WriteString(`><span class="word">` + htmlText(word) + "</span> " + htmlText(text) + "</p>\n")
}
