// Package web makes the pages: the sheet of a report, the form that asks for a
// load, and the answers of lehr serve.
package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"runtime"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/plan"
	"lehr/cmd/lehr/session"
)

// The bounds of what one request may ask for.
const (
	mostBody   = 32 << 10 // bytes of a form
	mostText   = 6000     // characters of the pieces
	mostKinds  = 24       // kinds of piece in a load
	mostWaits  = 64       // requests that wait for their turn to plan
	longestYet = 8 * time.Second
)

// site answers the requests of lehr serve. It keeps no state but the studio it
// was started with.
type site struct {
	studio kiln.Studio
	turns  chan struct{} // one per load that is planned at a time
	queue  chan struct{} // one per request that plans or waits to
	wait   time.Duration
	plan   plan.Planner
}

func newSite(st kiln.Studio) *site {
	n := runtime.GOMAXPROCS(0)
	return &site{studio: st, turns: make(chan struct{}, n), queue: make(chan struct{}, n+mostWaits), wait: longestYet, plan: plan.Plan}
}

// ServeHTTP implements http.Handler: "/" is the form, "/sheet" the sheet.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-store")
	switch {
	case r.URL.Path != "/" && r.URL.Path != "/sheet":
		s.refuse(w, http.StatusNotFound, "There is no such page.")
		return
	case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
		h.Set("Allow", "GET, HEAD, POST")
		s.refuse(w, http.StatusMethodNotAllowed, "This page takes GET and POST.")
		return
	}
	r.Body = http.MaxBytesReader(w, r.Body, mostBody)
	if err := r.ParseForm(); err != nil {
		var tooLong *http.MaxBytesError
		if errors.As(err, &tooLong) {
			s.refuse(w, http.StatusRequestEntityTooLarge, fmt.Sprintf("The form is longer than %d KiB.", mostBody>>10))
			return
		}
		s.refuse(w, http.StatusBadRequest, "The form cannot be read.")
		return
	}
	f := newForm(s.studio, r.Form)
	if r.URL.Path == "/" {
		s.page(w, http.StatusOK, f)
		return
	}
	s.sheet(w, r, f)
}

// sheet plans what the form says, or shows the form again with what is wrong.
func (s *site) sheet(w http.ResponseWriter, r *http.Request, f *form) {
	load, st, o := f.read()
	if f.wrong() {
		s.page(w, http.StatusUnprocessableEntity, f)
		return
	}
	if !s.turn(r) {
		w.Header().Set("Retry-After", "5")
		s.refuse(w, http.StatusServiceUnavailable, "Too many loads are being planned at the moment. Try again in a few seconds.")
		return
	}
	defer func() { <-s.turns; <-s.queue }()
	rep, err := s.plan(r.Context(), load, st, o)
	if err != nil {
		f.fail(err)
		s.page(w, http.StatusUnprocessableEntity, f)
		return
	}
	page, err := Sheet(rep, Paper{Back: "/?" + f.query(), Planned: session.Now()})
	if err != nil {
		f.fail(err)
		s.page(w, http.StatusUnprocessableEntity, f)
		return
	}
	s.send(w, http.StatusOK, page)
}

// turn waits for a turn to plan; false when there is none in time.
func (s *site) turn(r *http.Request) bool {
	select {
	case s.queue <- struct{}{}:
	default:
		return false
	}
	late := time.NewTimer(s.wait)
	defer late.Stop()
	select {
	case s.turns <- struct{}{}:
		return true
	case <-late.C:
	case <-r.Context().Done():
	}
	<-s.queue
	return false
}

func (s *site) page(w http.ResponseWriter, status int, f *form) {
	data, err := f.page()
	if err != nil {
		s.refuse(w, http.StatusInternalServerError, "The page cannot be made.")
		return
	}
	s.send(w, status, data)
}

// refuse sends a page that says why there is no other.
func (s *site) refuse(w http.ResponseWriter, status int, why string) {
	page, err := Document(http.StatusText(status), El("main", El("h1", why), El("p", El("a", At{"href", "/"}, "To the form"))))
	if err != nil {
		page = []byte(why)
	}
	s.send(w, status, page)
}

func (s *site) send(w http.ResponseWriter, status int, page []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	w.Write(page) // a reader that has gone needs no answer
}

// query is the form as it was filled in, to come back to.
func (f *form) query() string {
	q := url.Values{}
	for _, x := range f.all() {
		if v := strings.TrimSpace(x.Value); v != "" {
			q.Set(x.Name, x.Value)
		}
	}
	return q.Encode()
}
