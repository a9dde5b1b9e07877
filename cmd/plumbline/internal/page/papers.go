package page

import (
	"html/template"
	"io"
	"net/http"

	"plumbline/engine/report"
)

// papersBody lists the papers.
type papersBody struct {
	Head
	Papers []rest
}

func (s *Server) papers(w http.ResponseWriter, r *http.Request) {
	_, view, ok := s.opened(w, r)
	if !ok {
		return
	}
	b := &papersBody{Head: s.headOf(r, view, "papers", nil)}
	for _, k := range view.Papers() {
		b.Papers = append(b.Papers, rest{Label: k.Title, Link: "/paper/" + k.Name + "/" + b.File})
	}
	b.Papers = append(b.Papers, rest{Label: "The slip for the counter", Link: "/paper/slip/" + b.File})
	s.show(w, r, http.StatusOK, frame{Title: "Papers: " + b.Called, Page: "papers", Body: b})
}

// paperBody is one paper.
type paperBody struct {
	Head
	Paper template.HTML
	// Slip are the lines of the slip.
	Slip []string
}

func (s *Server) paper(w http.ResponseWriter, r *http.Request) {
	_, view, ok := s.opened(w, r)
	if !ok {
		return
	}
	b := &paperBody{Head: s.headOf(r, view, "paper", nil)}
	name := r.PathValue("name")
	if name == "slip" {
		b.Slip = saidBy(func(w io.Writer) error {
			p := report.NewPrinter(w, wideText.Width, false)
			report.Slip(p, view.Slip(), view.Report)
			return p.Flush()
		})
		s.show(w, r, http.StatusOK, frame{Title: "Slip: " + b.Called, Page: "paper", Body: b})
		return
	}
	paper := view.Paper(name)
	if paper == nil {
		s.fail(w, r, http.StatusNotFound, "There is no such paper.")
		return
	}
	b.Paper = template.HTML(report.PaperBody(paper))
	s.show(w, r, http.StatusOK, frame{Title: paper.Title + ": " + b.Called, Page: "paper", Body: b})
}
