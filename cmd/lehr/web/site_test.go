package web

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"

	"lehr/glass/unit"
)

// goodForm is a load that plans.
func goodForm() url.Values {
	return url.Values{"glass": {"borosilicate-33"}, "pieces": {"6 x sphere 2.5in\r\n\r\n14 x sphere 1.25in\r\n"}, "into": {"hot kiln"}, "start": {"22:15"}, "units": {"c"}}
}

// with returns a form with one value changed.
func with(name, value string) url.Values {
	f := goodForm()
	f.Set(name, value)
	return f
}

func ask(t *testing.T, h http.Handler, method, target string, body io.Reader) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(method, target, body)
	if body != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// TestSite plans by GET and by POST, and gives the sheet of the command line.
func TestSite(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	form := ask(t, s, "GET", "/", nil)
	n := wantAccessible(t, form.Body.Bytes())
	if form.Code != 200 || len(n.all("textarea")) != 1 || len(n.all("form")) != 1 {
		t.Fatalf("form: status %d", form.Code)
	}
	get := ask(t, s, "GET", "/sheet?"+goodForm().Encode(), nil)
	post := ask(t, s, "POST", "/sheet", strings.NewReader(goodForm().Encode()))
	if get.Code != 200 || post.Code != 200 || !bytes.Equal(get.Body.Bytes(), post.Body.Bytes()) {
		t.Fatalf("GET %d and POST %d differ", get.Code, post.Code)
	}
	sheet := wantAccessible(t, get.Body.Bytes())
	verdict, _ := sheet.byID("verdict")
	end, _ := sheet.byID("end")
	want := sampleReport(t, unit.Metric)
	if word, _ := report.VerdictText(want); verdict.text() != word || end.text() != report.EndText(want) {
		t.Errorf("verdict %q, %q; the command line says %q, %q", verdict.text(), end.text(), word, report.EndText(want))
	}
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Cache-Control": "no-store", "Content-Type": "text/html; charset=utf-8", "Referrer-Policy": "no-referrer"} {
		if got := get.Header().Get(name); got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
	if csp := get.Header().Get("Content-Security-Policy"); !strings.HasPrefix(csp, "default-src 'none'; style-src 'unsafe-inline'") {
		t.Errorf("Content-Security-Policy: %q", csp)
	}
	// The way back leads to the form as it was filled in.
	back := sheet.all("a")[0].attr("href")
	again := parseHTML(t, ask(t, s, "GET", back, nil).Body.Bytes())
	if got := again.all("textarea")[0].text(); got != "6 x sphere 2.5in 14 x sphere 1.25in" {
		t.Errorf("back at the form, the pieces are %q", got)
	}
}

