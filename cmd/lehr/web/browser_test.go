package web

import (
	"context"
	"encoding/base64"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"

	"lehr/glass"
	"lehr/glass/unit"
)

// browser returns a headless Chromium. Without one, the test is skipped, or
// fails when one is asked for (LEHR_REQUIRE_BROWSER=1, CI=true).
func browser(t *testing.T) func(args ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("starts a browser")
	}
	path := ""
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		if os.Getenv("LEHR_REQUIRE_BROWSER") == "1" || os.Getenv("CI") == "true" {
			t.Fatal("no Chromium in the path (Debian: apt-get install chromium)")
		}
		t.Skip("no Chromium in the path (Debian: apt-get install chromium)")
	}
	return func(args ...string) string {
		t.Helper()
		return browse(t, path, args...)
	}
}

// browse runs a browser to its end.
func browse(t *testing.T, path string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	out, err := chromium(ctx, t, path, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return string(out)
}

// chromium is a command that begins without a past.
func chromium(ctx context.Context, t *testing.T, path string, args ...string) *exec.Cmd {
	all := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--hide-scrollbars", "--user-data-dir=" + profile(t)}, args...)
	c := exec.CommandContext(ctx, path, all...)
	c.WaitDelay = 5 * time.Second
	return c
}

// fallbacks are fonts that may stand in for the one the page asks for: one as
// wide, a wider one, and whatever the machine has.
var fallbacks = []string{`"Liberation Sans"`, `"DejaVu Sans"`, "serif"}

// inFont is a page as a machine shows it that has only one font.
func inFont(t *testing.T, page []byte, font string) string {
	t.Helper()
	const asked = `"Liberation Sans", Arial, Helvetica, sans-serif`
	if !strings.Contains(string(page), asked) {
		t.Fatalf("the page asks for another font than %s", asked)
	}
	return strings.ReplaceAll(string(page), asked, font)
}

// sixKinds is a load that fills a sheet of paper.
func sixKinds(t *testing.T) *verify.Report {
	t.Helper()
	load, err := piece.ReadLoad(strings.NewReader(`name = "six kinds for the winter market"
glass = "borosilicate-33"
start = "21:30"
piece = [ { what = "4 x sphere 2.5in", note = "encased stone" }, { what = "14 x sphere 1.25in" }, { what = "6 x rod 10mm x 200mm" },
  { what = "disc 75mm x 25mm raised" }, { what = "8 x pendant 45mm x 12mm" }, { what = "2 x tube 38mm wall 4mm" } ]
`), "six.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := plan.Plan(context.Background(), load, kiln.DefaultStudio(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// TestBrowser_onePage prints the sheet of the sample load and of six kinds on
// Letter and on A4 paper and counts the pages: one of the program, and what to do
// when something is wrong on its back.
func TestBrowser_onePage(t *testing.T) {
	needLong(t)
	h := newHand(t, "about:blank")
	loads := map[string]*verify.Report{"sample": sampleReport(t, unit.Metric), "six": sixKinds(t)}
	boxes := map[string]string{"letter": "0 0 612 792", "A4": "0 0 59[45][.0-9]* 84[12]"}
	sheets := [][3]string{{"six", "letter", fallbacks[1]}, {"sample", "A4", fallbacks[2]}, {"six", "letter", fallbacks[0]}, {"sample", "letter", fallbacks[1]}, {"six", "A4", fallbacks[0]}, {"six", "A4", fallbacks[1]}}
	for _, c := range sheets {
		page, err := Sheet(loads[c[0]], Paper{Planned: time.Now(), Version: "v0.0.0-20260101000000-abcdefabcdef"})
		if err != nil {
			t.Fatal(err)
		}
		paper, font := c[1], c[2]
		box, name := boxes[paper], filepath.Join(t.TempDir(), "sheet.html")
		sized := strings.Replace(inFont(t, page, font), "@page {", "@page { size: "+paper+";", 1)
		if err := os.WriteFile(name, []byte(sized), 0o600); err != nil {
			t.Fatal(err)
		}
		h.call("Page.navigate", map[string]any{"url": "file://" + name})
		h.wait(fmt.Sprintf("document.readyState === 'complete' && location.pathname === %q", name))
		pdf, _ := h.call("Page.printToPDF", map[string]any{"preferCSSPageSize": true})["data"].(string)
		data, err := base64.StdEncoding.DecodeString(pdf)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(data, -1)); n != 2 {
			t.Errorf("%s on %s in %s: %d pages", c[0], paper, font, n)
		}
		if !regexp.MustCompile(`/MediaBox\s*\[` + box).Match(data) {
			t.Errorf("%s: printed on %s", paper, regexp.MustCompile(`/MediaBox\s*\[[^]]*`).Find(data))
		}
	}
}

// TestPaper_letters wants no letter on paper below 8 points, in the drawing
// either: it is drawn in points and shown at least that large.
func TestPaper_letters(t *testing.T) {
	_, print, _ := strings.Cut(pageStyle, "@media print {")
	print, _, _ = strings.Cut(print, "\n}\n")
	sizes := regexp.MustCompile(`font-size: ([0-9.]+)pt`).FindAllStringSubmatch(print, -1)
	if len(sizes) < 10 || strings.Contains(print, "em;") && regexp.MustCompile(`font-size: [0-9.]+r?em`).MatchString(print) {
		t.Fatalf("%d sizes in points", len(sizes))
	}
	for _, m := range sizes {
		if pt, _ := strconv.ParseFloat(m[1], 64); pt < 8 {
			t.Errorf("%s on paper", m[0])
		}
	}
	column, _ := strconv.ParseFloat(regexp.MustCompile(`minmax\(0, 1fr\) ([0-9.]+)mm`).FindStringSubmatch(print)[1], 64)
	if pt := picture.Column.Letters * column / 25.4 * 72 / picture.Column.Width; pt < 8 {
		t.Errorf("the letters of the drawing are %.1f pt on paper", pt)
	}
}

// TestBrowser_noOverflow lays out sheet and form at the widths of phones and
// desktops and wants nothing to be wider than the screen.
func TestBrowser_noOverflow(t *testing.T) {
	needLong(t)
	run := browser(t)
	pages := map[string][]byte{}
	for name, sys := range map[string]unit.System{"metric": unit.Metric, "us": unit.US} {
		page, err := Sheet(sampleReport(t, sys), Paper{Back: "/?a=b", Download: "/sheet?a=b"})
		if err != nil {
			t.Fatal(err)
		}
		pages[name] = page
	}
	pages["doubled"] = []byte(strings.Replace(string(pages["us"]), "font-size: 106.25%", "font-size: 212.5%", 1)) // text at 200 %
	everything := accessPages(t)
	pages["all"], pages["all-faults"] = everything["sheet"], everything["faults"]
	pages["all-doubled"] = []byte(strings.Replace(string(everything["sheet"]), "font-size: 106.25%", "font-size: 212.5%", 1))
	s := newSite(kiln.DefaultStudio())
	pages["wrong"] = ask(t, s, "GET", "/wrong", nil).Body.Bytes()
	pages["danger"] = ask(t, s, "GET", "/sheet?now=gas_smell", nil).Body.Bytes()
	pages["split"] = ask(t, s, "GET", "/sheet?"+with("pieces", "sphere 2in; glass soda-104\nsphere 1.5in").Encode(), nil).Body.Bytes()
	pages["form"] = ask(t, s, "GET", "/", nil).Body.Bytes()
	pages["faults"] = ask(t, s, "GET", "/sheet?pieces=sphre+"+strings.Repeat("x", 180)+"&holding=5&segments=x", nil).Body.Bytes()
	var wrapper strings.Builder
	wrapper.WriteString("<!DOCTYPE html><body>")
	want := 0
	for name := range pages {
		for i, width := range []int{320, 320, 320, 390, 844, 1280} {
			fmt.Fprintf(&wrapper, `<iframe src="/%s/%d" style="border:0;width:%dpx;height:600px"></iframe>`, name, i%len(fallbacks), width)
			want++
		}
	}
	wrapper.WriteString(`<pre id="out"></pre><script>addEventListener("load", () => {
for (const f of document.querySelectorAll("iframe")) {
	const d = f.contentDocument.documentElement;
	document.getElementById("out").textContent += "MEASURED " + f.src.split("/").slice(-2).join("/") + " " + f.clientWidth + " " + d.scrollWidth + " " + f.contentDocument.querySelectorAll("h1").length + "\n";
}});</script>`)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		name, font, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		if page, ok := pages[name]; ok {
			n, _ := strconv.Atoi(font)
			w.Write([]byte(inFont(t, page, fallbacks[n])))
			return
		}
		w.Write([]byte(wrapper.String()))
	}))
	defer server.Close()
	out := run("--virtual-time-budget=10000", "--window-size=1400,900", "--dump-dom", server.URL+"/wrapper")
	found := regexp.MustCompile(`(?m)MEASURED (\S+) (\d+) (\d+) (\d+)$`).FindAllStringSubmatch(out, -1)
	if len(found) != want {
		t.Fatalf("%d of %d measured: %.300s", len(found), want, out)
	}
	for _, m := range found {
		if m[2] != m[3] || m[4] != "1" {
			t.Errorf("%s at %s px is %s px wide, %s headings", m[1], m[2], m[3], m[4])
		}
	}
}

