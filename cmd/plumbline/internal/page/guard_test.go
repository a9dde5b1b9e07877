package page_test

import (
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/page"
)

// A page of another name that resolves to this machine gets nothing: the Host it sends is its own (DNS rebinding).
func TestAnotherNameIsTurnedAway(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	for _, host := range []string{"evil.example", "evil.example:80", "127.0.0.1", "localhost:1", "[::1]:80", ""} {
		a := s.ask(t, "GET", "/job/bag.yaml", nil, "Host", host)
		if host == "" { // then the client sends the right one
			assert.Equal(t, http.StatusOK, a.Status)
			continue
		}
		assert.Equal(t, http.StatusMisdirectedRequest, a.Status, host)
		assert.NotContains(t, a.Text, "V8", host)
	}
}

// What another page lets a browser send changes nothing.
func TestAnotherPageChangesNothing(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	const form = "application/x-www-form-urlencoded"
	for _, header := range [][]string{
		{"Content-Type", form, "Origin", "http://evil.example"},
		{"Content-Type", form, "Origin", "null"},
		{"Content-Type", form, "Sec-Fetch-Site", "cross-site"},
		{"Content-Type", form, "Sec-Fetch-Site", "same-site"}, // another port of this machine
		{"Content-Type", "text/plain", "Origin", "http://evil.example"},
	} {
		for _, path := range []string{"/line/bag.yaml", "/set/bag.yaml", "/undo/bag.yaml", "/new", "/api/job/set?name=bag.yaml"} {
			a := s.ask(t, "POST", path, strings.NewReader("line=pump+in+tank&path=design.title&answer=x&title=x"), header...)
			assert.Equal(t, http.StatusForbidden, a.Status, "%s %v", path, header)
		}
	}
	assert.Equal(t, bag, s.file(t, "bag.yaml"))
	// Nor does it make the page work, as a picture or script of its own would; a link to a job may be followed.
	assert.Equal(t, http.StatusForbidden, s.ask(t, "GET", "/slide/bag.yaml", nil, "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors").Status)
	assert.Equal(t, http.StatusOK, s.ask(t, "GET", "/job/bag.yaml", nil, "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate").Status)
	assert.Equal(t, http.StatusForbidden, s.ask(t, "GET", "/slide/bag.yaml", nil, "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "iframe").Status)
	// A form cannot be sent as JSON, and what is no JSON is not read as such.
	a := s.ask(t, "POST", "/api/job/set?name=bag.yaml", strings.NewReader(`{"path":"design.title","answer":"x"}`), "Content-Type", "text/plain")
	assert.Equal(t, http.StatusUnsupportedMediaType, a.Status)
	assert.Equal(t, bag, s.file(t, "bag.yaml"))
}

// Away from this machine the token is asked for, by everything but the way in.
func TestTokenIsAskedFor(t *testing.T) {
	token := page.Token()
	s := serve(t, map[string]string{"bag.yaml": bag}, func(o *page.Options) { o.Token, o.Address = token, "http://shop.example" })
	for _, path := range []string{"/", "/job/bag.yaml", "/api/jobs", "/assets/page.css", "/nothing"} {
		for _, header := range [][]string{nil, {"Cookie", "plumbline=wrong"}, {"Authorization", "Bearer wrong"}, {"Authorization", "Basic " + token}, {"Cookie", "plumbline="}} {
			a := s.ask(t, "GET", path, nil, header...)
			assert.Equal(t, http.StatusUnauthorized, a.Status, "%s %v", path, header)
		}
	}
	assert.Equal(t, http.StatusUnauthorized, s.ask(t, "GET", "/enter?token=wrong", nil).Status)
	assert.Equal(t, http.StatusUnauthorized, s.ask(t, "GET", "/enter", nil).Status)
	a := s.ask(t, "GET", "/enter?token="+token+"&job=bag.yaml", nil)
	require.Equal(t, http.StatusSeeOther, a.Status)
	assert.Equal(t, "/job/bag.yaml", a.Header.Get("Location"))
	cookie := a.Header.Get("Set-Cookie")
	assert.Contains(t, cookie, "HttpOnly")
	assert.Contains(t, cookie, "SameSite=Strict")
	value, _, _ := strings.Cut(cookie, ";")
	assert.Equal(t, http.StatusOK, s.ask(t, "GET", "/job/bag.yaml", nil, "Cookie", value).Status)
	assert.Equal(t, http.StatusOK, s.ask(t, "GET", "/api/jobs", nil, "Authorization", "Bearer "+token).Status)
	assert.Contains(t, s.ask(t, "GET", "/phone/bag.yaml", nil, "Cookie", value).Text, `class="code"`)
	// The way in leads nowhere else.
	a = s.ask(t, "GET", "/enter?token="+token+"&job=//evil.example/", nil)
	assert.True(t, strings.HasPrefix(a.Header.Get("Location"), "/job/"), a.Header.Get("Location"))
}

// Whatever is named as a file, nothing outside the folder is shown or written, hidden files and settings neither.
func TestPathsStayInTheFolder(t *testing.T) {
	s := serve(t, map[string]string{"jobs/bag.yaml": bag, ".hidden.yaml": bag, "plumbline.yaml": "shop: 1\n"})
	outside := filepath.Join(filepath.Dir(s.Folder), "outside.yaml")
	require.NoError(t, os.WriteFile(outside, []byte("plumbline: 1\ntitle: secret of the neighbour\n"), 0o644))
	require.NoError(t, os.Symlink(outside, filepath.Join(s.Folder, "link.yaml")))
	for _, name := range []string{"../outside.yaml", "..%2foutside.yaml", "%2e%2e/outside.yaml", "jobs/../../outside.yaml", "jobs%2f..%2f..%2foutside.yaml", "/etc/passwd", "%2fetc%2fpasswd", "....//outside.yaml",
		"..%5coutside.yaml", ".hidden.yaml", "plumbline.yaml", "link.yaml", "bag.yaml%00", "jobs", "", ".", outside} {
		for _, page := range []string{"/job/", "/bay/", "/papers/", "/revision/", "/paper/parts/"} {
			a := s.ask(t, "GET", page+name, nil)
			assert.NotEqual(t, http.StatusOK, a.Status, page+name)
			assert.NotContains(t, a.Text, "secret of the neighbour", page+name)
		}
		a := s.ask(t, "GET", "/api/job?name="+name, nil)
		assert.NotEqual(t, http.StatusOK, a.Status, name)
		a = s.form(t, "/set/"+name, "path", "design.title", "answer", "taken")
		assert.NotEqual(t, http.StatusSeeOther, a.Status, name)
	}
	text, err := os.ReadFile(outside)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "taken")
	assert.NotContains(t, s.file(t, ".hidden.yaml"), "taken")
	assert.Equal(t, "shop: 1\n", s.file(t, "plumbline.yaml"))
	// A template of another folder is not read either.
	a := s.form(t, "/new", "title", "x", "template", "../outside.yaml")
	assert.NotEqual(t, http.StatusSeeOther, a.Status)
	assert.NotContains(t, a.Text, "secret of the neighbour")
}

// What is too large or too much is refused, and the page goes on.
func TestMuchIsRefused(t *testing.T) {
	var clock atomic.Int64
	s := serve(t, map[string]string{"bag.yaml": bag}, func(o *page.Options) { o.Now = func() time.Time { return time.Unix(clock.Load(), 0) } })
	huge := strings.Repeat("x", 2<<20)
	assert.Equal(t, http.StatusRequestEntityTooLarge, s.form(t, "/line/bag.yaml", "line", huge).Status)
	a := s.ask(t, "POST", "/api/job/line?name=bag.yaml", strings.NewReader(`{"line":"`+huge+`"}`), "Content-Type", "application/json")
	assert.Equal(t, http.StatusRequestEntityTooLarge, a.Status)
	assert.Equal(t, bag, s.file(t, "bag.yaml"))
	many := 0
	for range 400 {
		if s.ask(t, "GET", "/assets/page.css", nil).Status == http.StatusTooManyRequests {
			many++
		}
	}
	assert.Positive(t, many, "nobody may ask without end")
	clock.Add(1)
	assert.Equal(t, http.StatusOK, s.ask(t, "GET", "/", nil).Status)
}

// A client that sends its head a byte at a time is cut off.
func TestSlowHeadsAreCutOff(t *testing.T) {
	place, err := page.Listen("127.0.0.1:0")
	require.NoError(t, err)
	s := serve(t, map[string]string{"bag.yaml": bag})
	go func() { _ = page.Serve(t.Context(), place, s.Config.Handler) }()
	c, err := net.Dial("tcp", place.Listener.Addr().String())
	require.NoError(t, err)
	defer c.Close()
	_, err = c.Write([]byte("GET / HTTP/1.1\r\nHost: x\r\nX-Slow: "))
	require.NoError(t, err)
	require.NoError(t, c.SetReadDeadline(time.Now().Add(15*time.Second)))
	_, err = io.ReadAll(c)
	assert.NoError(t, err, "the server closes")
}

// An address that others reach has its number written; a name or every address is refused.
func TestOnlyANumberIsListenedAt(t *testing.T) {
	for _, address := range []string{"0.0.0.0:0", "[::]:0", "shop.example:0", ":0", "127.0.0.1", "x"} {
		_, err := page.Listen(address)
		assert.Error(t, err, address)
	}
	p, err := page.Listen("0")
	require.NoError(t, err)
	defer p.Listener.Close()
	assert.False(t, p.Away)
	assert.True(t, strings.HasPrefix(p.Address, "http://127.0.0.1:"), p.Address)
}

// Every answer carries the policy under which nothing is loaded from elsewhere and no script stands in a page.
func TestPolicyIsStrict(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	for _, path := range []string{"/", "/job/bag.yaml?part=design.pump", "/slide/bag.yaml", "/bay/bag.yaml", "/papers/bag.yaml", "/paper/fuel/bag.yaml", "/phone/bag.yaml", "/nothing"} {
		a := s.ask(t, "GET", path, nil)
		policy := a.Header.Get("Content-Security-Policy")
		assert.Contains(t, policy, "default-src 'none'", path)
		assert.NotContains(t, policy, "unsafe", path)
		assert.Equal(t, "nosniff", a.Header.Get("X-Content-Type-Options"))
		assert.NotContains(t, a.Text, " style=", "%s: the policy forbids it", path)
		assert.NotContains(t, a.Text, "<style", path)
		assert.NotContains(t, a.Text, " onclick=", path)
		assert.NotRegexp(t, `(src|href)="(https?:)?//`, a.Text, path)
	}
}

// What a stranger wrote into a design is text wherever it is shown.
func TestHostileTextsStayText(t *testing.T) {
	const evil = `"><script>alert(1)</script><img src=x onerror=alert(1)>`
	name := `a" onmouseover="x&<b>.yaml`
	s := serve(t, map[string]string{
		"evil.yaml": "plumbline: 1\ntitle: '" + evil + "'\npump: {place: in_tank}\nfeed: {runs: [{name: '" + evil + "', kind: hose, mark: sae_j30_r7}]}\ncircuits: [{name: '" + evil + "', purpose: fuel_pump}]\n",
		name:        "plumbline: 1\ntitle: x\n",
	})
	list := s.ask(t, "GET", "/", nil)
	assert.NotContains(t, list.Text, "<script>alert")
	assert.NotContains(t, list.Text, `" onmouseover`)
	for _, path := range []string{"/job/evil.yaml", "/job/evil.yaml?part=design.feed.runs[0]", "/job/evil.yaml?way=current", "/job/evil.yaml?part=" + "%22%3E%3Cscript%3Ealert(1)%3C/script%3E", "/job/evil.yaml?way=%22%3E%3Cscript%3E", "/papers/evil.yaml", "/paper/fuel/evil.yaml", "/paper/slip/evil.yaml", "/bay/evil.yaml", "/phone/evil.yaml",
		"/job/a%22%20onmouseover=%22x&%3Cb%3E.yaml"} {
		a := s.ask(t, "GET", path, nil)
		assert.Equal(t, http.StatusOK, a.Status, path)
		for _, bad := range []string{"<script>alert", "<img src=x", `" onmouseover="x`, "<b>.yaml"} {
			assert.NotContains(t, a.Text, bad, path)
		}
	}
	a := s.form(t, "/line/evil.yaml", "line", evil)
	assert.NotContains(t, a.Text, "<script>alert")
}
