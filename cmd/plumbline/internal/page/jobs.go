package page

import (
	"errors"
	"net/http"
	"net/url"
	"strings"
	"unicode"
	"unicode/utf8"

	"plumbline/cmd/plumbline/internal/desk"
)

// jobsBody is the list of the folder, and what a new job may begin with.
type jobsBody struct {
	Jobs      []listed
	Ways      []desk.Way
	Templates []string
	// Typed is what was typed for a new job that was not begun.
	Typed url.Values
}

// listed is one job of the list.
type listed struct {
	desk.Listed
	// Link leads to it, Called is its title or file, Word its verdict in a word.
	Link, Called, Word string
	// Wrong says why it cannot be judged.
	Wrong string
}

// list shows the jobs of the folder.
func (s *Server) list(w http.ResponseWriter, r *http.Request) {
	s.listWith(w, r, http.StatusOK, nil, nil)
}

func (s *Server) listWith(w http.ResponseWriter, r *http.Request, status int, typed url.Values, wrong []string) {
	jobs, err := s.Desk.Jobs()
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, "The folder cannot be listed: "+err.Error())
		return
	}
	body := jobsBody{Ways: s.Desk.Patterns(), Typed: typed}
	for _, j := range jobs {
		one := listed{Listed: j, Link: "/job/" + escapedFile(j.Name), Called: j.Title, Word: "ASK"}
		if one.Called == "" {
			one.Called = j.Name
		}
		switch {
		case len(j.Problems) > 0:
			one.Word, one.Wrong = "NOT READ", problemText(j.Problems[0])
		case strings.HasPrefix(j.Headline, "Nothing stands against"):
			one.Word = "YES"
		case j.Blocking > 0 || isNo(j.Headline):
			one.Word = "NO"
		}
		body.Jobs = append(body.Jobs, one)
		body.Templates = append(body.Templates, j.Name)
	}
	s.show(w, r, status, frame{Title: "Jobs", Page: "jobs", Body: body, Wrong: wrong})
}

// isNo reports whether a headline forbids the next step outright.
func isNo(headline string) bool {
	for _, no := range []string{"Do not order", "Do not build", "Do not start", "Do not hand", "Call it back"} {
		if rest, ok := strings.CutPrefix(headline, no); ok {
			return !strings.Contains(rest, " yet:")
		}
	}
	return false
}

// begin makes a new job of what was typed.
func (s *Server) begin(w http.ResponseWriter, r *http.Request) {
	if !s.parse(w, r) {
		return
	}
	text := func(key string) string { return strings.TrimSpace(r.PostFormValue(key)) }
	b := desk.Beginning{Title: text("title"), Template: text("template"), Pattern: text("pattern"), Lines: text("lines")}
	if b.Template != "" && (b.Pattern != "" || b.Lines != "") || b.Pattern != "" && b.Lines != "" {
		s.listWith(w, r, http.StatusUnprocessableEntity, r.PostForm, []string{"Begin with one of these: a way, another job, or a list."})
		return
	}
	job, heard, left, err := s.Desk.Begin(b)
	if err != nil {
		s.listWith(w, r, statusOf(err), r.PostForm, wordsOf(err))
		return
	}
	to := "/job/" + escapedFile(job.Name())
	if len(heard)+len(left) > 0 {
		to += "?done=" + s.done.put(&told{Job: job.Name(), Name: "begun", Heard: heard, Left: left})
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// parse reads a form; false when it was too large or no form, and that was said.
func (s *Server) parse(w http.ResponseWriter, r *http.Request) bool {
	err := r.ParseForm()
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		s.fail(w, r, http.StatusRequestEntityTooLarge, "That is more than is taken at once.")
	case err != nil:
		s.fail(w, r, http.StatusBadRequest, "What was sent cannot be read.")
	}
	return err == nil
}

// opened is the job of an address; false when there is none, and that was said.
func (s *Server) opened(w http.ResponseWriter, r *http.Request) (*desk.Job, *desk.View, bool) {
	job, err := s.Desk.Job(r.PathValue("file"))
	if err == nil {
		var view *desk.View
		if view, err = job.View(); err == nil {
			return job, view, true
		}
	}
	text := strings.Join(wordsOf(err), " ")
	s.fail(w, r, statusOf(err), text)
	return nil, nil, false
}

// statusOf is the status of an answer that tells of an error of the desk.
func statusOf(err error) int {
	var refused *desk.Refused
	var conflict *desk.Conflict
	var unreadable *desk.Unreadable
	switch {
	case errors.Is(err, desk.ErrNoJob):
		return http.StatusNotFound
	case errors.As(err, &conflict), errors.Is(err, desk.ErrStale):
		return http.StatusConflict
	case errors.As(err, &refused), errors.As(err, &unreadable), errors.Is(err, desk.ErrNothing), errors.Is(err, desk.ErrReadOnly):
		return http.StatusUnprocessableEntity
	}
	return http.StatusInternalServerError
}

// wordsOf says in sentences why something was not done.
func wordsOf(err error) []string {
	var refused *desk.Refused
	if errors.As(err, &refused) {
		var out []string
		for _, p := range refused.Problems {
			out = append(out, sentence(p))
		}
		for _, l := range refused.Left {
			out = append(out, sentence("“"+l.Text+"”: "+l.Why))
		}
		return out
	}
	return []string{sentence(err.Error())}
}

// sentence begins with a capital and ends with a stop.
func sentence(text string) string {
	if text == "" {
		return text
	}
	first, size := utf8.DecodeRuneInString(text) // it may be a quotation mark
	text = string(unicode.ToUpper(first)) + text[size:]
	if !strings.ContainsAny(text[len(text)-1:], ".?!:") {
		text += "."
	}
	return text
}
