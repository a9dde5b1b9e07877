package page

import (
	"crypto/rand"
	"embed"
	"encoding/base64"
	"html/template"
	"io/fs"
	"log"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/report"
)

//go:embed assets templates
var files embed.FS

// Options are what a page is served of.
type Options struct {
	Desk *desk.Desk
	// Hosts are the names it may be asked by, each with its port.
	Hosts []string
	// Token is what lets somebody in; "" lets in everybody who reaches the address.
	Token string
	// Address is where a phone finds the page, such as http://192.168.1.5:8080; "" where none can.
	Address string
	// Folder is what the folder is called on the page.
	Folder string
	// Now is the clock; it decides how often somebody asked.
	Now func() time.Time
	// Log takes what broke.
	Log *log.Logger
}

// Server answers for one desk.
type Server struct {
	Options
	templates *template.Template
	done      *keep[*told]
	trials    *keep[*trying]
}

// New returns the page.
func New(o Options) http.Handler {
	if o.Log == nil {
		o.Log = log.Default()
	}
	s := &Server{Options: o, done: newKeep[*told](200), trials: newKeep[*trying](50)}
	s.templates = template.Must(template.New("").Funcs(functions).ParseFS(files, "templates/*.html"))
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.list)
	mux.HandleFunc("POST /new", s.begin)
	mux.HandleFunc("GET /job/{file...}", s.job)
	mux.HandleFunc("GET /revision/{file...}", s.revision)
	for name, edit := range s.edits() {
		mux.HandleFunc("POST /"+name+"/{file...}", s.editing(edit))
	}
	mux.HandleFunc("GET /try/{file...}", s.tried)
	mux.HandleFunc("GET /slide/{file...}", s.slide)
	mux.HandleFunc("GET /bay/{file...}", s.bay)
	mux.HandleFunc("GET /papers/{file...}", s.papers)
	mux.HandleFunc("GET /paper/{name}/{file...}", s.paper)
	mux.HandleFunc("GET /phone/{file...}", s.phone)
	s.api(mux)
	assets, err := fs.Sub(files, "assets")
	if err != nil {
		panic("page: " + err.Error())
	}
	mux.HandleFunc("GET /assets/{name}", func(w http.ResponseWriter, r *http.Request) {
		cached(http.StripPrefix("/assets/", http.FileServerFS(assets))).ServeHTTP(w, r)
	})
	mux.HandleFunc("GET /assets/report.css", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		cached(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = w.Write([]byte(report.Style())) })).ServeHTTP(w, r)
	})
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, r, http.StatusNotFound, "There is no such page.")
	})
	return s.guard(mux)
}

// cached lets a browser keep what comes with the program for a while.
func cached(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "private, max-age=600")
		h.ServeHTTP(w, r)
	})
}

// frame is what every page has.
type frame struct {
	// Title is the page's, Folder what the folder is called.
	Title, Folder string
	// Wrong says why something was not done.
	Wrong []string
	// Body is what the page is about, of the template Page.
	Page string
	Body any
}

// show writes a page.
func (s *Server) show(w http.ResponseWriter, r *http.Request, status int, f frame) {
	f.Folder = s.Folder
	var b strings.Builder
	if err := s.templates.ExecuteTemplate(&b, f.Page, f); err != nil {
		s.Log.Printf("the page %s cannot be written: %v", f.Page, err)
		http.Error(w, "The page cannot be written; what was entered is saved.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if r.Method == http.MethodPost {
		w.Header().Set("HX-Push-Url", "false") // nothing stands there to come back to
	}
	w.WriteHeader(status)
	_, _ = w.Write([]byte(b.String()))
}

// fail says that something cannot be had.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, status int, text string) {
	if strings.HasPrefix(r.URL.Path, "/api/") {
		writeProblem(w, status, text)
		return
	}
	s.show(w, r, status, frame{Title: text, Page: "failed", Wrong: []string{text}})
}

// keep holds the last things that were put into it, each by an id nobody guesses.
type keep[T any] struct {
	mu    sync.Mutex
	most  int
	order []string
	by    map[string]T
}

func newKeep[T any](most int) *keep[T] { return &keep[T]{most: most, by: map[string]T{}} }

// put keeps a thing and returns its id, and what had to go for it.
func (k *keep[T]) put(x T) string {
	id := random(9)
	k.mu.Lock()
	defer k.mu.Unlock()
	k.by[id], k.order = x, append(k.order, id)
	if len(k.order) > k.most {
		delete(k.by, k.order[0])
		k.order = k.order[1:]
	}
	return id
}

func (k *keep[T]) get(id string) (T, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	x, ok := k.by[id]
	return x, ok
}

// random is a text of some random bytes.
func random(n int) string {
	b := make([]byte, n)
	_, _ = rand.Read(b) // it never fails
	return base64.RawURLEncoding.EncodeToString(b)
}

// Token makes one for a page that others on the network reach.
func Token() string { return random(18) }

// escapedFile is the name of a job as an address holds it.
func escapedFile(name string) string {
	parts := strings.Split(name, "/")
	for i, p := range parts {
		parts[i] = url.PathEscape(p)
	}
	return strings.Join(parts, "/")
}