// handed serves a site whose pages have a hand that fills them in: a script of
// the test, let in by a policy of its own.
func handed(t *testing.T, s http.Handler, hand func(path string) string) *httptest.Server {
	t.Helper()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		kept := httptest.NewRecorder()
		s.ServeHTTP(kept, r)
		page := strings.Replace(kept.Body.String(), "default-src &#39;none&#39;", "script-src &#39;unsafe-inline&#39;", 1)
		if script := hand(r.URL.Path); script != "" {
			page = strings.Replace(page, "</body>", "<script>"+script+"</script></body>", 1)
		}
		for _, name := range []string{"Content-Type", "Cache-Control"} {
			w.Header().Set(name, kept.Header().Get(name))
		}
		w.WriteHeader(kept.Code)
		w.Write([]byte(page))
	}))
	t.Cleanup(server.Close)
	return server
}

// TestBrowser_fillsTheForm types a load into the form, presses the button, reads
// the verdict, goes back, and wants everything to be there still; on the way it
// ticks a segment, keeps that, loads the sheet again and goes back to where it was
// not kept yet. All of that is planned once.
func TestBrowser_fillsTheForm(t *testing.T) {
	browser(t)
	site, planned := counted()
	said := make(chan string, 1)
	server := handed(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/said" {
			said <- r.FormValue("it")
			return
		}
		site.ServeHTTP(w, r)
	}), func(path string) string {
		if path == "/" {
			return `
const say = (name, text) => sessionStorage.setItem(name, text);
addEventListener("pageshow", () => setTimeout(() => {
	if (!sessionStorage.getItem("sent")) {
		document.getElementById("glass").value = "borosilicate-33";
		document.getElementById("pieces").value = "6 x sphere 2.5in\n14 x sphere 1.25in";
		document.getElementById("start").value = "22:15";
		document.getElementById("room").value = "20 °C";
		say("sent", "1");
		document.querySelector("button[type=submit]").click();
		return;
	}
	fetch("/said?it=" + encodeURIComponent("BACK " + JSON.stringify(["glass", "pieces", "start", "room"].map(id => document.getElementById(id).value))
		+ " SHEET " + sessionStorage.getItem("verdict") + " TICKED " + sessionStorage.getItem("ticked")));
}, 50));`
		}
		return `
addEventListener("pageshow", () => setTimeout(() => {
	if (!sessionStorage.getItem("verdict")) {
		sessionStorage.setItem("verdict", document.getElementById("verdict").textContent);
		document.getElementById("keyed2").click();
		document.querySelector("#ticks button").click();
		return;
	}
	if (!sessionStorage.getItem("again")) {
		sessionStorage.setItem("again", "1");
		location.reload();
		return;
	}
	const ticks = sessionStorage.getItem("ticked") || "";
	sessionStorage.setItem("ticked", ticks + " " + [1, 2, 3].map(i => document.getElementById("keyed" + i).checked).join());
	history.back();
}, 50));`
	})
	path, err := exec.LookPath("chromium")
	if err != nil {
		path = "chromium-browser"
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	c := chromium(ctx, t, path, server.URL+"/")
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	var got string
	select {
	case got = <-said:
	case <-ctx.Done():
	}
	cancel()
	c.Wait() // it was ended
	word, _ := report.VerdictText(sampleReport(t, unit.Metric))
	want := `BACK ["borosilicate-33","6 x sphere 2.5in\n14 x sphere 1.25in","22:15","20 °C"] SHEET ` + word + " TICKED  false,true,false false,true,false"
	if n := planned.Load(); n != 1 {
		t.Errorf("planned %d times", n)
	}
	if got != want {
		t.Errorf("the browser says %.300s\nwant %s", got, want)
	}
}