// TestSite_faults wants each fault beside its field, in the words of the command
// line, with the hint, and what was typed still there.
func TestSite_faults(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for _, c := range []struct{ field, value, fault, hint string }{
		{"pieces", "6 x sphre 2.5in", `no shape "sphre"`, "did you mean sphere?"},
		{"pieces", "sphere 2.5", "has no unit", `write "2.5 mm" or "2.5 in"`},
		{"pieces", "sphere 2in\nsphere", "has no size", `write "sphere 2.5in"`},
		{"pieces", " \n ", "the load has no pieces", `write "6 x sphere 2.5in"`},
		{"pieces", strings.Repeat("sphere 2in\n", mostKinds+1), "more than 24 kinds of piece", ""},
		{"pieces", strings.Repeat("9000 x sphere 2in\n", 2), "more than 10000 pieces", ""},
		{"start", "25:99", "25:99", "22:15"},
		{"glass", "", "no glass is named", ""},
		{"glass", "borosilicat-33", `no glass "borosilicat-33"`, "borosilicate-33"},
		{"into", "cool kiln", "cool kiln", "hot kiln"},
		{"units", "kelvin", "kelvin", ""},
		{"holding", "510", "510: has no unit", `write "510 °C" or "510 °F"`},
		{"holding", "5000 °C", "must be from 100 °C to 1300 °C", ""},
		{"heating", "-5 °C/h", "must be from 1 °C/h to 5000 °C/h", ""},
		{"fall", "1 s", "must be from 2 min to 10 d", ""},
		{"room", "90 °C", "must be from -20 °C to 45 °C", ""},
		{"slowest", "0 °C/h", "must be above 0", ""},
		{"segments", "2", "must be from 3 to 100", ""},
		{"segments", "x\"\\\n[kiln]", "must be a whole number", ""},
		{"max-tension", "0 MPa", "must be above 0", ""},
		{"max-left", "1", "has no unit", "MPa"},
	} {
		w := ask(t, s, "GET", "/sheet?"+with(c.field, c.value).Encode(), nil)
		if w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s=%q: status %d", c.field, c.value, w.Code)
			continue
		}
		n := wantAccessible(t, w.Body.Bytes())
		e, ok := n.byID(c.field + "-error")
		if !ok {
			t.Errorf("%s=%q: no error at the field: %s", c.field, c.value, n.all("main")[0].text()[:200])
			continue
		}
		if got := e.text(); !strings.Contains(got, c.fault) || !strings.Contains(got, c.hint) {
			t.Errorf("%s=%q: %q, want %q and %q", c.field, c.value, got, c.fault, c.hint)
		}
		input, _ := n.byID(c.field)
		if input.attr("aria-invalid") != "true" {
			t.Errorf("%s: not marked as invalid", c.field)
		}
		if input.Data == "input" && input.attr("value") != c.value {
			t.Errorf("%s: typed %q, shown %q", c.field, c.value, input.attr("value"))
		}
		if input.Data == "textarea" && input.text() != strings.Join(strings.Fields(c.value), " ") {
			t.Errorf("%s: typed %q, shown %q", c.field, c.value, input.text())
		}
	}
}

// TestSite_conflict says why pieces cannot go together.
func TestSite_conflict(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	s.plan = func(context.Context, *piece.Load, kiln.Studio, plan.Options) (*verify.Report, error) {
		return nil, &plan.ConflictError{Load: &piece.Load{}, Reasons: finding.List{finding.OfGlass(finding.SoakBandError, "").Apart(5), finding.Of(finding.NoneWithin)}}
	}
	w := ask(t, s, "GET", "/sheet?"+with("units", "f").Encode(), nil)
	wrong, _ := wantAccessible(t, w.Body.Bytes()).byID("wrong")
	if w.Code != 422 || !strings.Contains(wrong.text(), "cannot share one program") || !strings.Contains(wrong.text(), "may be off by") {
		t.Errorf("status %d: %s", w.Code, wrong.text())
	}
}

// TestSite_kiln wants what is filled in about the kiln to be what is planned
// with.
func TestSite_kiln(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	var got kiln.Studio
	s.plan = func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		got = st
		return plan.Plan(ctx, l, st, o)
	}
	f := goodForm()
	for name, value := range map[string]string{"holding": "1000 °F", "heating": "300 °C/h", "fall": "5 h", "room": "25 °C", "keys": "f", "rate": "minutes per ramp", "segments": "6", "max-tension": "2 MPa", "max-left": "0.5 MPa"} {
		f.Set(name, value)
	}
	w := ask(t, s, "POST", "/sheet", strings.NewReader(f.Encode()))
	if w.Code != 200 {
		t.Fatalf("status %d: %s", w.Code, parseHTML(t, w.Body.Bytes()).text())
	}
	c := got.Controller
	if got.Kiln.Holding.Text(unit.US) != "1000 °F" || got.Kiln.Fall.TimeConstant != 5*time.Hour || !got.Kiln.Measured || got.Kiln.Fall.Room.Text(unit.Metric) != "25 °C" ||
		got.Units != unit.Metric || c.Units != unit.US || !c.Minutes || c.Segments != 6 || got.Limits.Tension != 2*unit.Megapascal || got.Limits.Residual != 0.5*unit.Megapascal {
		t.Errorf("planned with %+v", got)
	}
	if program := parseHTML(t, w.Body.Bytes()).section("program").text(); !strings.Contains(program, "°F") || !strings.Contains(program, "min") {
		t.Errorf("program %s", program)
	}
}

