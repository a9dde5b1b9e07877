package page

import (
	_ "embed"
	"encoding/json"
	"errors"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
)

// openAPI describes the interface for programs.
//
//go:embed openapi.json
var openAPI []byte

// api is what programs are answered: the jobs, one job, a change of it, its papers.
func (s *Server) api(mux *http.ServeMux) {
	mux.HandleFunc("GET /api/openapi.json", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		_, _ = w.Write(openAPI)
	})
	mux.HandleFunc("GET /api/jobs", s.apiJobs)
	mux.HandleFunc("GET /api/job", s.apiJob)
	mux.HandleFunc("POST /api/job/{change}", s.apiChange)
	mux.HandleFunc("GET /api/paper", s.apiPaper)
}

// apiListed is a job of the list.
type apiListed struct {
	Name     string   `json:"name"`
	Title    string   `json:"title,omitempty"`
	Stage    string   `json:"stage,omitempty"`
	Headline string   `json:"headline,omitempty"`
	Blocking int      `json:"blocking"`
	Asked    int      `json:"asked"`
	Problems []string `json:"problems,omitempty"`
}

func (s *Server) apiJobs(w http.ResponseWriter, _ *http.Request) {
	jobs, err := s.Desk.Jobs()
	if err != nil {
		writeProblem(w, http.StatusInternalServerError, err.Error())
		return
	}
	out := []apiListed{}
	for _, j := range jobs {
		one := apiListed{Name: j.Name, Title: j.Title, Stage: j.Stage, Headline: j.Headline, Blocking: j.Blocking, Asked: j.Asked}
		for _, p := range j.Problems {
			one.Problems = append(one.Problems, problemText(p))
		}
		out = append(out, one)
	}
	writeJSON(w, http.StatusOK, map[string]any{"jobs": out})
}

// apiView is a job at a revision.
type apiView struct {
	Name     string   `json:"name"`
	Revision int      `json:"revision"`
	Title    string   `json:"title,omitempty"`
	Stage    string   `json:"stage"`
	Headline string   `json:"headline"`
	Blocking int      `json:"blocking"`
	Text     string   `json:"text"`
	Problems []string `json:"problems,omitempty"`
	Undo     string   `json:"undo,omitempty"`
	Redo     string   `json:"redo,omitempty"`
	Asks     []apiAsk `json:"asks"`
	Slip     any      `json:"slip,omitempty"`
}

// apiAsk is a question.
type apiAsk struct {
	Path    string   `json:"path"`
	Label   string   `json:"label"`
	How     string   `json:"how,omitempty"`
	Choices []string `json:"choices,omitempty"`
	Example string   `json:"example,omitempty"`
}

func apiViewOf(view *desk.View) apiView {
	out := apiView{Name: view.Name, Revision: view.Revision, Title: view.Title, Stage: view.Stage, Headline: view.Headline, Blocking: view.Blocking,
		Text: string(view.Text), Undo: view.Undo, Redo: view.Redo, Asks: []apiAsk{}}
	for _, p := range view.Problems {
		out.Problems = append(out.Problems, problemText(p))
	}
	for _, q := range view.Questions() {
		ask := apiAsk{Path: q.Path, Label: sheet.NameOf(view.Design, q.Path)}
		if q.Words != nil {
			ask.How = q.Words.How
		}
		for _, c := range q.Choices {
			ask.Choices = append(ask.Choices, c.Word)
		}
		if len(q.Examples) > 0 {
			ask.Example = q.Examples[0]
		}
		out.Asks = append(out.Asks, ask)
	}
	if slip := slipOf(view); slip != nil {
		out.Slip = slip
	}
	return out
}

// apiOpened is the job that a request names.
func (s *Server) apiOpened(w http.ResponseWriter, r *http.Request) (*desk.Job, *desk.View, bool) {
	job, err := s.Desk.Job(r.URL.Query().Get("name"))
	if err == nil {
		var view *desk.View
		if view, err = job.View(); err == nil {
			return job, view, true
		}
	}
	writeProblem(w, statusOf(err), err.Error())
	return nil, nil, false
}

func (s *Server) apiJob(w http.ResponseWriter, r *http.Request) {
	if _, view, ok := s.apiOpened(w, r); ok {
		writeJSON(w, http.StatusOK, apiViewOf(view))
	}
}

// apiEdit is a change that is asked for.
type apiEdit struct {
	Revision *int   `json:"revision"`
	Path     string `json:"path"`
	Answer   string `json:"answer"`
	Line     string `json:"line"`
}

