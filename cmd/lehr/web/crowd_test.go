package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/internal/roomtest"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// long reports whether tests may take their time: every paper, font, width and page
// in a browser, every plan its own.
func long() bool { return os.Getenv("LEHR_LONG") == "1" }

// needLong skips a test that takes a browser for seconds, unless one is required.
func needLong(t *testing.T) {
	t.Helper()
	if !long() && os.Getenv("LEHR_REQUIRE_BROWSER") != "1" {
		t.Skip("takes seconds of a browser; LEHR_LONG=1 runs it")
	}
}

// TestSite_full: beyond its bound the server answers within a second, with all
// that was filled in.
func TestSite_full(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for range cap(s.queue) {
		s.queue <- struct{}{}
	}
	f := goodForm()
	f.Set("name", "winter market")
	begin := time.Now()
	w := ask(t, s, "GET", "/sheet?"+f.Encode(), nil)
	if took := time.Since(begin); took > time.Second {
		t.Errorf("takes %s", took)
	}
	n := wantAccessible(t, w.Body.Bytes())
	name, _ := n.byID("name")
	alert, _ := n.byID("wrong")
	if w.Code != 503 || w.Header().Get("Retry-After") == "" || name.attr("value") != "winter market" || !strings.Contains(n.all("textarea")[0].text(), "6 x sphere 2.5in") || !strings.Contains(alert.text(), "is kept") {
		t.Errorf("status %d: %s", w.Code, alert.text())
	}
}

// TestSite_crowd sends 200 requests at once: all are answered, with the sheet or
// with a plain refusal, and no more are planned at a time than there are turns.
func TestSite_crowd(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	s.wait = 30 * time.Second
	// Turns and places are asked here: one plan serves all, each its own with LEHR_CAMPAIGN=1.
	var once sync.Once
	var rep *verify.Report
	var err error
	var now, most atomic.Int32
	release := make(chan struct{})
	s.plan = func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		defer now.Add(-1)
		if n := now.Add(1); n > most.Load() {
			most.Store(n)
		}
		<-release
		if os.Getenv("LEHR_CAMPAIGN") == "1" {
			return plan.Plan(ctx, l, st, o)
		}
		once.Do(func() { rep, err = plan.Plan(ctx, l, st, o) })
		return rep, err
	}
	server := httptest.NewServer(s)
	defer server.Close()
	server.Client().Transport.(*http.Transport).MaxConnsPerHost = 0
	var wait sync.WaitGroup
	var answers roomtest.Answers
	for i := range 200 {
		wait.Go(func() {
			form := with("pieces", fmt.Sprintf("sphere %d mm", 10+i%40)).Encode()
			answers.Get(t, server.Client(), server.URL+"/sheet?"+form)
		})
	}
	// Nothing is planned until all who find no place have been refused.
	full := int32(200 - cap(s.queue))
	for deadline := time.Now().Add(20 * time.Second); answers.Refused.Load() < full && time.Now().Before(deadline); {
		time.Sleep(5 * time.Millisecond)
	}
	close(release)
	wait.Wait()
	if answers.Planned.Load() != int32(cap(s.queue)) || answers.Refused.Load() != full || answers.Other.Load() != 0 {
		t.Errorf("%d planned, %d refused, %d else; want %d planned", answers.Planned.Load(), answers.Refused.Load(), answers.Other.Load(), cap(s.queue))
	}
	if int(most.Load()) > cap(s.turns) || most.Load() == 0 {
		t.Errorf("%d planned at a time, at most %d", most.Load(), cap(s.turns))
	}
	if len(s.turns) != 0 || len(s.queue) != 0 {
		t.Error("a turn was not given back")
	}
}

// TestForm_limits: an empty field judges by size and use, and says so; what is
// typed is a limit of one's own, the numbers of the defaults among them.
func TestForm_limits(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		st := kiln.DefaultStudio().In(sys)
		empty := newForm(st, url.Values{})
		worst, _ := spread.Limits()[0].Ordinary.Worst.In(sys)
		for _, x := range []*field{empty.Tension, empty.Left} {
			if !strings.Contains(x.Place, "by size and use") || strings.Contains(x.Place, "3.5") {
				t.Errorf("%s shows %q", x.Name, x.Place)
			}
		}
		if !strings.Contains(empty.Tension.Place, term.Whole(worst)) {
			t.Errorf("shows %q, want the worst case %s", empty.Tension.Place, term.Whole(worst))
		}
		if l := empty.readStudio().Limits; l.TensionGiven || l.ResidualGiven {
			t.Errorf("nothing typed, but %+v", l)
		}
		typed := newForm(st, url.Values{"max-tension": {"3.5 MPa"}, "max-left": {"1 MPa"}})
		if l := typed.readStudio().Limits; !l.TensionGiven || !l.ResidualGiven || math.Abs(float64(l.Tension)-3.5e6) > 1 {
			t.Errorf("typed, but %+v", l)
		}
		st.Limits.Tension, st.Limits.TensionGiven = 2e6, true
		if own := newForm(st, url.Values{}); own.Tension.Place != unit.Stress(2e6).Text(sys) {
			t.Errorf("the studio's own limit shows as %q", own.Tension.Place)
		}
	}
}