// TestSite_malformed sends what no form sends.
func TestSite_malformed(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for _, c := range []struct {
		method, target, body string
		want                 int
	}{
		{"GET", "/nothing", "", 404},
		{"GET", "/../../etc/passwd", "", 404},
		{"GET", "/sheet/", "", 404},
		{"PUT", "/", "x", 405},
		{"DELETE", "/sheet", "", 405},
		{"GET", "/sheet", "", 422},
		{"GET", "/sheet?%zz", "", 400},
		{"GET", "/?a;b", "", 400},
		{"POST", "/sheet", "pieces=%", 400},
		{"POST", "/sheet", "pieces=" + strings.Repeat("a", mostBody+1), 413},
		{"POST", "/sheet", strings.Repeat("a=b&", 2000) + "glass=\xff\xfe", 422},
		{"POST", "/sheet", url.Values{"pieces": {"sphere \x00 2in"}, "glass": {"<script>"}, "holding": {"\u202e\x1b[31m"}}.Encode(), 422},
		{"HEAD", "/", "", 200},
	} {
		var body io.Reader
		if c.body != "" {
			body = strings.NewReader(c.body)
		}
		w := ask(t, s, c.method, c.target, body)
		if w.Code != c.want {
			t.Errorf("%s %.40s: status %d, want %d", c.method, c.target, w.Code, c.want)
		}
		if n := parseHTML(t, w.Body.Bytes()); len(n.all("script")) > 0 || len(n.all("h1")) != 1 {
			t.Errorf("%s %.40s: not a page of ours", c.method, c.target)
		}
		if c.want == 405 && w.Header().Get("Allow") != "GET, HEAD, POST" {
			t.Errorf("405 without Allow")
		}
	}
	if s.turns <- struct{}{}; len(s.turns) != 1 || len(s.queue) != 0 {
		t.Errorf("%d turns and %d waiting after all are answered", len(s.turns)-1, len(s.queue))
	}
}

// TestSite_crowd sends 200 requests at once: all are answered, with the sheet or
// with a plain refusal, and no more are planned at a time than there are turns.
func TestSite_crowd(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	s.wait = 30 * time.Second
	var now, most atomic.Int32
	release := make(chan struct{})
	s.plan = func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		defer now.Add(-1)
		if n := now.Add(1); n > most.Load() {
			most.Store(n)
		}
		<-release
		return plan.Plan(ctx, l, st, o)
	}
	server := httptest.NewServer(s)
	defer server.Close()
	server.Client().Transport.(*http.Transport).MaxConnsPerHost = 0
	var wait sync.WaitGroup
	var done, refused, other atomic.Int32
	for i := range 200 {
		wait.Go(func() {
			form := with("pieces", fmt.Sprintf("sphere %d mm", 10+i%40)).Encode()
			resp, err := server.Client().Get(server.URL + "/sheet?" + form)
			if err != nil {
				t.Error(err)
				return
			}
			defer resp.Body.Close()
			body, err := io.ReadAll(resp.Body)
			switch {
			case err != nil:
				t.Error(err)
			case resp.StatusCode == 200 && bytes.Contains(body, []byte(`id="verdict"`)):
				done.Add(1)
			case resp.StatusCode == 503 && resp.Header.Get("Retry-After") != "" && bytes.Contains(body, []byte("Too many loads")):
				refused.Add(1)
			default:
				other.Add(1)
			}
		})
	}
	// Nothing is planned until all who find no place have been refused.
	full := int32(200 - cap(s.queue))
	for deadline := time.Now().Add(20 * time.Second); refused.Load() < full && time.Now().Before(deadline); {
		time.Sleep(5 * time.Millisecond)
	}
	close(release)
	wait.Wait()
	if done.Load() != int32(cap(s.queue)) || refused.Load() != full || other.Load() != 0 {
		t.Errorf("%d planned, %d refused, %d else; want %d planned", done.Load(), refused.Load(), other.Load(), cap(s.queue))
	}
	if int(most.Load()) > cap(s.turns) || most.Load() == 0 {
		t.Errorf("%d planned at a time, at most %d", most.Load(), cap(s.turns))
	}
	if len(s.turns) != 0 || len(s.queue) != 0 {
		t.Error("a turn was not given back")
	}
}
