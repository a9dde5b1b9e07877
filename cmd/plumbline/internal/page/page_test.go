package page_test

import (
	"bytes"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/cmd/plumbline/internal/page"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/rules"
)

// served is a folder that is served for a test.
type served struct {
	*httptest.Server
	Folder string
	// Broke is what the page logged: nothing, as a rule.
	Broke *written
}

// written is a log that several write.
type written struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (w *written) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.Write(p)
}

func (w *written) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.String()
}

// serve serves a folder of files.
func serve(t testing.TB, files map[string]string, change ...func(*page.Options)) *served {
	t.Helper()
	folder := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(folder, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
	}
	s := shop.New(shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()}, strings.NewReader(""))
	d, err := desk.Open(folder, desk.Options{Shop: s, Now: time.Now})
	require.NoError(t, err)
	out := &served{Folder: folder, Broke: &written{}, Server: httptest.NewUnstartedServer(nil)}
	o := page.Options{Desk: d, Hosts: []string{out.Listener.Addr().String()}, Folder: "jobs", Now: time.Now, Log: log.New(out.Broke, "", 0)}
	for _, c := range change {
		c(&o)
	}
	out.Config.Handler = page.New(o)
	out.Config.ErrorLog = log.New(io.Discard, "", 0)
	out.Start()
	t.Cleanup(func() {
		out.Close()
		assert.NoError(t, d.Close())
		assert.Empty(t, out.Broke.String())
	})
	return out
}

// answer is what was answered.
type answer struct {
	Status int
	Header http.Header
	Text   string
}

// ask sends a request and follows nothing.
func (s *served) ask(t testing.TB, method, path string, body io.Reader, header ...string) answer {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), method, s.URL+path, body)
	require.NoError(t, err)
	for i := 0; i+1 < len(header); i += 2 {
		if header[i] == "Host" {
			req.Host = header[i+1]
		}
		req.Header.Set(header[i], header[i+1])
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.Do(req)
	require.NoError(t, err)
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	return answer{res.StatusCode, res.Header, string(text)}
}

// form sends a form as the page itself does.
func (s *served) form(t testing.TB, path string, pairs ...string) answer {
	t.Helper()
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Set(pairs[i], pairs[i+1])
	}
	return s.ask(t, "POST", path, strings.NewReader(v.Encode()), "Content-Type", "application/x-www-form-urlencoded", "Origin", s.URL, "Sec-Fetch-Site", "same-origin")
}

// file is what a job's file holds.
func (s *served) file(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(s.Folder, name))
	require.NoError(t, err)
	return string(text)
}

// bag is a counter's list: half of it known.
const bag = `plumbline: 1
title: 6.4 L V8 with a bag of parts
vehicle: {model_year: 1974, use: road}
engine: {displacement: 390 cu in, cylinders: 8, power: 300 hp, aspiration: natural} # as the customer said
fuel: {ethanol: 10 %}
pump: {place: frame_rail, rated_flow: 155 lph, rated_pressure: 43 psi}
feed: {runs: [{name: pump hose, kind: hose, bore: 3/8 in, mark: sae_j30_r7}]}
regulator: {style: return_style, setting: 58 psi}
throttle_body: {bores: 4, injectors: {count: 4, static_mass_flow: 80 lb/h, test_pressure: 43.5 psi}, highest_pressure: 60 psi}
`
