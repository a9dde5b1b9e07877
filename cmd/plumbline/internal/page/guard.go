package page

import (
	"crypto/subtle"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"
)

// The limits on who asks: the bytes of a request, how many are answered at once, and how many one address may ask for: a burst, and
// then so many a second.
const (
	maxBody     = 256 << 10
	maxAtOnce   = 32
	burst       = 240
	perSecond   = 40
	maxAddress  = 256
	cookieName  = "plumbline"
	policy      = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
	enterPath   = "/enter"
	cookieLasts = 12 * time.Hour
)

// guard lets in only who may ask, and bounds what is asked.
//
// The host must be one of those the page is known by: a page of another name that resolves to this machine is turned away. What
// changes anything must come from a page of ours (Sec-Fetch-Site, Origin). With a token nothing but the way in is answered without it.
func (s *Server) guard(next http.Handler) http.Handler {
	origin := http.NewCrossOriginProtection()
	origin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		plainly(w, http.StatusForbidden, "This was asked by another page and is not done.")
	}))
	next = origin.Handler(next)
	rates := &rates{now: s.Now, by: map[string]*rate{}}
	slots := make(chan struct{}, maxAtOnce)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		if !slices.Contains(s.Hosts, strings.ToLower(r.Host)) {
			plainly(w, http.StatusMisdirectedRequest, "This page is not known by that name.")
			return
		}
		site, dest := r.Header.Get("Sec-Fetch-Site"), r.Header.Get("Sec-Fetch-Dest")
		if (site == "cross-site" || site == "same-site") && (r.Header.Get("Sec-Fetch-Mode") != "navigate" || dest != "" && dest != "document") {
			plainly(w, http.StatusForbidden, "This was asked by another page and is not answered.") // a link may lead here, a picture or a frame may not
			return
		}
		from, _, err := net.SplitHostPort(r.RemoteAddr)
		if err != nil {
			from = r.RemoteAddr
		}
		if !rates.take(from) {
			h.Set("Retry-After", "2")
			plainly(w, http.StatusTooManyRequests, "Too much is asked at once; wait a moment.")
			return
		}
		select {
		case slots <- struct{}{}:
			defer func() { <-slots }()
		default:
			h.Set("Retry-After", "1")
			plainly(w, http.StatusServiceUnavailable, "Too many ask at once; wait a moment.")
			return
		}
		if s.Token != "" {
			if r.URL.Path == enterPath {
				s.enter(w, r)
				return
			}
			if !s.known(r) {
				plainly(w, http.StatusUnauthorized, "Open this page by the link that plumbline printed, or by its code.")
				return
			}
		}
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		next.ServeHTTP(w, r)
	})
}

// plainly answers somebody who is not let in.
func plainly(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text + "\n"))
}

// enter takes the token of the link and leaves it with the browser; the link goes on to what it was for.
func (s *Server) enter(w http.ResponseWriter, r *http.Request) {
	if !same(r.URL.Query().Get("token"), s.Token) {
		plainly(w, http.StatusUnauthorized, "This link does not hold any more; open the one that plumbline printed last.")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: s.Token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: int(cookieLasts.Seconds())})
	to := "/"
	if file := r.URL.Query().Get("job"); file != "" {
		to = "/job/" + escapedFile(file)
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// known reports whether a request brings the token: a browser by its cookie, a program as a bearer.
func (s *Server) known(r *http.Request) bool {
	for _, c := range r.CookiesNamed(cookieName) { // another page of this host may have set one, too
		if same(c.Value, s.Token) {
			return true
		}
	}
	bearer, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	return ok && same(bearer, s.Token)
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// rates counts what each address asks for.
type rates struct {
	mu  sync.Mutex
	now func() time.Time
	by  map[string]*rate
}

// rate is what an address may still ask for, as of a time.
type rate struct {
	left float64
	at   time.Time
}

// take counts one request; false for one too many.
func (x *rates) take(from string) bool {
	x.mu.Lock()
	defer x.mu.Unlock()
	now := x.now()
	one := x.by[from]
	if one == nil {
		if len(x.by) >= maxAddress {
			x.forget(now)
		}
		one = &rate{left: burst, at: now}
		x.by[from] = one
	}
	one.left = min(burst, one.left+now.Sub(one.at).Seconds()*perSecond)
	one.at = now
	if one.left < 1 {
		return false
	}
	one.left--
	return true
}

// forget drops the addresses that asked nothing for a while, all of them if need be.
func (x *rates) forget(now time.Time) {
	for from, one := range x.by {
		if now.Sub(one.at) > time.Minute {
			delete(x.by, from)
		}
	}
	if len(x.by) >= maxAddress {
		clear(x.by)
	}
}
