// Package web makes the pages: the sheet of a report, the form that asks for a
// load, and the answers of lehr serve.
package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"runtime"
	"slices"
	"strconv"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/words"
)

// The bounds of what one request may ask for.
const (
	mostBody    = 32 << 10 // bytes of a form
	mostText    = 6000     // characters of the pieces
	mostKinds   = 24       // kinds of piece in a load
	mostWaits   = 64       // requests that wait for their turn to plan
	longestYet  = 8 * time.Second
	longestPlan = 30 * time.Second // for one load
)

// site answers the requests of lehr serve. It keeps no state but the studio it
// was started with, and the last answers.
type site struct {
	kept     kept
	studio   kiln.Studio
	version  string
	turns    chan struct{} // one per load that is planned at a time
	queue    chan struct{} // one per request that plans or waits to
	wait     time.Duration
	plan     plan.Planner
	shortest plan.Planner // nil if the server does not search
	failed   Outage       // the power
}

func newSite(st kiln.Studio) *site {
	n := runtime.GOMAXPROCS(0)
	return &site{studio: st, turns: make(chan struct{}, n), queue: make(chan struct{}, n+mostWaits), wait: longestYet, plan: plan.Plan}
}

// ServeHTTP implements http.Handler: "/" is the form, "/sheet" the sheet,
// "/safety" the list of the session, "/wrong" what to do when something is wrong.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "private, no-cache")
	switch {
	case r.URL.Path != "/" && r.URL.Path != "/sheet" && r.URL.Path != "/safety" && r.URL.Path != "/wrong":
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
	switch r.URL.Path {
	case "/":
		s.page(w, http.StatusOK, f)
	case "/wrong":
		s.made(w, f, func() ([]byte, error) {
			return wrongPage(f.emergencyNumber(), Paper{Back: "/?" + f.query(), Fields: f.label})
		})
	case "/safety":
		s.safety(w, f)
	default:
		s.sheet(w, r, f)
	}
}

// paper is what a page says of where it comes from.
func (s *site) paper(f *form) Paper {
	return Paper{Back: "/?" + f.query(), Planned: session.Now(), Version: s.version, Fields: f.label}
}

// made sends a page that was made, or the form with what is wrong.
func (s *site) made(w http.ResponseWriter, f *form, make func() ([]byte, error)) {
	page, err := make()
	if err != nil {
		f.fail(err)
		s.page(w, http.StatusUnprocessableEntity, f)
		return
	}
	s.send(w, http.StatusOK, page)
}

// danger sends what to do now, if something is reported wrong now: then nothing
// else is on the page.
func (s *site) danger(w http.ResponseWriter, f *form) bool {
	lines := f.dangers()
	if len(lines) == 0 {
		return false
	}
	number := f.emergencyNumber()
	s.made(w, f, func() ([]byte, error) { return Danger(lines, number, s.paper(f)) })
	return true
}

// safety sends the whole list of the session, with the facts of the form.
func (s *site) safety(w http.ResponseWriter, f *form) {
	if s.danger(w, f) {
		return
	}
	a := f.read()
	if len(f.Facts.Faults) > 0 {
		s.page(w, http.StatusUnprocessableEntity, f)
		return
	}
	s.made(w, f, func() ([]byte, error) { return safetyPage(a.load, a.studio, s.paper(f)) })
}

// sheet plans what the form says, or shows the form again with what is wrong. What
// was planned before is not planned again.
func (s *site) sheet(w http.ResponseWriter, r *http.Request, f *form) {
	if s.danger(w, f) {
		return
	}
	a := f.read()
	if f.wrong() {
		s.page(w, http.StatusUnprocessableEntity, f)
		return
	}
	file := r.Form.Get("file") != ""
	draw := kinds(r.Form["draw"], len(a.load.Pieces))
	shown := fmt.Sprint(file, draw)
	before, page := s.kept.find(f.query(), shown)
	if page == nil {
		if !s.turn(r) {
			w.Header().Set("Retry-After", "5")
			f.Wrong, f.WrongHint = "Too many loads are being planned at the moment.", "What you filled in is kept: press Plan again in a few seconds."
			s.page(w, http.StatusServiceUnavailable, f)
			return
		}
		defer func() { <-s.turns; <-s.queue }()
		var err error
		if before == nil {
			before, err = s.solve(r, a, f.query())
		}
		if err == nil {
			page, err = s.show(before, f, file, draw)
		}
		if err != nil {
			f.conflict(err)
			s.page(w, http.StatusUnprocessableEntity, f)
			return
		}
		s.kept.keep(before, shown, page)
	}
	if file {
		w.Header().Set("Content-Disposition", `attachment; filename="kiln-program.html"`)
	}
	s.send(w, http.StatusOK, ticked(page, r.Form["tick"]))
}

