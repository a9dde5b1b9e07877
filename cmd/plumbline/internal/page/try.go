package page

import (
	"io"
	"net/http"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/report"
	"plumbline/schema"
)

// tryBody is a change beside the job without it.
type tryBody struct {
	Head
	Card  *card
	Trial *trying
}

// trying is a change that is looked at.
type trying struct {
	ID, Job, Name string
	Before, After side
	Says          []string
	Same          bool
	Revision      int
}

// side is a job with or without the change.
type side struct {
	Word, Lead string
	Part       string
}

// tried shows a change beside the job: what was typed for a part, or a part of the shelf.
func (s *Server) tried(w http.ResponseWriter, r *http.Request) {
	job, view, ok := s.opened(w, r)
	if !ok {
		return
	}
	b := &tryBody{Head: s.headOf(r, view, "counter", nil)}
	path := r.FormValue("part")
	if path != "" {
		b.Card = s.cardOf(r, view, path, habitOf(r))
	}
	q := desk.Try{Line: r.FormValue("line")}
	switch {
	case r.FormValue("number") != "":
		q = desk.Try{Path: path, Part: r.FormValue("number")}
	case r.FormValue("answer") != "":
		q = desk.Try{Path: r.FormValue("path"), Answer: withUnit(r.FormValue("answer"), r.FormValue("unit"))}
	}
	f := frame{Title: "Try: " + b.Called, Page: "try", Body: b}
	if q == (desk.Try{}) {
		s.show(w, r, http.StatusOK, f)
		return
	}
	trial, err := job.Try(view.Revision, q)
	if err != nil {
		f.Wrong = wordsOf(err)
		b.Typed = r.Form
		s.show(w, r, statusOf(err), f)
		return
	}
	b.Trial = s.trialOf(trial, view, path)
	s.show(w, r, http.StatusOK, f)
}

func (s *Server) trialOf(t *desk.Trial, view *desk.View, path string) *trying {
	out := &trying{ID: t.ID, Job: view.Name, Name: t.Name, Revision: view.Revision}
	out.Before, out.After = sideOf(t.Before, path), sideOf(t.View, path)
	out.Says = saidBy(func(w io.Writer) error {
		return report.Difference(w, t.Before.Design, t.View.Design, &t.Changed.Difference, wideText)
	})
	return out
}

// sideOf is the verdict of a view, and that of one part of it.
func sideOf(view *desk.View, path string) side {
	slip := slipOf(view)
	out := side{Lead: sentence(view.Headline), Word: "YES"}
	switch {
	case slip != nil:
		out.Word = report.WordOf(slip.Answer)
	case isNo(view.Headline):
		out.Word = "NO"
	}
	if slip != nil {
		for i := range slip.Parts {
			if p := &slip.Parts[i]; schema.Path(path).Holds(schema.Path(p.Subject)) || p.Subject == path {
				out.Part = report.WordOf(p.Word) + ": " + sentence(report.PartText(p))
			}
		}
	}
	return out
}