// apiDone is what a change led to.
type apiDone struct {
	Done    string      `json:"done"`
	Merged  bool        `json:"merged"`
	Heard   []apiHeard  `json:"heard"`
	Left    []apiLeft   `json:"left"`
	Changed []apiTurned `json:"changed"`
	Job     apiView     `json:"job"`
}

type (
	apiHeard struct {
		Path  string `json:"path"`
		Value string `json:"value"`
	}
	apiLeft struct {
		Text string `json:"text"`
		Why  string `json:"why"`
	}
	apiTurned struct {
		Rule    string `json:"rule"`
		Subject string `json:"subject"`
		Before  string `json:"before"`
		After   string `json:"after"`
		Text    string `json:"text"`
	}
)

func (s *Server) apiChange(w http.ResponseWriter, r *http.Request) {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		writeProblem(w, http.StatusUnsupportedMediaType, "send application/json")
		return
	}
	job, view, ok := s.apiOpened(w, r)
	if !ok {
		return
	}
	var e apiEdit
	dec := json.NewDecoder(r.Body)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&e); err != nil {
		status := http.StatusBadRequest
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			status = http.StatusRequestEntityTooLarge
		}
		writeProblem(w, status, "the change cannot be read: "+err.Error())
		return
	}
	revision := view.Revision
	if e.Revision != nil {
		revision = *e.Revision
	}
	var done *desk.Done
	var err error
	switch r.PathValue("change") {
	case "set":
		done, err = job.Set(revision, e.Path, e.Answer)
	case "clear":
		done, err = job.Clear(revision, e.Path)
	case "line":
		done, err = job.Line(revision, e.Line)
	case "undo":
		done, err = job.Undo(revision)
	case "redo":
		done, err = job.Redo(revision)
	default:
		writeProblem(w, http.StatusNotFound, "there is no such change; there are set, clear, line, undo, redo")
		return
	}
	if err != nil {
		writeProblem(w, statusOf(err), strings.Join(wordsOf(err), " "))
		return
	}
	out := apiDone{Done: done.Name, Merged: done.Merged, Heard: []apiHeard{}, Left: []apiLeft{}, Changed: []apiTurned{}, Job: apiViewOf(done.View)}
	for _, h := range done.Heard {
		out.Heard = append(out.Heard, apiHeard{h.Path, h.Value})
	}
	for _, l := range done.Left {
		out.Left = append(out.Left, apiLeft{l.Text, l.Why})
	}
	for _, f := range done.Changed.Findings {
		out.Changed = append(out.Changed, apiTurned{f.Rule, f.Subject, string(f.Before), string(f.After), f.Text})
	}
	writeJSON(w, http.StatusOK, out)
}

// paperTypes are the types of the formats of a paper.
var paperTypes = map[string]string{"text": "text/plain; charset=utf-8", "markdown": "text/markdown; charset=utf-8", "csv": "text/csv; charset=utf-8", "svg": "image/svg+xml"}

func (s *Server) apiPaper(w http.ResponseWriter, r *http.Request) {
	_, view, ok := s.apiOpened(w, r)
	if !ok {
		return
	}
	paper := view.Paper(r.URL.Query().Get("paper"))
	format := r.URL.Query().Get("format")
	if format == "" {
		format = "text"
	}
	if paper == nil || paperTypes[format] == "" || format == "svg" && !report.HasDrawing(paper) {
		writeProblem(w, http.StatusNotFound, "there is no such paper in that format")
		return
	}
	var b strings.Builder
	if err := report.Paper(&b, paper, format, report.TextOptions{Width: 100}); err != nil {
		writeProblem(w, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", paperTypes[format])
	_, _ = w.Write([]byte(b.String()))
}

func writeJSON(w http.ResponseWriter, status int, x any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	enc := json.NewEncoder(w)
	_ = enc.Encode(x)
}

// writeProblem says why something was not done, as RFC 9457 has it.
func writeProblem(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]any{"status": status, "title": http.StatusText(status), "detail": text})
}

// revision tells a page that is open which revision its job has; nothing when it has that already.
func (s *Server) revision(w http.ResponseWriter, r *http.Request) {
	job, err := s.Desk.Job(r.PathValue("file"))
	if err != nil {
		plainly(w, statusOf(err), err.Error())
		return
	}
	view, err := job.View()
	if err != nil {
		plainly(w, statusOf(err), err.Error())
		return
	}
	if r.URL.Query().Get("have") == strconv.Itoa(view.Revision) {
		w.WriteHeader(http.StatusNoContent)
		return
	}
	plainly(w, http.StatusOK, strconv.Itoa(view.Revision))
}