// conflict notes why a load was not planned.
func (f *form) conflict(err error) {
	var dip *kiln.DipError
	if errors.As(err, &dip) && f.Door[4].Value != "" {
		f.Door[4].fault("", err)
		return
	}
	if f.failedReading(err) {
		return
	}
	f.fail(err)
	var c *plan.ConflictError
	if errors.As(err, &c) {
		f.Wrong = "A piece needs more than it bears."
		if !c.Alone && len(c.Load.Pieces) > 1 {
			f.Wrong = "These pieces cannot share one program."
		}
		f.Why = words.AboutLoad(c.Load, f.studio.Units).For(f.label).List(c.Reasons)
	}
}

// show makes the page of an answer: the sheet, or the split of a load that cannot
// share one program. One to keep as a file has no links.
func (s *site) show(a *solved, f *form, file bool, draw []int) ([]byte, error) {
	p := s.paper(f)
	p.Planned, p.Drawn = a.planned, a.drawn
	p.Drawn.Pieces, p.Past = draw, a.past
	if !file {
		p.Keep = f.values()
		at := func(kinds []int) string {
			q := f.values()
			for _, i := range kinds {
				q.Add("draw", strconv.Itoa(i+1))
			}
			return "/sheet?" + q.Encode()
		}
		p.Draw, p.Download = func(kinds []int) string { return at(kinds) + "#curve" }, at(draw)+"&file=1"
		for _, i := range draw {
			p.Keep.Add("draw", strconv.Itoa(i+1))
		}
	} else {
		p.Back = ""
	}
	if a.past != nil {
		p.Draw = nil // its curve is that of the piece nearest to a limit
	}
	if a.sharing != nil {
		return Split(a.load, a.studio, a.sharing, p)
	}
	return Sheet(a.rep, p)
}

// kinds reads which kinds of piece a curve is to show: what is none of them is
// left out.
func kinds(texts []string, of int) (out []int) {
	for _, text := range texts {
		n, err := strconv.Atoi(text)
		if err == nil && n >= 1 && n <= of && !slices.Contains(out, n-1) && len(out) < picture.MostChosen {
			out = append(out, n-1)
		}
	}
	slices.Sort(out)
	return out
}

// solve plans what a form asks for.
func (s *site) solve(r *http.Request, a asked, key string) (*solved, error) {
	ctx, cancel := context.WithTimeout(r.Context(), longestPlan)
	defer cancel()
	out := &solved{asked: a, planned: session.Now(), begun: time.Now(), key: key}
	planner := s.plan
	if a.search && s.shortest != nil {
		planner = s.shortest
	}
	var err error
	switch {
	case !a.was.At.IsZero():
		out.rep, out.past, err = s.failed(ctx, a.load, a.studio, a.options, a.was, a.now)
		return out, inTime(err)
	case a.ready != nil:
		how := plan.ReadyHow{By: *a.ready, Planner: planner}
		if !a.search {
			how.Search = s.shortest
		}
		out.rep, err = plan.ReadyBy(ctx, a.load, a.studio, a.options, how)
	default:
		out.rep, err = planner(ctx, a.load, a.studio, a.options)
	}
	if plan.Divisible(out.rep, err) && (err != nil || a.ready == nil) {
		planned := out.rep
		var other *verify.Report
		if other, out.sharing, err = plan.Instead(ctx, a.load, a.studio, a.options, planned, plan.ShareHow{Planner: planner}); other != nil {
			out.rep = other
		} else if planned != nil {
			err = nil
		}
	}
	if err == nil && a.over != nil && out.rep != nil {
		out.drawn = report.Drawn{Own: "planned", Name: "your own"}
		out.drawn.Over, err = verify.Program(ctx, *a.over, out.rep.Load, a.studio, a.options.Limits)
	}
	return out, inTime(err)
}

// inTime is the error of an answer, which says so when it took too long.
func inTime(err error) error {
	if errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("planning takes longer than %s, which is as long as this page waits", longestPlan)
	}
	return err
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
	page, err := Document(http.StatusText(status), El("header", El("h1", why)), El("main", El("p", El("a", At{"href", "/"}, "To the form"))),
		El("footer", El("p", Class("quiet"), "lehr computes; it does not watch your kiln.")))
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