// TestBrowser_steps follows the links of one segment at a time and wants each to
// cover the page; then it looks for what leaves the first screen of a phone, and
// for letters that a finger or an eye cannot meet.
func TestBrowser_steps(t *testing.T) {
	needLong(t)
	run := browser(t)
	page, err := Sheet(sampleReport(t, unit.Metric), Paper{Planned: time.Now(), Version: "devel"})
	if err != nil {
		t.Fatal(err)
	}
	frame := `<!DOCTYPE html><body><iframe src="/sheet" style="border:0;width:390px;height:844px"></iframe><pre id="out"></pre><script>
const out = s => document.getElementById("out").textContent += s + "\n";
addEventListener("load", async () => {
	const w = document.querySelector("iframe").contentWindow, d = w.document;
	const last = [...d.querySelectorAll(".program li")].pop().getBoundingClientRect();
	out("PROGRAM ENDS " + Math.round(last.bottom));
	for (const e of d.querySelectorAll("label > input, .go a, .move a")) {
		const r = (e.closest("label") || e).getBoundingClientRect();
		if (r.height > 0 && (r.height < 44 || r.width < 44)) out("SMALL " + e.outerHTML.slice(0, 60) + " " + r.width + " x " + r.height);
	}
	let at = "#s1";
	for (let i = 0; i < 9 && at.startsWith("#s"); i++) {
		w.location.hash = at;
		await new Promise(r => setTimeout(r, 50));
		const e = d.elementFromPoint(195, 400), s = e && e.closest(".step");
		const on = d.querySelector(at + " .on[href]") || d.querySelector(at + " .move .on"), r = on.getBoundingClientRect();
		out("STEP " + at + " covers " + (s ? "#" + s.id : "nothing") + ", on at " + (r.bottom <= 844 && r.height >= 64 ? "hand" : Math.round(r.bottom) + " px"));
		at = on.getAttribute("href");
	}
	out("THEN " + at);
});</script>`
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		if r.URL.Path == "/sheet" {
			w.Write(page)
			return
		}
		w.Write([]byte(frame))
	}))
	defer server.Close()
	out, _ := parseHTML(t, []byte(run("--virtual-time-budget=10000", "--window-size=800,900", "--dump-dom", server.URL+"/"))).byID("out")
	text := out.text()
	m := regexp.MustCompile(`PROGRAM ENDS (\d+)`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("nothing measured: %s", text)
	}
	if end, _ := strconv.Atoi(m[1]); end > 844 {
		t.Errorf("the program ends at %d px of a phone's first screen of 844", end)
	}
	for _, want := range []string{"#s1", "#s2", "#s3", "#s4", "#s5"} {
		if !strings.Contains(text, "STEP "+want+" covers "+want+", on at hand") {
			t.Errorf("%s does not cover the page, or its way on is out of reach: %s", want, text)
		}
	}
	if !strings.HasSuffix(text, "THEN #page-leave") || strings.Contains(text, "SMALL") {
		t.Errorf("%s", text)
	}
}

// profile is a folder for a browser, which may still write into it when it has
// been told to end: what cannot be removed at once is left a moment.
func profile(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "lehr-browser-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		for range 20 {
			if os.RemoveAll(dir) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
		t.Logf("%s could not be removed", dir)
	})
	return dir
}
