package web

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"

	"lehr/glass/unit"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
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
	if form.Code != 200 || len(n.all("textarea")) != 3 || len(n.all("form")) != 1 {
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
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Cache-Control": "private, no-cache", "Content-Type": "text/html; charset=utf-8", "Referrer-Policy": "no-referrer"} {
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

// TestSite_inside: what a line says lies in a piece is in the answer, and what is over
// a limit by it decides, with a bar past its mark.
func TestSite_inside(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	w := ask(t, s, "GET", "/sheet?"+with("pieces", "sphere 2.5in\nsphere 38mm; inside opal 20mm").Encode(), nil)
	n := wantAccessible(t, w.Body.Bytes())
	verdict, _ := n.byID("verdict")
	if text := n.all("main")[0].text(); w.Code != 200 || !strings.Contains(verdict.text(), "OVER") || !strings.Contains(text, "no annealing helps; take a smaller opal") {
		t.Errorf("status %d, verdict %q", w.Code, verdict.text())
	}
	decides, _ := n.byID("decides")
	box := node{decides.Parent}
	if !strings.HasPrefix(decides.text(), "Tension with what lies inside in sphere 38mm") || !strings.Contains(box.text(), "in average glass") || !strings.Contains(box.text(), "at worst") || !beyond(box) {
		t.Errorf("the box says %q", box.text())
	}
	for _, piece := range n.section("pieces").all("div") {
		if name := piece.all("h3"); len(name) == 1 && strings.HasPrefix(name[0].text(), "sphere 38mm") != beyond(piece) {
			t.Errorf("bars of %s", piece.text())
		}
	}
}

// beyond reports whether a bar is past its mark.
func beyond(n node) bool {
	for _, rect := range n.all("rect") {
		if rect.attr("class") == "beyond" {
			return true
		}
	}
	return false
}

// TestSite_faults wants each fault beside its field, in the words of the command
// line, with the hint, and what was typed still there.
func TestSite_faults(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for _, c := range []struct{ field, value, fault, hint string }{
		{"pieces", "6 x sphre 2.5in", `no shape "sphre"`, "did you mean sphere?"},
		{"pieces", "sphere 2.5", "has no unit", `write "2.5 mm" or "2.5 in"`},
		{"pieces", "sphere 2in\nsphere", "has no size", `write "sphere 2.5in"`},
		{"pieces", "sphere 2in; inside opsl 8mm", `no material "opsl"`, "did you mean opal?"},
		{"pieces", "sphere 2in; inside opal 8mm, 3mm deep", "reaches the surface", "must lie more than 4 mm deep"},
		{"pieces", "stone 8mm of opal", "is warmed only", `choose warm only under "Into"`},
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
		{"segments", "1", "must be from 2 to 100", ""},
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

// TestSite_conflict: two glasses that soak apart give the page of the split, a
// piece that needs more than it bears gives the form with the reason.
func TestSite_conflict(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	w := ask(t, s, "GET", "/sheet?"+with("pieces", "sphere 20mm; glass float\npendant 45mm x 12mm; glass soda-104\nsphere 2in").Encode(), nil)
	n := wantAccessible(t, w.Body.Bytes())
	if verdict, _ := n.byID("verdict"); w.Code != 200 || verdict.Node == nil || verdict.text() != "NO SHARED PROGRAM" || !strings.Contains(n.text(), "Firing 2 of 2") {
		t.Errorf("status %d: %.200s", w.Code, n.all("main")[0].text())
	}
	s.plan = func(context.Context, *piece.Load, kiln.Studio, plan.Options) (*verify.Report, error) {
		return nil, &plan.ConflictError{Alone: true, Load: &piece.Load{}, Reasons: finding.List{finding.OfGlass(finding.SoakBandError, "").Apart(5), finding.Of(finding.NoneWithin)}}
	}
	w = ask(t, s, "GET", "/sheet?"+with("units", "f").Encode(), nil)
	wrong, _ := wantAccessible(t, w.Body.Bytes()).byID("wrong")
	if w.Code != 422 || !strings.Contains(wrong.text(), "more than it bears") || !strings.Contains(wrong.text(), "may be off by") || strings.Contains(wrong.text(), "_") {
		t.Errorf("status %d: %s", w.Code, wrong.text())
	}
}

// TestSite_asks: shortest and ready-by ask for what the flags of those names ask for.
func TestSite_asks(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	searched := false
	s.shortest = func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		searched = true
		return plan.Plan(ctx, l, st, o)
	}
	f := with("ready-by", "8:00")
	f.Set("search", "shortest")
	f.Set("name", "winter \u202e market")
	w := ask(t, s, "GET", "/sheet?"+f.Encode(), nil)
	n := wantAccessible(t, w.Body.Bytes())
	ready, _ := n.byID("ready")
	if w.Code != 200 || !searched || ready.Node == nil || !strings.HasPrefix(ready.text(), "NOT READY by 08:00") || n.all("h1")[0].text() != "winter <U+202E> market" {
		t.Errorf("status %d, searched %v: %.300s", w.Code, searched, n.text())
	}
	// As a file it has no links to the server, and a name to be kept by.
	link := ""
	for _, a := range n.all("a") {
		if strings.HasSuffix(a.attr("href"), "&file=1") {
			link = a.attr("href")
		}
	}
	w = ask(t, s, "GET", link, nil)
	file := wantAccessible(t, w.Body.Bytes())
	if !strings.Contains(w.Header().Get("Content-Disposition"), "attachment") {
		t.Error("not to be kept as a file")
	}
	for _, a := range file.all("a") {
		if !strings.HasPrefix(a.attr("href"), "#") {
			t.Errorf("the file links to %s", a.attr("href"))
		}
	}
}

// TestSite_danger: what is reported wrong now takes the page over; the lists are
// whole.
func TestSite_danger(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for _, page := range []string{"/sheet?", "/safety?"} {
		n := wantAccessible(t, ask(t, s, "GET", page+with("now", "gas_smell").Encode(), nil).Body.Bytes())
		if n.all("h1")[0].text() != "DANGER" || len(n.all("input")) > 0 {
			t.Errorf("%s: %.200s", page, n.text())
		}
	}
	n := wantAccessible(t, ask(t, s, "GET", "/wrong", nil).Body.Bytes())
	for _, l := range emergency.All() {
		for i, then := range append(slices.Clone(l.Then), l.Do) {
			if is := strings.Contains(n.text(), then); is == (i+1 == l.GoesOn()) {
				t.Errorf("%q: %v", then, is)
			}
		}
	}
	if !strings.Contains(n.text(), "The form takes both readings, under Power failed, and says how to go on.") {
		t.Error("does not lead to the form after a power failure")
	}
	n = wantAccessible(t, ask(t, s, "GET", "/safety?"+with("facts", "oxygen = cylinder").Encode(), nil).Body.Bytes())
	facts, err := checklist.FactsFrom(map[string]any{"oxygen": "cylinder"}, checklist.FromLoad, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range facts.Pages() {
		if !strings.Contains(n.text(), p.Title) {
			t.Errorf("no page %s", p.Title)
		}
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
